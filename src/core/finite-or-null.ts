// core: a number that may be infinite or missing → what JSON can hold.

/** Give a number as it is, and null for what is no finite one. */
export function finiteOrNull(value: number | undefined): number | null {
  return value !== undefined && Number.isFinite(value) ? value : null;
}
