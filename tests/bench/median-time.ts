// bench: times → the middle one.

/** The middle one of an odd number of them, the upper of the two in the middle of an even number. */
export function medianTime(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1]!;
}
