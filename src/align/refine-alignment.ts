// align: two band-passed pictures and a first guess → shift and turn with their covariance, by robust least squares.
import { radians } from "../core/units.js";
import { warpRaster } from "../numeric/warp.js";
import { fitAmounts } from "./fit-amounts.js";
import { edgeGate, NormalEquations, type RefineOptions } from "./normal-equations.js";
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

/** Steps shorter than this no longer matter, px. */
const SETTLED_PX = 0.002;
/** Longest step taken at once, px. */
const MAX_STEP_PX = 2;

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
