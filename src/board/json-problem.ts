// board: what is wrong with a JSON value → problems as data, with the path of the bad value, worded in one place.
import type { ErrorCode } from "../core/errors.js";
import { type Note, type NoteCode, note } from "../core/notes.js";

/** What every problem says. */
interface ProblemWords {
  /** Path of the bad value, such as `regions[3].polygon[1]`; empty for the whole file. */
  readonly path: string;
  /** What is wrong, without a full stop. */
  readonly text: string;
  /** What to do, without a full stop. */
  readonly fix: string;
}

/** One thing that is wrong with a file: an error stops its use, a warning becomes a note. */
export type Problem = ProblemWords &
  (
    | { readonly severity: "error"; readonly code: ErrorCode }
    | { readonly severity: "warning"; readonly code: NoteCode }
  );

/** Make notes of the warnings among problems. */
export function problemNotes(problems: readonly Problem[], file: string): Note[] {
  return problems.flatMap((problem) => {
    if (problem.severity === "error") return [];
    const { code, path, text, fix } = problem;
    return note(code, `${file}, at ${path}: ${text}${text.endsWith("?") ? "" : "."} ${fix}.`);
  });
}

/** Write a path as it stands in the code of a map: `regions[3].polygon[1]`. */
export function pathText(path: readonly PropertyKey[]): string {
  let text = "";
  for (const step of path) {
    if (typeof step === "number") text += `[${step}]`;
    else if (/^[A-Za-z_$][\w$]*$/.test(String(step))) text += text === "" ? String(step) : `.${String(step)}`;
    else text += `[${JSON.stringify(String(step))}]`;
  }
  return text;
}

/** Say what a value is, in few words. */
export function foundText(value: unknown): string {
  if (value === undefined) return "nothing";
  if (value === null) return "null";
  if (typeof value === "string") return JSON.stringify(value.length > 40 ? `${value.slice(0, 39)}…` : value);
  if (typeof value === "number") {
    return Number.isFinite(value) ? String(value) : "a number that is too large or none at all";
  }
  if (Array.isArray(value)) return value.length === 0 ? "an empty list" : `a list of ${value.length}`;
  if (typeof value === "object") return "an object";
  return String(value);
}

/** Follow a path into a value.
 *  @returns undefined where the path ends early. */
export function valueAt(root: unknown, path: readonly PropertyKey[]): unknown {
  let value = root;
  for (const step of path) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}

/** Find the word of a list that was probably meant: the same but for case and signs, or one or two letters off.
 *  Distance: Levenshtein 1966, with exchanged neighbours as one step (Damerau 1964).
 *  @returns null if none is near. */
export function nearestWord(word: string, words: readonly string[]): string | null {
  const plain = (text: string) => text.toLowerCase().replace(/[^a-z0-9]/g, "");
  let best: string | null = null;
  // One slip in a short word, two in a long one.
  let least = plain(word).length <= 4 ? 2 : 3;
  for (const candidate of words) {
    // As many steps as the lengths differ are needed at least; a key may be a million letters long.
    if (Math.abs(plain(word).length - plain(candidate).length) >= least) continue;
    const steps = editSteps(plain(word), plain(candidate));
    if (steps < least) {
      least = steps;
      best = candidate;
    }
  }
  return best;
}

function editSteps(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let steps = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        steps = Math.min(steps, beforeLast[j - 2]! + 1);
      }
      row.push(steps);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}
