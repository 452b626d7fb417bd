// align: shapes and a picture → how much of each shape is in the picture.
import { sharedKernels } from "../numeric/kernels.js";
import { solveSymmetric3 } from "../numeric/solve-symmetric-3.js";

/** Rounds of re-weighting from nothing; the amounts settle within them. */
const ROUNDS = 3;
/** Rounds from amounts that nearly fit: the first one, which only caps, is left out. */
const ROUNDS_ON = 2;
/** The baseline's own contrast stays, whatever warms: what power adds are the other shapes. That counts as much as this
 *  share of all that the pixels say, for they err together. */
const CONTRAST_STAYS = 0.25;

/** Fit up to three shapes to a picture by robust least squares. The first shape, the baseline itself, is expected in
 *  an amount of 1; of the others any amount will do.
 *  @param shapes K per unit, one size, NaN = left out; not modified.
 *  @param picture K, same size; not modified.
 *  @param scaleK half of the difference at which a pixel's weight falls to one half.
 *  @param from amounts that nearly fit already: fewer rounds from there are enough.
 *  @returns an amount per shape.
 */
export function fitAmounts(
  shapes: readonly Float32Array[],
  picture: Float32Array,
  scaleK: number,
  from?: readonly number[],
): number[] {
  const n = shapes.length;
  if (n === 1) return [1];
  const first = shapes[0]!;
  const second = shapes[1]!;
  // Two shapes are three of which the last is in no amount.
  const third = shapes[2] ?? new Float32Array(first.length);
  return settleAmounts(n, scaleK, from, (amounts, cap) =>
    sumsOf(first, second, third, picture, amounts, cap),
  );
}

/** The rounds of the fit.
 *  @param n shapes, two or three.
 *  @param sumsAt adds up the weighted pixels, given the amounts so far and the cap on the weights, 1/K².
 */
export function settleAmounts(
  n: number,
  scaleK: number,
  from: readonly number[] | undefined,
  sumsAt: (amounts: Amounts, cap: number) => FitSums,
): number[] {
  const scale2 = scaleK * scaleK;
  const gram = new Float64Array(9);
  const right = new Float64Array(3);
  let amounts: Amounts = [from?.[0] ?? 1, from?.[1] ?? 0, from?.[2] ?? 0];
  for (let round = from === undefined ? 0 : ROUNDS - ROUNDS_ON; round < ROUNDS; round++) {
    // The first round has no fit yet to tell outliers by: it only caps what a hot spot can do.
    const cap = 1 / (scale2 * (round === 0 ? 100 : 4));
    const [r0, r1, r2, g00, g10, g11, g20, g21, g22] = sumsAt(amounts, cap);
    const prior = CONTRAST_STAYS * g00;
    gram.set([g00 + prior, g10, g20, g10, g11, g21, g20, g21, g22]);
    right.set([r0 + prior, r1, r2]);
    // A shape that shows nowhere gets no amount, and the system stays definite.
    for (let k = 0; k < 3; k++) gram[k * 4]! += 1e-9;
    const solved = solveSymmetric3(gram, right);
    if (!Number.isFinite(solved[0])) break;
    amounts = solved;
  }
  return amounts.slice(0, n);
}

/** Amounts of three shapes. */
export type Amounts = readonly [number, number, number];

/** Right side and products of the weighted fit. */
export type FitSums = readonly [number, number, number, number, number, number, number, number, number];

function sumsOf(
  first: Float32Array,
  second: Float32Array,
  third: Float32Array,
  picture: Float32Array,
  [a, b, c]: Amounts,
  cap: number,
): FitSums {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [s0, s1, s2] = [kernels.put(first), kernels.put(second), kernels.put(third)];
    const out = kernels.take(8 * 9);
    kernels.run.fitSums(s0, s1, s2, kernels.put(picture), picture.length, a, b, c, cap, out);
    return [...kernels.doubles(out, 9)] as unknown as FitSums;
  }
  let [g00, g10, g11, g20, g21, g22] = [0, 0, 0, 0, 0, 0];
  let [r0, r1, r2] = [0, 0, 0];
  for (let i = 0; i < picture.length; i++) {
    const s0 = first[i]!;
    const s1 = second[i]!;
    const s2 = third[i]!;
    const p = picture[i]!;
    const r = p - a * s0 - b * s1 - c * s2;
    if (!(r * 0 === 0)) continue;
    const weight = 1 / (1 + r * r * cap);
    const w0 = weight * s0;
    const w1 = weight * s1;
    const w2 = weight * s2;
    r0 += w0 * p;
    r1 += w1 * p;
    r2 += w2 * p;
    g00 += w0 * s0;
    g10 += w1 * s0;
    g11 += w1 * s1;
    g20 += w2 * s0;
    g21 += w2 * s1;
    g22 += w2 * s2;
  }
  return [r0, r1, r2, g00, g10, g11, g20, g21, g22];
}
