// rise: course of a spot and its noise → the same in units of its noise, ready to be compared with courses of growth.
import { type GrowthShape, growthAt } from "./growth-shapes.js";

/** A course, whitened: noise of one frame 1, baseline and drift taken out to the extent that they are unknown. */
export interface WhitenedCourse {
  readonly timesS: Float64Array;
  /** 1 ÷ noise of each frame. */
  readonly weights: Float64Array;
  /** The two disturbances ÷ noise, times their own size: a level and a slope. */
  readonly level: Float64Array;
  readonly slope: Float64Array;
  /** Inverse of 1 + BᵀB for B = (level, slope). */
  readonly inverse: readonly [number, number, number];
  /** C⁻¹y in the whitened frame, and yᵀC⁻¹y. */
  readonly target: Float64Array;
  readonly square: number;
}

/** A growth that reaches 1 in the last frame, compared with a course: the height that fits is gy ÷ gg, its variance 1 ÷
 *  gg, and χ² falls by gy² ÷ gg.
 */
export interface GrowthMatch {
  /** gᵀC⁻¹g. */
  gg: number;
  /** gᵀC⁻¹y. */
  gy: number;
}

/** Whiten a course whose heights share an unknown level and an unknown slope.
 *  With Gaussian priors these two only add to the covariance, C = S + BBᵀ (S diagonal, B the two columns times their
 *  sizes), and C⁻¹ follows from a 2×2 inverse (Woodbury 1950, from memory).
 *  @param levelSigmaK, slopeSigmaKPerS size of the two, K and K/s.
 */
export function whitenCourse(
  timesS: ArrayLike<number>,
  riseK: ArrayLike<number>,
  sigmaK: ArrayLike<number>,
  levelSigmaK: number,
  slopeSigmaKPerS: number,
): WhitenedCourse {
  const count = timesS.length;
  const weights = Float64Array.from({ length: count }, (_, k) => 1 / sigmaK[k]!);
  const level = weights.map((w) => w * levelSigmaK);
  const slope = weights.map((w, k) => w * slopeSigmaKPerS * (timesS[k]! - timesS[0]!));
  const aa = 1 + dot(level, level);
  const bb = 1 + dot(slope, slope);
  const ab = dot(level, slope);
  const determinant = aa * bb - ab * ab;
  const inverse = [bb / determinant, aa / determinant, -ab / determinant] as const;
  const y = weights.map((w, k) => w * riseK[k]!);
  const a = dot(level, y);
  const b = dot(slope, y);
  const u = inverse[0] * a + inverse[2] * b;
  const v = inverse[2] * a + inverse[1] * b;
  const target = y.map((value, k) => value - level[k]! * u - slope[k]! * v);
  return {
    timesS: Float64Array.from(timesS),
    weights,
    level,
    slope,
    inverse,
    target,
    square: dot(y, target),
  };
}

/** Compare a course with a growth.
 *  @param match where the result goes: this is called some thousand times for a course.
 */
export function matchGrowth(
  course: WhitenedCourse,
  shape: GrowthShape,
  onsetS: number,
  scaleS: number,
  match: GrowthMatch,
): void {
  const { timesS, weights, level, slope, inverse, target } = course;
  const count = timesS.length;
  const norm = 1 / growthAt(shape, timesS[count - 1]! - onsetS, scaleS);
  let gg = 0;
  let gy = 0;
  let a = 0;
  let b = 0;
  for (let k = 0; k < count; k++) {
    const elapsedS = timesS[k]! - onsetS;
    if (elapsedS <= 0) continue;
    const g = weights[k]! * norm * growthAt(shape, elapsedS, scaleS);
    gg += g * g;
    gy += g * target[k]!;
    a += g * level[k]!;
    b += g * slope[k]!;
  }
  match.gg = gg - (inverse[0] * a * a + 2 * inverse[2] * a * b + inverse[1] * b * b);
  match.gy = gy;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}
