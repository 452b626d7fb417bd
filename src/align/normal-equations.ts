// align: two pictures at one alignment → the normal equations of the next step, and what they tell of the fit.
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";
import type { RigidTransform } from "./rigid-transform.js";
import { solveSymmetric3 } from "./solve-symmetric-3.js";

/** Options of `refineAlignment`. */
export interface RefineOptions {
  /** Noise of one band-passed pixel of the difference, K. */
  readonly noiseK: number;
  /** Variance of what both pictures share at the same pixel of the sensor, K²: the rest of its pattern. It draws the
   *  answer to zero by a known amount, which is taken off. */
  readonly patternK2: number;
  /** Gaussian width to which both pictures were smoothed, px. */
  readonly fineSigmaPx: number;
  /** Misalignment still expected, iteration by iteration, px: edges are trusted no better than this allows. The last
   *  one holds until the steps have died out. */
  readonly misfitPx: readonly number[];
  /** True to lower the weight of pixels in whose surroundings much is unexplained: for the last refinement. */
  readonly distrustSurroundings: boolean;
  readonly maxIterations: number;
  /** Standard deviation of the shift and of the turn before anything is seen: px, rad. */
  readonly priorShiftPx: number;
  readonly priorAngleRad: number;
}

/** Reach over which unexplained difference raises its neighbours' scale, px: about the size of a part. */
const NEIGHBOURHOOD_PX = 4;
/** Side of the square blocks over which the score's scatter is taken, px: wider than the band-pass correlates. */
const BLOCK_PX = 8;
/** Squared slope at which a pixel counts half, × the frame's median squared slope. */
const GATE_FACTOR = 6;
/** Scale of Cauchy's weight at which Gaussian noise keeps 95 % efficiency, squared (2.385², common practice, no
 *  source). */
const CAUCHY2 = 5.688;

/** Differences beyond this many times the noise count no further in the likeness. */
const LIKENESS_CLIP = 10;
/** True scatter ÷ the block sandwich's: noise in the gradients, contrast that changes and pattern are not in it
 *  (measured on rendered boards: 1.6–2.1; on simulated scenes 1.3–1.7). */
const UNDERSTATED = 1.6;
/** Normal equations of the fit in (dx, dy, angle·arm); the arm makes the three parameters alike in size. */
export class NormalEquations {
  readonly hessian = new Float64Array(9);
  readonly score = new Float64Array(3);
  private readonly prior = new Float64Array(3);
  readonly armPx: number;
  cost = 1;
  likeness = 0;
  private readonly residual: Float32Array;
  private readonly blockScores: Float64Array;
  private readonly blocksAcross: number;

  constructor(
    private readonly width: number,
    private readonly height: number,
    private readonly gate: Float32Array,
  ) {
    this.residual = new Float32Array(width * height);
    this.armPx = Math.hypot(width, height) / Math.sqrt(12);
    this.blocksAcross = Math.ceil(width / BLOCK_PX);
    this.blockScores = new Float64Array(this.blocksAcross * Math.ceil(height / BLOCK_PX) * 3);
  }

  build(
    template: Float32Array,
    warped: Float32Array,
    misfitPx: number,
    options: RefineOptions,
    at: RigidTransform,
  ): void {
    const { width, height, hessian, score, blockScores, armPx, residual, gate } = this;
    hessian.fill(0);
    score.fill(0);
    blockScores.fill(0);
    for (let i = 0; i < residual.length; i++) residual[i] = warped[i]! - template[i]!;
    this.levelColumns(options.noiseK);
    const around = options.distrustSurroundings ? this.surroundings() : null;
    const noise2 = options.noiseK ** 2;
    const clipK = LIKENESS_CLIP * options.noiseK;
    const misfit2 = misfitPx * misfitPx;
    const cx = (width - 1) / 2;
    const cy = (height - 1) / 2;
    // Pattern F at p and p + d: E[½(F′(p) + F′(p+d))·(F(p+d) − F(p))] = −C′(d), C the autocovariance once smoothed.
    const width2 = 2 * options.fineSigmaPx ** 2;
    const pull0 = options.patternK2 / (2 * Math.PI * width2 * width2);
    let costSum = 0;
    let product = 0;
    let square = 0;
    let otherSquare = 0;
    let count = 0;
    for (let y = 1; y < height - 1; y++) {
      for (let x = 1; x < width - 1; x++) {
        const i = y * width + x;
        const r = residual[i]!;
        // Central differences, averaged over both pictures.
        const jx = 0.25 * (template[i + 1]! - template[i - 1]! + warped[i + 1]! - warped[i - 1]!);
        const jy =
          0.25 * (template[i + width]! - template[i - width]! + warped[i + width]! - warped[i - width]!);
        if (!(r * 0 === 0) || !(jx * 0 === 0) || !(jy * 0 === 0)) continue;
        const level2 = around === null ? noise2 : Math.max(noise2, around[i]! * around[i]!);
        const s2 = level2 + misfit2 * (jx * jx + jy * jy);
        const u = (r * r) / s2;
        const weight = gate[i]! / (s2 * (1 + u / CAUCHY2));
        const r2 = (r * r) / noise2;
        // Clipped, so that one bright spot does not make two pictures alike or unlike.
        const t = clip(template[i]!, clipK);
        const m = clip(warped[i]!, clipK);
        product += gate[i]! * t * m;
        square += gate[i]! * t * t;
        otherSquare += gate[i]! * m * m;
        costSum += r2 / (r2 + CAUCHY2);
        count++;
        const ja = (jy * (x - cx) - jx * (y - cy)) / armPx;
        hessian[0]! += weight * jx * jx;
        hessian[1]! += weight * jx * jy;
        hessian[2]! += weight * jx * ja;
        hessian[4]! += weight * jy * jy;
        hessian[5]! += weight * jy * ja;
        hessian[8]! += weight * ja * ja;
        const b = (Math.floor(y / BLOCK_PX) * this.blocksAcross + Math.floor(x / BLOCK_PX)) * 3;
        const u0 = at.dxPx - at.angleRad * (y - cy);
        const v0 = at.dyPx + at.angleRad * (x - cx);
        const pull = weight * pull0 * Math.exp(-(u0 * u0 + v0 * v0) / (2 * width2));
        const wr = weight * r;
        blockScores[b]! += wr * jx - pull * u0;
        blockScores[b + 1]! += wr * jy - pull * v0;
        blockScores[b + 2]! += wr * ja - (pull * (v0 * (x - cx) - u0 * (y - cy))) / armPx;
      }
    }
    hessian[3] = hessian[1]!;
    hessian[6] = hessian[2]!;
    hessian[7] = hessian[5]!;
    for (let b = 0; b < blockScores.length; b += 3) {
      for (let k = 0; k < 3; k++) score[k]! += blockScores[b + k]!;
    }
    const priorShift = 1 / options.priorShiftPx ** 2;
    const priorAngle = 1 / (options.priorAngleRad * armPx) ** 2;
    this.prior.set([priorShift, priorShift, priorAngle]);
    hessian[0]! += priorShift;
    hessian[4]! += priorShift;
    hessian[8]! += priorAngle;
    score[0]! += priorShift * at.dxPx;
    score[1]! += priorShift * at.dyPx;
    score[2]! += priorAngle * at.angleRad * armPx;
    this.likeness = square > 0 && otherSquare > 0 ? product / Math.sqrt(square * otherSquare) : 0;
    this.cost = count === 0 ? 1 : costSum / count;
  }

  /** Take each column's level off the residual. Sensors have offsets by column; after a move they no longer cancel,
   *  and, unlike the scene, they go on from the top of the picture to its foot.
   */
  private levelColumns(noiseK: number): void {
    const { residual, gate, width, height } = this;
    const limit = 9 * noiseK * noiseK;
    for (let x = 0; x < width; x++) {
      let sum = 0;
      let weights = 0;
      for (let i = x; i < residual.length; i += width) {
        const r = residual[i]!;
        if (!(r * 0 === 0)) continue;
        const weight = (1 - gate[i]!) / (1 + (r * r) / limit);
        sum += weight * r;
        weights += weight;
      }
      if (weights < height / 8) continue;
      for (let i = x; i < residual.length; i += width) residual[i]! -= sum / weights;
    }
  }

  /** Level of unexplained difference around each pixel, K. */
  private surroundings(): Float32Array {
    return gaussianFilter(this.residual.map(Math.abs), this.width, this.height, NEIGHBOURHOOD_PX);
  }

  /** A⁻¹ (Σ block scores² + prior) A⁻¹ in px, px, rad, widened by what it is known to understate. */
  covariance(): Float64Array {
    const { hessian, blockScores, armPx } = this;
    const spread = new Float64Array(9);
    for (let k = 0; k < 3; k++) spread[k * 4] = this.prior[k]!;
    for (let b = 0; b < blockScores.length; b += 3) {
      for (let r = 0; r < 3; r++) {
        for (let c = 0; c < 3; c++) spread[r * 3 + c]! += blockScores[b + r]! * blockScores[b + c]!;
      }
    }
    const inverse = [0, 1, 2].map((k) => {
      const unit = new Float64Array(3);
      unit[k] = 1;
      return solveSymmetric3(hessian, unit);
    });
    const toUnit = [1, 1, 1 / armPx];
    const out = new Float64Array(9);
    for (let r = 0; r < 3; r++) {
      for (let c = 0; c < 3; c++) {
        let sum = 0;
        for (let i = 0; i < 3; i++) {
          for (let j = 0; j < 3; j++) sum += inverse[r]![i]! * spread[i * 3 + j]! * inverse[c]![j]!;
        }
        out[r * 3 + c] = UNDERSTATED ** 2 * sum * toUnit[r]! * toUnit[c]!;
      }
    }
    return out;
  }
}

/** How far a pixel's slope stands above the frame's usual one, 0…1. Flat parts hold what the sensor's pattern left,
 *  which stays put when the board moves: many weak slopes would hold the answer at zero.
 */
export function edgeGate(template: Float32Array, width: number, height: number): Float32Array {
  const slope2 = new Float32Array(template.length);
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      const s =
        (template[i + 1]! - template[i - 1]!) ** 2 + (template[i + width]! - template[i - width]!) ** 2;
      if (s * 0 === 0) slope2[i] = s;
    }
  }
  const usual = median(slope2);
  return slope2.map((s) => s ** 2 / (s ** 2 + (GATE_FACTOR * usual) ** 2 + 1e-30));
}

function clip(value: number, limit: number): number {
  return Math.min(limit, Math.max(-limit, value));
}
