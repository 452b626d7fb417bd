// tests: the folder of test material that is never part of the project → its place, or a word that it is missing.
import { existsSync } from "node:fs";

/** The folder beside the project, or where FAULTGLOW_SHARED says. */
const SHARED = process.env["FAULTGLOW_SHARED"] ?? "../shared";

/** A folder of shared test material. `title` says why the tests are skipped where it is missing. */
export function sharedFolder(name: string): { path: string; missing: boolean; title: string } {
  const path = `${SHARED}/${name}`;
  const missing = !existsSync(path);
  return { path, missing, title: missing ? ` (skipped: ${path} is missing)` : "" };
}
