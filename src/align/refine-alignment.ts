// align: two band-passed pictures and a first guess → shift and turn with their covariance, by robust least squares.
import { radians } from "../core/units.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";
import { warpRaster } from "../numeric/warp.js";
import { fitAmounts } from "./fit-amounts.js";
import { affineOf, type RigidTransform } from "./rigid-transform.js";
import { solveSymmetric3 } from "./solve-symmetric-3.js";

/** What `refineAlignment` found. */
export interface RefinedAlignment {
  readonly transform: RigidTransform;
  /** Covariance of (dx px, dy px, angle rad), row-major 3×3, from the scatter of the fit's own residuals. */
  readonly covariance: Float64Array;
  /** Mean robust cost over the overlap at the solution, at the noise's own scale, 0…1; lower fits better. */
  readonly cost: number;
  readonly converged: boolean;
  /** Correlation of the two pictures over the edges, once aligned, −1…1: near 0 the pictures share nothing. */
  readonly likeness: number;
}

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
/** Steps shorter than this no longer matter, px. */
const SETTLED_PX = 0.002;
/** Scale of Cauchy's weight at which Gaussian noise keeps 95 % efficiency, squared (2.385², common practice, no
 *  source). */
const CAUCHY2 = 5.688;

/** Refine shift and turn by Gauss–Newton steps on the difference of two band-passed pictures.
 *  Weights are those of Cauchy's distribution; the scale of a pixel holds the noise, what the misalignment still
 *  expected would leave at its gradient, and, for the last refinement, the level of unexplained difference around
 *  it, so that heat and changed reflections lose their pull while edges that merely are not yet aligned keep theirs.
 *  Method: Lucas–Kanade with iterative re-weighting (Baker & Matthews 2004, doi 10.1023/B:VISI.0000011205.11775.fd,
 *  from memory). Differs: gradients averaged over both pictures; the covariance is a sandwich over blocks.
 *  @param templates band-passed baseline first, then shapes that power may add to it (each in any amount), NaN = left
 *  out; not modified.
 *  @param moving band-passed powered frame, same shape; not modified.
 */
export function refineAlignment(
  templates: readonly Float32Array[],
  moving: Float32Array,
  width: number,
  height: number,
  start: RigidTransform,
  options: RefineOptions,
): RefinedAlignment {
  const system = new NormalEquations(width, height, edgeGate(templates[0]!, width, height));
  let template = templates[0]!;
  const warped = new Float32Array(moving.length);
  let transform = start;
  let converged = false;
  for (let round = 0; round < options.maxIterations && !converged; round++) {
    const settled = round >= options.misfitPx.length - 1;
    const misfitPx = options.misfitPx[Math.min(round, options.misfitPx.length - 1)]!;
    warpRaster(moving, width, height, affineOf(transform, { width, height }), {
      order: "cubic",
      out: warped,
    });
    if (templates.length > 1) template = mix(templates, fitAmounts(templates, warped, 3 * options.noiseK));
    system.build(template, warped, misfitPx, options, transform);
    const step = solveSymmetric3(system.hessian, system.score);
    const length = Math.hypot(step[0], step[1], step[2]);
    if (!Number.isFinite(length)) break;
    // A step longer than the band-pass sees is a guess: go part of the way.
    const share = Math.min(1, MAX_STEP_PX / length);
    transform = {
      dxPx: transform.dxPx - share * step[0],
      dyPx: transform.dyPx - share * step[1],
      angleRad: radians(transform.angleRad - (share * step[2]) / system.armPx),
    };
    converged = settled && length < SETTLED_PX;
  }
  return {
    transform,
    covariance: system.covariance(),
    cost: system.cost,
    converged,
    likeness: system.likeness,
  };
}

function mix(templates: readonly Float32Array[], amounts: readonly number[]): Float32Array {
  return templates[0]!.map((_, i) => templates.reduce((sum, shape, k) => sum + amounts[k]! * shape[i]!, 0));
}

/** Differences beyond this many times the noise count no further in the likeness. */
const LIKENESS_CLIP = 10;
/** True scatter ÷ the block sandwich's: noise in the gradients, contrast that changes and pattern are not in it
 *  (measured on rendered boards: 1.6–2.1; on simulated scenes 1.3–1.7). */
const UNDERSTATED = 1.6;
/** Longest step taken at once, px. */
const MAX_STEP_PX = 2;

/** How far a pixel's slope stands above the frame's usual one, 0…1. Flat parts hold what the sensor's pattern left,
 *  which stays put when the board moves: many weak slopes would hold the answer at zero.
 */
function edgeGate(template: Float32Array, width: number, height: number): Float32Array {
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

/** Normal equations of the fit in (dx, dy, angle·arm); the arm makes the three parameters alike in size. */
class NormalEquations {
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
