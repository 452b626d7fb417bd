// Reads the answers that tests/reference/scripts/numeric_reference.py wrote.
import { readFileSync } from "node:fs";

/** The cases of one file; versions, command and seed stand in its head. */
export function referenceCases<Cases>(name: string): Cases {
  const text = readFileSync(new URL(`data/numeric-${name}.json`, import.meta.url), "utf8");
  return (JSON.parse(text) as { cases: Cases }).cases;
}

/** Numbers with null for "no reading" → numbers with NaN. */
export function withNaN(values: readonly (number | null)[]): Float64Array {
  return Float64Array.from(values, (value) => value ?? Number.NaN);
}

/** Largest distance between two lists; Infinity where one has a number and the other none, or the lengths differ. */
export function largestDistance(found: ArrayLike<number>, expected: ArrayLike<number>): number {
  if (found.length !== expected.length) return Number.POSITIVE_INFINITY;
  let largest = 0;
  for (let i = 0; i < found.length; i++) {
    const a = found[i]!;
    const b = expected[i]!;
    if (Number.isNaN(a) && Number.isNaN(b)) continue;
    const distance = Math.abs(a - b);
    if (Number.isNaN(distance)) return Number.POSITIVE_INFINITY;
    if (distance > largest) largest = distance;
  }
  return largest;
}

/** Largest |found/expected − 1|. */
export function largestRelativeError(found: ArrayLike<number>, expected: ArrayLike<number>): number {
  let largest = 0;
  for (let i = 0; i < expected.length; i++) {
    const error = expected[i] === 0 ? Math.abs(found[i]!) : Math.abs(found[i]! / expected[i]! - 1);
    if (!(error <= largest)) largest = Number.isNaN(error) ? Number.POSITIVE_INFINITY : error;
  }
  return largest;
}
