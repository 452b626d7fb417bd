// core: a number that may be infinite or missing → one to show where nothing is as good as none.

/** Give a number as it is, and 0 for what is no finite one. */
export function finiteOrZero(value: number): number {
  return Number.isFinite(value) ? value : 0;
}
