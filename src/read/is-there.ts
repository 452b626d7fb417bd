// read: a path → whether anything is there.
import { stat } from "node:fs/promises";

/** True if there is a file or folder of that name that may be looked at. */
export function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}
