// serve: a file that may be JSON among frames → which of the tool's own kinds it is.
import { readFile, stat } from "node:fs/promises";
import type { InboxFile } from "../api/inbox-schema.js";

const SORTS: Readonly<Record<string, InboxFile["sort"]>> = Object.freeze({
  "faultglow/scale": "scale",
  "faultglow/board": "board",
  "faultglow/view": "view",
});
/** Maps and views have a few MB; what is larger is not looked into. */
const MOST_BYTES = 32 * 1024 * 1024;

/** True for names of JSON files. */
export function isJsonName(name: string): boolean {
  return /\.json$/i.test(name);
}

/** Tell the kind of a JSON file. @param name as it was dropped. @returns null for everything else. */
export async function sortOfJson(path: string, name: string): Promise<InboxFile["sort"] | null> {
  if (!isJsonName(name) || (await stat(path)).size > MOST_BYTES) return null;
  try {
    const { kind } = JSON.parse(await readFile(path, "utf8")) as { kind?: unknown };
    return typeof kind === "string" && Object.hasOwn(SORTS, kind) ? SORTS[kind]! : null;
  } catch {
    return null;
  }
}
