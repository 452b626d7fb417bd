// page: what is edited, step by step → undo and redo without end.

interface Step<T> {
  readonly state: T;
  /** What led here, in words: "Move U7". */
  readonly did: string;
  /** Steps of one key that follow each other are one. */
  readonly key: string | null;
  readonly before: Step<T> | null;
}

/** A state and all states before and after it. Since states share what they have in common, a step costs what it
 *  changes. */
export interface History<T> {
  readonly now: Step<T>;
  /** What was undone, the next to come back first. */
  readonly undone: Step<T> | null;
}

/** Begin with a state. */
export function beginHistory<T>(state: T): History<T> {
  return { now: { state, did: "", key: null, before: null }, undone: null };
}

/** Add a step; what was undone before is forgotten.
 *  @param did what was done, in words.
 *  @param key steps of the same key right after each other become one, as the letters typed into one field do. */
export function record<T>(history: History<T>, state: T, did: string, key: string | null = null): History<T> {
  const { now } = history;
  if (state === now.state) return history;
  const before = key !== null && key === now.key && history.undone === null ? now.before : now;
  return { now: { state, did, key, before }, undone: null };
}

/** Go one step back; the same history where there is none. */
export function undo<T>(history: History<T>): History<T> {
  const { now, undone } = history;
  if (now.before === null) return history;
  return { now: now.before, undone: { ...now, before: undone } };
}

/** Bring back what was undone last; the same history where there is nothing. */
export function redo<T>(history: History<T>): History<T> {
  const { now, undone } = history;
  if (undone === null) return history;
  return { now: { ...undone, before: now }, undone: undone.before };
}
