// import: the transforms and viewports of a drawing → one affine map from its units to millimetres.
import type { Point } from "../board/polygon.js";

/** [a b c d e f] of SVG: x′ = a·x + c·y + e, y′ = b·x + d·y + f. */
export type Affine = readonly [number, number, number, number, number, number];

/** The map that changes nothing. */
export const IDENTITY: Affine = Object.freeze([1, 0, 0, 1, 0, 0] as const);

/** Compose two maps: the inner one is applied first. */
export function composeAffine(outer: Affine, inner: Affine): Affine {
  const [a, b, c, d, e, f] = outer;
  const [p, q, r, s, t, u] = inner;
  return [a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f];
}

/** Send a point through a map. */
export function applyAffine([a, b, c, d, e, f]: Affine, [x, y]: Point): Point {
  return [a * x + c * y + e, b * x + d * y + f];
}

/** The largest factor by which a map can stretch a length, or a little more (Frobenius norm). */
export function stretchOf([a, b, c, d]: Affine): number {
  return Math.hypot(a, b, c, d);
}

const CALL = /^\s*,?\s*([a-zA-Z]+)\s*\(([^()]*)\)\s*/;

/** Read a `transform` attribute (SVG 2, section 8.5): matrix, translate, scale, rotate, skewX, skewY in any number.
 *  @returns null if it can't be read. */
export function parseTransform(text: string): Affine | null {
  let map: Affine = IDENTITY;
  let rest = text.trim();
  if (rest === "none") return IDENTITY;
  while (rest !== "") {
    const match = CALL.exec(rest);
    if (match === null) return null;
    const numbers = numbersOf(match[2]!);
    const next = numbers === null ? null : callOf(match[1]!, numbers);
    if (next === null) return null;
    map = composeAffine(map, next);
    rest = rest.slice(match[0].length);
  }
  return map;
}

function callOf(name: string, n: readonly number[]): Affine | null {
  const [a = 0, b = 0, c = 0] = n;
  const rad = (deg: number): number => (deg * Math.PI) / 180;
  switch (name) {
    case "matrix":
      return n.length === 6 ? [n[0]!, n[1]!, n[2]!, n[3]!, n[4]!, n[5]!] : null;
    case "translate":
      return n.length === 1 || n.length === 2 ? [1, 0, 0, 1, a, b] : null;
    case "scale":
      return n.length === 1 || n.length === 2 ? [a, 0, 0, n.length === 1 ? a : b, 0, 0] : null;
    case "rotate": {
      if (n.length !== 1 && n.length !== 3) return null;
      const [cos, sin] = [Math.cos(rad(a)), Math.sin(rad(a))];
      return composeAffine(
        [1, 0, 0, 1, b, c],
        composeAffine([cos, sin, -sin, cos, 0, 0], [1, 0, 0, 1, -b, -c]),
      );
    }
    case "skewX":
      return n.length === 1 ? [1, 0, Math.tan(rad(a)), 1, 0, 0] : null;
    case "skewY":
      return n.length === 1 ? [1, Math.tan(rad(a)), 0, 1, 0, 0] : null;
    default:
      return null;
  }
}

const NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const GAP = /\s*,?\s*/y;

/** Read numbers that blanks, commas or signs part, as SVG writes them in lists.
 *  @returns null if anything else stands between them. */
export function numbersOf(text: string): number[] | null {
  const numbers: number[] = [];
  let at = text.length - text.trimStart().length;
  while (at < text.length) {
    NUMBER.lastIndex = at;
    const match = NUMBER.exec(text);
    const value = match === null ? Number.NaN : Number(match[0]);
    if (!Number.isFinite(value)) return null;
    numbers.push(value);
    GAP.lastIndex = NUMBER.lastIndex;
    GAP.test(text);
    at = GAP.lastIndex;
  }
  return numbers;
}
