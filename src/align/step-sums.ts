// align: edge samples of two pictures at one alignment → the sums of a step's normal equations.

/** One number per sample each. */
export interface StepLists {
  readonly x: Float32Array;
  readonly y: Float32Array;
  readonly gate: Float32Array;
  /** Seen less expected, K. */
  readonly residual: Float32Array;
  readonly expected: Float32Array;
  readonly slopeX: Float32Array;
  readonly slopeY: Float32Array;
  /** Slopes of what the map alone draws, of what is expected. */
  readonly drawnX: Float32Array;
  readonly drawnY: Float32Array;
  readonly seen: Float32Array;
  readonly otherX: Float32Array;
  readonly otherY: Float32Array;
  /** Level of unexplained difference around it, K; null: it does not count. */
  readonly around: Float32Array | null;
  /** Where the three scores of its block stand. */
  readonly blocks: Int32Array;
}

/** What all samples share. */
export interface StepNumbers {
  /** Squared noise of a pixel of the difference, K². */
  readonly noise2: number;
  /** Values count no further in the likeness than this, K. */
  readonly clipK: number;
  /** Squared misalignment still expected, px². */
  readonly misfit2: number;
  /** Squared distance by which what the map draws may lie off, place by place, px². */
  readonly drawnMisfit2: number;
  /** Middle of the frame, about which it turns, px. */
  readonly cx: number;
  readonly cy: number;
  /** What a turn is multiplied by to be of the shift's size, px. */
  readonly armPx: number;
  /** The movement assumed so far. */
  readonly dxPx: number;
  readonly dyPx: number;
  readonly angleRad: number;
  /** Size of the pattern's pull, K²/px², and twice its squared width, px². */
  readonly pull: number;
  readonly pullWidth: number;
  /** Squared slope along an axis that noise and pattern of one picture have by themselves, K²/px². */
  readonly noiseSlope2: number;
  /** Squared scale of Cauchy's weight, in units of the noise. */
  readonly cauchy2: number;
}

/** Hessian by rows of its upper triangle, then products of the two pictures. */
export interface StepSums {
  readonly hessian: readonly [number, number, number, number, number, number];
  readonly product: number;
  readonly square: number;
  readonly otherSquare: number;
  /** What noise and pattern add to the Hessian without telling anything of the movement; as the Hessian. */
  readonly excess: readonly [number, number, number, number, number, number];
  /** The scores of all blocks added up. */
  readonly score: readonly [number, number, number];
}

/** Add up the samples of one step.
 *  @param scores three per block, zeros; filled.
 */
export function stepSums(lists: StepLists, numbers: StepNumbers, scores: Float64Array): StepSums {
  const { x, y, gate, residual, expected, slopeX, slopeY, seen, otherX, otherY, around, blocks } = lists;
  const { drawnX, drawnY } = lists;
  const { noise2, clipK, misfit2, drawnMisfit2, cx, cy, armPx, dxPx, dyPx, angleRad } = numbers;
  const { pullWidth, noiseSlope2, cauchy2 } = numbers;
  let [product, square, otherSquare] = [0, 0, 0];
  let [h0, h1, h2, h4, h5, h8] = [0, 0, 0, 0, 0, 0];
  let [e0, e1, e2, e4, e5, e8] = [0, 0, 0, 0, 0, 0];
  for (let k = 0; k < x.length; k++) {
    const r = residual[k]!;
    // Slopes averaged over both pictures.
    const jx = 0.5 * (slopeX[k]! + otherX[k]!);
    const jy = 0.5 * (slopeY[k]! + otherY[k]!);
    if (!(r * 0 === 0) || !(jx * 0 === 0) || !(jy * 0 === 0)) continue;
    const level2 = around === null ? noise2 : Math.max(noise2, around[k]! * around[k]!);
    const wx = drawnX[k]!;
    const wy = drawnY[k]!;
    const s2 = level2 + misfit2 * (jx * jx + jy * jy) + drawnMisfit2 * (wx * wx + wy * wy);
    const weight = gate[k]! / (s2 + (r * r) / cauchy2);
    // Clipped, so that one bright spot does not make two pictures alike or unlike.
    const t = clip(expected[k]!, clipK);
    const m = clip(seen[k]!, clipK);
    product += gate[k]! * t * m;
    square += gate[k]! * t * t;
    otherSquare += gate[k]! * m * m;
    const fromX = x[k]! - cx;
    const fromY = y[k]! - cy;
    const ja = (jy * fromX - jx * fromY) / armPx;
    h0 += weight * jx * jx;
    h1 += weight * jx * jy;
    h2 += weight * jx * ja;
    h4 += weight * jy * jy;
    h5 += weight * jy * ja;
    h8 += weight * ja * ja;
    const u0 = dxPx - angleRad * fromY;
    const v0 = dyPx + angleRad * fromX;
    const pull = weight * numbers.pull * Math.exp(-(u0 * u0 + v0 * v0) / pullWidth);
    // Mean of both slopes: half of the variance each has by itself, and half of what they share at this movement.
    const own = 0.5 * weight * noiseSlope2 + 0.5 * pull;
    const e = pull / pullWidth;
    const xx = own - e * u0 * u0;
    const xy = -e * u0 * v0;
    const yy = own - e * v0 * v0;
    const ax = -fromY / armPx;
    const ay = fromX / armPx;
    e0 += xx;
    e1 += xy;
    e2 += xx * ax + xy * ay;
    e4 += yy;
    e5 += xy * ax + yy * ay;
    e8 += xx * ax * ax + 2 * xy * ax * ay + yy * ay * ay;
    const wr = weight * r;
    const b = blocks[k]!;
    scores[b]! += wr * jx - pull * u0;
    scores[b + 1]! += wr * jy - pull * v0;
    scores[b + 2]! += wr * ja - (pull * (v0 * fromX - u0 * fromY)) / armPx;
  }
  const score: [number, number, number] = [0, 0, 0];
  for (let b = 0; b < scores.length; b += 3) {
    for (let k = 0; k < 3; k++) score[k]! += scores[b + k]!;
  }
  return {
    hessian: [h0, h1, h2, h4, h5, h8],
    product,
    square,
    otherSquare,
    excess: [e0, e1, e2, e4, e5, e8],
    score,
  };
}

function clip(value: number, limit: number): number {
  return Math.min(limit, Math.max(-limit, value));
}
