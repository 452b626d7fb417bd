// build: the library as tsc made it → the modules that its entry leads to, and the types that those of the entry lead
// to. What only the command or the page uses is in their own files already: nothing would run it here, or read its
// types.
import { readdirSync, readFileSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";

const ENTRIES = ["index.js", "index.d.ts"];
/** A module beside this one. */
const BESIDE = /["'`](\.{1,2}\/[^"'`]+)\.js["'`]/g;

/** @param folder of the library; those of the command and the page are not there yet. */
export function pruneLibrary(folder) {
  const kept = new Set(ENTRIES.map((entry) => join(folder, entry)));
  // What is added while it is gone through comes last.
  for (const file of kept) {
    const ending = file.endsWith(".d.ts") ? ".d.ts" : ".js";
    for (const [, name] of readFileSync(file, "utf8").matchAll(BESIDE))
      kept.add(join(dirname(file), name + ending));
  }
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const file = join(entry.parentPath ?? entry.path, entry.name);
    if (entry.isFile() && !kept.has(file)) rmSync(file);
  }
}
