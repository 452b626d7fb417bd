// align: the sums over edge samples at one alignment → the normal equations of the next step, and how well they fit.
import { choleskyFactor } from "../numeric/cholesky.js";
import { sharedKernels } from "../numeric/kernels.js";
import { solveSymmetric3 } from "../numeric/solve-symmetric-3.js";
import type { NoiseShare } from "./edge-samples.js";
import { afterMovement, type RigidTransform } from "./rigid-transform.js";
import type { StepNumbers, StepSums } from "./step-sums.js";

/** Options of `refineAlignment`. */
export interface RefineOptions {
  /** Noise of one band-passed pixel of the difference, K. */
  readonly noiseK: number;
  /** Variance of what both pictures share at the same pixel of the sensor, K²: the rest of its pattern. It draws the
   *  answer to zero by a known amount, which is taken off. */
  readonly patternK2: number;
  /** Variance of a pixel of one picture where it is flat, before smoothing, K²: noise and pattern. */
  readonly pixelK2: number;
  /** Gaussian width to which both pictures were smoothed, px. */
  readonly fineSigmaPx: number;
  /** Misalignment still expected, iteration by iteration, px: edges are trusted no better than this allows. The last
   *  one holds until the steps have died out. */
  readonly misfitPx: readonly number[];
  /** How far each place that the map draws may lie beside where the baseline has it, px: shapes are drawn one by
   *  one. */
  readonly drawnMisfitPx: number;
  /** What of the samples noise and pattern make; null: taken for nothing, which is enough for rough steps. */
  readonly noiseShare: NoiseShare | null;
  /** Movement that the moving picture was brought back by already. */
  readonly broughtBack: RigidTransform;
  /** True to lower the weight of pixels in whose surroundings much is unexplained: for the last refinement. */
  readonly distrustSurroundings: boolean;
  readonly maxIterations: number;
  /** Steps shorter than this no longer matter, px. */
  readonly settledPx: number;
  /** Standard deviation of the shift and of the turn before anything is seen: px, rad. */
  readonly priorShiftPx: number;
  readonly priorAngleRad: number;
}

/** Scale of Cauchy's weight, squared: differences of five times the noise count half, which keeps 99.4 % efficiency on
 *  Gaussian noise. Narrower ones (2.385 keeps 95 %: Holland and Welsch 1977, doi:10.1080/03610927708827533, and worked
 *  out again) erred more on simulated scenes, whose noise at edges is no Gaussian. */
const CAUCHY2 = 25;
/** Differences beyond this many times the noise count no further in the likeness. */
const LIKENESS_CLIP = 10;
/** What noise makes of the samples scatters by a quarter: so many times its expectation is two standard deviations
 *  above it. Half or twice changes no digit of 50 pairs of usual boards: it is for weak ones. */
const NOISE_MARGIN = 1.5;
/** True scatter ÷ the block sandwich's: noise in the gradients, contrast that changes and pattern are not in it
 *  (measured on rendered boards: 1.6–2.1; on simulated scenes 1.3–1.7). */
const UNDERSTATED = 1.6;

/** Normal equations of the fit in (dx, dy, angle·arm); the arm makes the three parameters alike in size. */
export class NormalEquations {
  readonly hessian = new Float64Array(9);
  readonly score = new Float64Array(3);
  readonly armPx: number;
  likeness = 0;
  private readonly prior = new Float64Array(3);
  private noisyShare = 0;
  private excess: StepSums["excess"] = [0, 0, 0, 0, 0, 0];
  private blockScores: Float64Array = new Float64Array(0);

  constructor(
    private readonly width: number,
    private readonly height: number,
  ) {
    this.armPx = Math.hypot(width, height) / Math.sqrt(12);
  }

  /** What all samples share in the comparison at an alignment.
   *  @param at movement beyond `options.broughtBack`.
   */
  numbersAt(at: RigidTransform, misfitPx: number, options: RefineOptions): StepNumbers {
    const { dxPx, dyPx, angleRad } = afterMovement(at, options.broughtBack);
    // Pattern F at p and p + d: E[½(F′(p) + F′(p+d))·(F(p+d) − F(p))] = −C′(d), C the autocovariance once smoothed.
    const width2 = 2 * options.fineSigmaPx ** 2;
    const slopeGain = 1 / (2 * Math.PI * width2 * width2);
    return {
      noise2: options.noiseK ** 2,
      clipK: LIKENESS_CLIP * options.noiseK,
      misfit2: misfitPx * misfitPx,
      drawnMisfit2: options.drawnMisfitPx ** 2,
      cx: (this.width - 1) / 2,
      cy: (this.height - 1) / 2,
      armPx: this.armPx,
      dxPx,
      dyPx,
      angleRad,
      pull: slopeGain * options.patternK2 * pullBySelection(options),
      noiseSlope2: slopeGain * options.pixelK2,
      pullWidth: 2 * width2,
      cauchy2: CAUCHY2,
    };
  }

  /** @param blockScores three per block; kept, not modified. */
  build(sums: StepSums, blockScores: Float64Array, options: RefineOptions, at: RigidTransform): void {
    const { hessian, score, armPx } = this;
    this.blockScores = blockScores;
    this.excess = sums.excess;
    this.noisyShare = options.noiseShare?.ofSlopes ?? 0;
    const { dxPx, dyPx, angleRad } = afterMovement(at, options.broughtBack);
    const [h0, h1, h2, h4, h5, h8] = sums.hessian;
    const { product, square, otherSquare } = sums;
    hessian.set([h0, h1, h2, h1, h4, h5, h2, h5, h8]);
    score.set(sums.score);
    const priorShift = 1 / options.priorShiftPx ** 2;
    const priorAngle = 1 / (options.priorAngleRad * armPx) ** 2;
    this.prior.set([priorShift, priorShift, priorAngle]);
    for (let k = 0; k < 3; k++) hessian[k * 4]! += this.prior[k]!;
    score[0]! += priorShift * dxPx;
    score[1]! += priorShift * dyPx;
    score[2]! += priorAngle * angleRad * armPx;
    this.likeness = square > 0 && otherSquare > 0 ? product / Math.sqrt(square * otherSquare) : 0;
  }

  /** A⁻¹ (Σ block scores² + prior) A⁻¹ in px, px, rad, widened by what it is known to understate. A is how the score
   *  changes with the movement: the Hessian less what noise and pattern add to it. Slopes of a pattern that stays with
   *  the sensor tell nothing of where the board went, however much they make of the pictures.
   *  @returns infinite where nothing is left of it.
   */
  covariance(): Float64Array {
    const { blockScores, armPx } = this;
    const [e0, e1, e2, e4, e5, e8] = this.excess;
    const told = Math.max(0, 1 - NOISE_MARGIN * this.noisyShare);
    const hessian = this.hessian.map((h, k) => told * h - [e0, e1, e2, e1, e4, e5, e2, e5, e8][k]!);
    if (choleskyFactor(hessian, 3) === null) return new Float64Array(9).fill(Number.POSITIVE_INFINITY);
    const spread = new Float64Array(9);
    for (let k = 0; k < 3; k++) spread[k * 4] = this.prior[k]!;
    addProducts(blockScores, spread);
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

/** How many times as strong as over all pixels the pattern's pull is over the samples: where there is no scene those
 *  were taken that are steep by noise and pattern together, of which the pattern has its share of the variance.
 */
function pullBySelection({ noiseShare, patternK2, pixelK2 }: RefineOptions): number {
  if (noiseShare === null) return 1;
  const ofPattern = pixelK2 > 0 ? Math.min(1, patternK2 / pixelK2) : 0;
  return 1 + noiseShare.ofGates * ofPattern * (noiseShare.steeper - 1);
}

/** Add the products of each block's three scores. */
function addProducts(scores: Float64Array, to: Float64Array): void {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [from, sums, products] = [kernels.put(scores), kernels.put(new Float64Array(3)), kernels.put(to)];
    kernels.run.addScores(from, scores.length / 3, sums, products);
    to.set(kernels.doubles(products, 9));
    return;
  }
  for (let b = 0; b < scores.length; b += 3) {
    for (let r = 0; r < 3; r++) {
      for (let c = 0; c < 3; c++) to[r * 3 + c]! += scores[b + r]! * scores[b + c]!;
    }
  }
}
