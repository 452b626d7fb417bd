// align: edge samples, a band-passed picture and a first guess → shift and turn with their covariance, by robust least
// squares.

import { radians } from "../core/units.js";
import { hasSettled } from "../numeric/has-settled.js";
import { solveSymmetric3 } from "../numeric/solve-symmetric-3.js";
import type { EdgeSamples } from "./edge-samples.js";
import { edgeSteps } from "./edge-steps.js";
import { NormalEquations, type RefineOptions } from "./normal-equations.js";
import { affineOf, type RigidTransform } from "./rigid-transform.js";

/** What `refineAlignment` found. */
export interface RefinedAlignment {
  readonly transform: RigidTransform;
  /** Covariance of (dx px, dy px, angle rad), row-major 3×3, from the scatter of the fit's own residuals. */
  readonly covariance: Float64Array;
  readonly converged: boolean;
  /** Correlation of the two pictures over the edges, once aligned, −1…1: near 0 the pictures share nothing. */
  readonly likeness: number;
}

/** Steps that have not died out by this round are taken to swing. */
const SWINGING_FROM = 12;
/** Longest step taken at once, px. */
const MAX_STEP_PX = 2;

/** Refine shift and turn by Gauss–Newton steps on the difference of two band-passed pictures, read at the edges.
 *  Weights are those of Cauchy's distribution; the scale of a pixel holds the noise, what the misalignment still
 *  expected would leave at its gradient, and, for the last refinement, the level of unexplained difference around
 *  it, so that heat and changed reflections lose their pull while edges that merely are not yet aligned keep theirs.
 *  Method: Lucas–Kanade with iterative re-weighting (Baker & Matthews 2004, doi 10.1023/B:VISI.0000011205.11775.fd,
 *  from memory). Differs: gradients averaged over both pictures; the covariance is a sandwich over blocks.
 *  @param samples edges of the baseline, with the shapes that power may add to it, each in any amount.
 *  @param moving band-passed powered frame, width×height; not modified.
 */
export function refineAlignment(
  samples: EdgeSamples,
  moving: Float32Array,
  width: number,
  height: number,
  start: RigidTransform,
  options: RefineOptions,
): RefinedAlignment {
  const steps = edgeSteps(samples, moving, width, height);
  const system = new NormalEquations(width, height);
  let transform = start;
  let converged = false;
  for (let round = 0; round < options.maxIterations && !converged; round++) {
    const settled = round >= options.misfitPx.length - 1;
    const misfitPx = options.misfitPx[Math.min(round, options.misfitPx.length - 1)]!;
    const matrix = affineOf(transform, { width, height });
    const numbers = system.numbersAt(transform, misfitPx, options);
    const sums = steps.sumsAt(matrix, numbers, 3 * options.noiseK, options.distrustSurroundings);
    system.build(sums, steps.scores, options, transform);
    const step = solveSymmetric3(system.hessian, system.score);
    const length = Math.hypot(step[0], step[1], step[2]);
    if (!Number.isFinite(length)) break;
    // A step longer than the band-pass sees is a guess: go part of the way.
    // Weights that follow the residual can make the steps swing: half of each then finds the middle.
    const share = Math.min(round < SWINGING_FROM ? 1 : 0.5, MAX_STEP_PX / length);
    transform = {
      dxPx: transform.dxPx - share * step[0],
      dyPx: transform.dyPx - share * step[1],
      angleRad: radians(transform.angleRad - (share * step[2]) / system.armPx),
    };
    converged = settled && hasSettled(length, options.settledPx, round === options.maxIterations - 1);
  }
  return {
    transform,
    covariance: system.covariance(),
    converged,
    likeness: system.likeness,
  };
}
