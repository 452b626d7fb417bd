// core: what is wrong with a JSON value → problems as data, with the path of the bad value, worded in one place.
import type { ErrorCode } from "./errors.js";
import { type Note, type NoteCode, note } from "./notes.js";

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
