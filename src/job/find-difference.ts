// job: two JSON values → the first place where they differ.
import { isObject } from "../core/is-object.js";
import { pathText } from "../core/json-problem.js";

/** A place where two values differ. */
export interface Difference {
  readonly path: string;
  readonly before: unknown;
  readonly after: unknown;
}

/** Find where two JSON values differ, in the order of the first one's keys.
 *  @param tolerance numbers that differ by less than this share of the larger one are alike; 0: none are.
 *  @returns null if they are alike.
 */
export function findDifference(before: unknown, after: unknown, tolerance: number): Difference | null {
  return walk(before, after, tolerance, []);
}

function walk(
  a: unknown,
  b: unknown,
  tolerance: number,
  path: readonly (string | number)[],
): Difference | null {
  if (Object.is(a, b)) return null;
  if (typeof a === "number" && typeof b === "number") {
    if (Math.abs(a - b) <= tolerance * Math.max(Math.abs(a), Math.abs(b))) return null;
  } else if (Array.isArray(a) && Array.isArray(b)) {
    if (a.length === b.length) {
      return first(a.map((item, i) => () => walk(item, b[i], tolerance, [...path, i])));
    }
  } else if (isObject(a) && isObject(b)) {
    const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])];
    return first(keys.map((key) => () => walk(a[key], b[key], tolerance, [...path, key])));
  }
  return { path: pathText(path), before: a, after: b };
}

function first(walks: readonly (() => Difference | null)[]): Difference | null {
  for (const one of walks) {
    const difference = one();
    if (difference !== null) return difference;
  }
  return null;
}
