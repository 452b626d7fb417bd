// align: baseline and powered frame → how the content moved, how surely, and whether to rely on it.
import type { Raster } from "../core/raster.js";
import { radians } from "../core/units.js";
import { gaussianFilter, whiteNoiseGain } from "../numeric/gaussian-filter.js";
import { robustSigma } from "../numeric/median.js";
import { coarseShift } from "./coarse-shift.js";
import { type RefinedAlignment, refineAlignment } from "./refine-alignment.js";
import type { RigidTransform } from "./rigid-transform.js";
import { type SeparatedFrame, separatePattern } from "./separate-pattern.js";

/** Defaults of `alignFrames`. */
export const ALIGN_DEFAULTS = Object.freeze({
  /** Finest detail used, px: below the blur of the optics there is only noise and sensor pattern. */
  fineSigmaPx: 1.0,
  /** Coarsest detail used, px: wider change is drift, spread heat or the room. */
  coarseSigmaPx: 6,
  /** Largest shift searched, as a share of the frame's longer side. */
  maxShiftShare: 0.1,
  /** A board nudged by hand moves a few pixels and turns by a fraction of a degree. */
  priorShiftPx: 10,
  priorAngleRad: 0.03,
  /** Above this uncertainty (root mean square over the frame) the alignment is not relied on, px. */
  trustedPx: 0.35,
});

/** How the powered frame's content lies relative to the baseline's. */
export interface Alignment {
  readonly transform: RigidTransform;
  /** Root mean square displacement error over the frame that the fit admits, px. */
  readonly uncertaintyPx: number;
  /** Covariance of (dx px, dy px, angle rad), row-major 3×3. */
  readonly covariance: Float64Array;
  /** False where the frames hold too little structure, or too different, to tell. The transform is then zero. */
  readonly trusted: boolean;
  /** The baseline, separated into what moves with the board and what stays with the sensor. */
  readonly separated: SeparatedFrame;
}

const STILL: RigidTransform = { dxPx: 0, dyPx: 0, angleRad: radians(0) };

/** Find the shift and turn of the powered frame's content relative to the baseline's.
 *  The sensor's own pattern is taken off both frames first, since it would hold the answer at zero.
 *  @param baseline °C, width×height, NaN = no reading; not modified.
 *  @param powered °C, same shape; not modified.
 */
export function alignFrames(
  baseline: Raster<"degC">,
  powered: Raster<"degC">,
  options: Partial<typeof ALIGN_DEFAULTS> = {},
): Alignment {
  const o = { ...ALIGN_DEFAULTS, ...options };
  const { width, height } = baseline;
  const separated = separatePattern(baseline);
  const withoutPattern = powered.data.map((v, i) => v - separated.pattern.data[i]!);
  const template = bandPass(separated.scene.data, width, height, o.fineSigmaPx, o.coarseSigmaPx);
  const moving = bandPass(withoutPattern, width, height, o.fineSigmaPx, o.coarseSigmaPx);
  const noiseK = Math.max(1e-6, separated.patternSigmaK * whiteNoiseGain(o.fineSigmaPx));
  const starts: RigidTransform[] = [STILL];
  const coarse = coarseShift(template, moving, width, height, {
    cellPx: Math.max(2, Math.round(Math.max(width, height) / 96)),
    maxShiftPx: o.maxShiftShare * Math.max(width, height),
    scaleK: Math.max(2 * noiseK, 0.5 * robustSigma(template)),
  });
  if (coarse.dxPx !== 0 || coarse.dyPx !== 0) {
    starts.push({ dxPx: coarse.dxPx, dyPx: coarse.dyPx, angleRad: radians(0) });
  }
  let best: RefinedAlignment | null = null;
  for (const start of starts) {
    const refined = refineAlignment(template, moving, width, height, start, {
      noiseK,
      misfitPx: [1, 1, 0.7, 0.5, 0.3, 0.2, 0.1, 0.05, 0.05, 0.05],
      priorShiftPx: o.priorShiftPx,
      priorAngleRad: o.priorAngleRad,
    });
    if (best === null || refined.cost < best.cost) best = refined;
  }
  const found = best!;
  const uncertaintyPx = meanDisplacementError(found.covariance, width, height);
  const trusted = found.converged && uncertaintyPx <= o.trustedPx;
  return {
    transform: trusted ? found.transform : STILL,
    uncertaintyPx,
    covariance: found.covariance,
    trusted,
    separated,
  };
}

/** Detail between two Gaussian widths. */
function bandPass(
  data: Float32Array,
  width: number,
  height: number,
  fineSigmaPx: number,
  coarseSigmaPx: number,
): Float32Array {
  const fine = gaussianFilter(data, width, height, fineSigmaPx);
  const coarse = gaussianFilter(data, width, height, coarseSigmaPx);
  for (let i = 0; i < fine.length; i++) fine[i] = fine[i]! - coarse[i]!;
  return fine;
}

/** Root mean square length of the displacement error over the frame, px; infinite where it can't be told. */
function meanDisplacementError(covariance: Float64Array, width: number, height: number): number {
  const armSquared = (width * width + height * height) / 12;
  const squared = covariance[0]! + covariance[4]! + covariance[8]! * armSquared;
  return Number.isFinite(squared) ? Math.sqrt(squared) : Number.POSITIVE_INFINITY;
}
