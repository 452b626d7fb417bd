// align: two band-passed pictures and a first guess → shift and turn with their covariance, by robust least squares.
import { radians } from "../core/units.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { robustSigma } from "../numeric/median.js";
import { warpRaster } from "../numeric/warp.js";
import { affineOf, type RigidTransform } from "./rigid-transform.js";
import { solveSymmetric3 } from "./solve-symmetric-3.js";

/** What `refineAlignment` found. */
export interface RefinedAlignment {
  readonly transform: RigidTransform;
  /** Covariance of (dx px, dy px, angle rad), row-major 3×3, from the scatter of the fit's own residuals. */
  readonly covariance: Float64Array;
  /** Mean robust cost over the overlap at the solution, 0…1; lower fits better. */
  readonly cost: number;
  readonly converged: boolean;
}

/** Options of `refineAlignment`. */
export interface RefineOptions {
  /** Noise of one band-passed pixel of the difference, K. */
  readonly noiseK: number;
  /** Misalignment still expected at each iteration, px: edges are trusted no better than this allows. */
  readonly misfitPx: readonly number[];
  /** Standard deviation of the shift and of the turn before anything is seen: px, rad. */
  readonly priorShiftPx: number;
  readonly priorAngleRad: number;
}

/** Reach over which unexplained difference raises its neighbours' scale, px: about the size of a part. */
const NEIGHBOURHOOD_PX = 4;

/** Side of the square blocks over which the score's scatter is taken, px: wider than the band-pass correlates. */
const BLOCK_PX = 8;

/** Refine shift and turn by Gauss–Newton steps on the difference of two band-passed pictures.
 *  Weights are those of Cauchy's distribution; the scale of a pixel holds the noise, what the misalignment still
 *  expected would leave at its gradient, and the level of unexplained difference around it, so that heat and
 *  changed reflections lose their pull while edges that merely are not yet aligned keep theirs.
 *  Method: Lucas–Kanade with iterative re-weighting (Baker & Matthews 2004, doi 10.1023/B:VISI.0000011205.11775.fd,
 *  from memory). Differs: gradients averaged over both pictures; the covariance is a sandwich over blocks.
 *  @param template band-passed baseline, NaN = left out; not modified.
 *  @param moving band-passed powered frame, same shape; not modified.
 */
export function refineAlignment(
  template: Float32Array,
  moving: Float32Array,
  width: number,
  height: number,
  start: RigidTransform,
  options: RefineOptions,
): RefinedAlignment {
  const gradX = gradient(template, width, height, 1);
  const gradY = gradient(template, width, height, width);
  const movingGradX = gradient(moving, width, height, 1);
  const movingGradY = gradient(moving, width, height, width);
  const system = new NormalEquations(width, height);
  let transform = start;
  let converged = false;
  let lastStep = Number.POSITIVE_INFINITY;
  for (const misfitPx of options.misfitPx) {
    const affine = affineOf(transform, { width, height });
    const warped = warpRaster(moving, width, height, affine, { order: "cubic" });
    const gx = warpRaster(movingGradX, width, height, affine, { order: "linear" });
    const gy = warpRaster(movingGradY, width, height, affine, { order: "linear" });
    for (let i = 0; i < warped.length; i++) {
      warped[i] = warped[i]! - template[i]!;
      gx[i] = 0.5 * (gx[i]! + gradX[i]!);
      gy[i] = 0.5 * (gy[i]! + gradY[i]!);
    }
    system.build(warped, gx, gy, misfitPx, options, transform);
    const step = solveSymmetric3(system.hessian, system.score);
    transform = {
      dxPx: transform.dxPx - step[0],
      dyPx: transform.dyPx - step[1],
      angleRad: radians(transform.angleRad - step[2] / system.armPx),
    };
    lastStep = Math.hypot(step[0], step[1], step[2]);
    if (!Number.isFinite(lastStep)) break;
  }
  converged = lastStep < 0.02;
  return { transform, covariance: system.covariance(), cost: system.cost, converged };
}

/** Normal equations of the fit in (dx, dy, angle·arm); the arm makes the three parameters alike in size. */
class NormalEquations {
  readonly hessian = new Float64Array(9);
  readonly score = new Float64Array(3);
  readonly armPx: number;
  cost = 1;
  private readonly blockScores: Float64Array;
  private readonly blocksAcross: number;

  constructor(
    private readonly width: number,
    private readonly height: number,
  ) {
    this.armPx = Math.hypot(width, height) / Math.sqrt(12);
    this.blocksAcross = Math.ceil(width / BLOCK_PX);
    this.blockScores = new Float64Array(this.blocksAcross * Math.ceil(height / BLOCK_PX) * 3);
  }

  build(
    residual: Float32Array,
    gx: Float32Array,
    gy: Float32Array,
    misfitPx: number,
    options: RefineOptions,
    at: RigidTransform,
  ): void {
    const { width, height, hessian, score, blockScores, armPx } = this;
    hessian.fill(0);
    score.fill(0);
    blockScores.fill(0);
    const scale = robustSigma(residual);
    const noise2 = Math.max(options.noiseK, 0.3 * scale) ** 2;
    const unexplained = gaussianFilter(residual.map(Math.abs), width, height, NEIGHBOURHOOD_PX);
    const misfit2 = misfitPx * misfitPx;
    const cx = (width - 1) / 2;
    const cy = (height - 1) / 2;
    let costSum = 0;
    let count = 0;
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const i = y * width + x;
        const r = residual[i]!;
        const jx = gx[i]!;
        const jy = gy[i]!;
        if (!(r * 0 === 0) || !(jx * 0 === 0) || !(jy * 0 === 0)) continue;
        const around = unexplained[i]!;
        const s2 = Math.max(noise2, around * around) + misfit2 * (jx * jx + jy * jy);
        const u = (r * r) / s2;
        // Cauchy weight, tuned to 95 % efficiency under Gaussian noise (2.385, common practice, no source).
        const weight = 1 / (s2 * (1 + u / 5.688));
        costSum += u / (u + 5.688);
        count++;
        const ja = (jy * (x - cx) - jx * (y - cy)) / armPx;
        hessian[0]! += weight * jx * jx;
        hessian[1]! += weight * jx * jy;
        hessian[2]! += weight * jx * ja;
        hessian[4]! += weight * jy * jy;
        hessian[5]! += weight * jy * ja;
        hessian[8]! += weight * ja * ja;
        const b = (Math.floor(y / BLOCK_PX) * this.blocksAcross + Math.floor(x / BLOCK_PX)) * 3;
        const wr = weight * r;
        blockScores[b]! += wr * jx;
        blockScores[b + 1]! += wr * jy;
        blockScores[b + 2]! += wr * ja;
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
    hessian[0]! += priorShift;
    hessian[4]! += priorShift;
    hessian[8]! += priorAngle;
    score[0]! += priorShift * at.dxPx;
    score[1]! += priorShift * at.dyPx;
    score[2]! += priorAngle * at.angleRad * armPx;
    this.cost = count === 0 ? 1 : costSum / count;
  }

  /** A⁻¹ (Σ block scores²+ prior) A⁻¹ in px, px, rad. */
  covariance(): Float64Array {
    const { hessian, blockScores, armPx } = this;
    const spread = new Float64Array(9);
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
        out[r * 3 + c] = sum * toUnit[r]! * toUnit[c]!;
      }
    }
    return out;
  }
}

/** Central difference along x (stride 1) or y (stride = width); NaN at the border it can't reach. */
function gradient(data: Float32Array, width: number, height: number, stride: number): Float32Array {
  const out = new Float32Array(data.length).fill(Number.NaN);
  const marginX = stride === 1 ? 1 : 0;
  const marginY = stride === 1 ? 0 : 1;
  for (let y = marginY; y < height - marginY; y++) {
    for (let x = marginX; x < width - marginX; x++) {
      const i = y * width + x;
      out[i] = 0.5 * (data[i + stride]! - data[i - stride]!);
    }
  }
  return out;
}
