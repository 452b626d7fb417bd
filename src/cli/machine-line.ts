// cli: what one look at the machine came to.

/** `look`: the work can be done, but not all of it, or not for long. */
type MachineState = "ok" | "look" | "not ok";

/** One line of `doctor`. */
export interface MachineLine {
  /** What was looked at, in a word or two. */
  readonly what: string;
  readonly state: MachineState;
  /** What was found, without a full stop. */
  readonly found: string;
  /** What to do; null where all is well. */
  readonly fix: string | null;
}

/** A line without anything to do. */
export function fine(what: string, found: string): MachineLine {
  return { what, state: "ok", found, fix: null };
}
