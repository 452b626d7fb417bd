// read: a pattern with `*`, `?`, `[…]` and `**` → the files it matches.
import { readdir } from "node:fs/promises";

/** True if a name holds a wildcard. A bracket that never closes is none. */
export function hasWildcard(pattern: string): boolean {
  return /[*?]|\[[^/]+\]/.test(pattern);
}

/** Find the files that a pattern matches: `*` and `?` stand for characters of one name, `[…]` for one of those in it
 *  (`a-z` a range, `!` or `^` at its start: none of them), `**` for folders of any depth. Names that begin with a dot
 *  are matched only by a pattern that says the dot. Folders behind links are not entered by `**`, so that a link back
 *  can't trap it; folders that can't be read match nothing.
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
    // A folder may be called by a pattern's very letters, as a second copy [1] is.
    if (!matches(entry.name) && entry.name !== part) continue;
    const path = join(folder, entry.name);
    if (rest.length > 0) {
      if (entry.isDirectory() || entry.isSymbolicLink()) await walk(path, rest, found);
    } else if (entry.isFile() || entry.isSymbolicLink()) found.add(path);
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
export function nameMatcher(text: string): (name: string) => boolean {
  const pattern = splitPattern(text);
  return (name) => {
    if (name.startsWith(".") && !text.startsWith(".")) return false;
    let p = 0;
    let n = 0;
    let star = -1;
    let resume = 0;
    while (n < name.length) {
      if (p < pattern.length && pattern[p] === "*") {
        star = p++;
        resume = n;
      } else if (p < pattern.length && fits(pattern[p]!, name[n]!)) {
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

/** One step of a pattern: a character, `?`, `*`, or a set of characters. */
type Step = string | { readonly not: boolean; readonly ranges: readonly (readonly [string, string])[] };

function fits(step: Step, letter: string): boolean {
  if (typeof step === "string") return step === "?" || step === letter;
  return step.ranges.some(([low, high]) => low <= letter && letter <= high) !== step.not;
}

/** Method: POSIX.1-2017, Shell & Utilities 2.13.1; `]` right at the start of a set stands for itself. */
function splitPattern(pattern: string): Step[] {
  const steps: Step[] = [];
  for (let at = 0; at < pattern.length; at++) {
    const set = pattern[at] === "[" ? /^\[([!^]?)(\]?[^\]]*)\]/.exec(pattern.slice(at)) : null;
    if (set === null || set[2] === "") {
      steps.push(pattern[at]!);
      continue;
    }
    const ranges = [...set[2]!.matchAll(/(.)-(.)|(.)/gsu)].map(
      ([, low, high, one]) => [low ?? one!, high ?? one!] as const,
    );
    steps.push({ not: set[1] !== "", ranges });
    at += set[0].length - 1;
  }
  return steps;
}
