// fuzz: what a reader is given, and what must come of it.
import { ToolError } from "../../src/core/errors.js";
import type { Random } from "../simulate/random.js";

/** What a reader has to do with an input, whatever else is in it. `value` is compared as JSON with NaN as text. */
export type Expected =
  /** Anything that is true: an answer, or an error with a code. */
  | { readonly sort: "any" }
  /** The file says the same as before the change: the same values come out. */
  | { readonly sort: "equal"; readonly value: unknown }
  /** The file is damaged in a way that can be seen: it is refused. */
  | { readonly sort: "refused" }
  /** What is read is right, or it is refused. */
  | { readonly sort: "equal or refused"; readonly value: unknown };

/** One input. */
export interface FuzzInput {
  /** How it was made, for the report of a failure. */
  readonly what: string;
  readonly bytes: Uint8Array;
  readonly expected: Expected;
}

/** A reader and a maker of what it may be given. */
export interface FuzzTarget {
  readonly name: string;
  /** Make an input; the same random stream makes the same one. */
  readonly make: (random: Random) => FuzzInput;
  /** Read it. @returns what was read, as data. @throws ToolError if it is refused; anything else is a fault. */
  readonly read: (bytes: Uint8Array) => unknown;
}

/** A target that must be prepared, such as by making the job that is then packed. */
export interface PreparedTarget {
  readonly target: FuzzTarget;
  readonly remove: () => Promise<void>;
}

/** What is known of every target before it is prepared. */
export interface TargetEntry {
  readonly name: string;
  readonly prepare: () => Promise<PreparedTarget>;
}

/** Make an entry of a target that needs no preparing. */
export function plain(target: FuzzTarget): TargetEntry {
  return { name: target.name, prepare: async () => ({ target, remove: async () => {} }) };
}

/** What a target throws for a file that has become one of another sort: the reader of that has a target of its own. */
export function otherReader(type: string, file: string): ToolError {
  return new ToolError("E_FRAME_TYPE", {
    problem: `it is ${type} now`,
    fix: "Try that reader",
    place: { file },
  });
}
