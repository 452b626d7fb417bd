// read: a pattern with `*`, `?` and `**` → the files it matches.
import { readdir } from "node:fs/promises";

/** True if a name holds a wildcard. */
export function hasWildcard(pattern: string): boolean {
  return /[*?]/.test(pattern);
}

/** Find the files that a pattern matches: `*` and `?` stand for characters of one name, `**` for folders of any
 *  depth. Names that begin with a dot are matched only by a pattern that says the dot. Folders behind links are not
 *  entered by `**`, so that a link back can't trap it; folders that can't be read match nothing.
 *  @param pattern with `/` between names.
 *  @returns files and links to them, with `/` between names, in no order.
 */
export async function matchGlob(pattern: string): Promise<string[]> {
  const parts = pattern.split("/").filter((part, i) => part !== "" || i === 0);
  const found = new Set<string>();
  const [root, rest] = parts[0] === "" ? ["/", parts.slice(1)] : ["", parts];
  await walk(root, rest, found);
  return [...found];
}

async function walk(folder: string, parts: readonly string[], found: Set<string>): Promise<void> {
  const [part, ...rest] = parts;
  if (part === undefined) return;
  if (!hasWildcard(part) && rest.length > 0) return walk(join(folder, part), rest, found);
  const entries = await list(folder);
  if (part === "**") {
    await walk(folder, rest.length > 0 ? rest : ["*"], found);
    for (const entry of entries) {
      if (entry.isDirectory() && !entry.name.startsWith("."))
        await walk(join(folder, entry.name), parts, found);
    }
    return;
  }
  const matches = nameMatcher(part);
  for (const entry of entries) {
    if (!matches(entry.name)) continue;
    const path = join(folder, entry.name);
    if (rest.length > 0) {
      if (entry.isDirectory() || entry.isSymbolicLink()) await walk(path, rest, found);
    } else if (!entry.isDirectory()) found.add(path);
  }
}

async function list(folder: string) {
  try {
    return await readdir(folder === "" ? "." : folder, { withFileTypes: true });
  } catch {
    return [];
  }
}

function join(folder: string, name: string): string {
  return folder === "" || folder.endsWith("/") ? folder + name : `${folder}/${name}`;
}

/** Match one name. Steps back to the last `*` only, so that no pattern can take exponential time. */
export function nameMatcher(pattern: string): (name: string) => boolean {
  return (name) => {
    if (name.startsWith(".") && !pattern.startsWith(".")) return false;
    let p = 0;
    let n = 0;
    let star = -1;
    let resume = 0;
    while (n < name.length) {
      if (p < pattern.length && pattern[p] === "*") {
        star = p++;
        resume = n;
      } else if (p < pattern.length && (pattern[p] === "?" || pattern[p] === name[n])) {
        p++;
        n++;
      } else if (star >= 0) {
        p = star + 1;
        n = ++resume;
      } else return false;
    }
    while (pattern[p] === "*") p++;
    return p === pattern.length;
  };
}
