// align: baseline and powered frame → how the content moved, how surely, and whether to rely on it.
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { radians } from "../core/units.js";
import { gaussianFilter, whiteNoiseGain } from "../numeric/gaussian-filter.js";
import { robustSigma } from "../numeric/median.js";
import { coarseShift } from "./coarse-shift.js";
import { type LinePattern, linePattern } from "./line-pattern.js";
import { type RefinedAlignment, refineAlignment } from "./refine-alignment.js";
import type { RigidTransform } from "./rigid-transform.js";
import { type SeparatedFrame, separatePattern } from "./separate-pattern.js";

/** Defaults of `alignFrames`. */
export const ALIGN_DEFAULTS = Object.freeze({
  /** Finest detail used, px: below the blur of the optics there is only noise and sensor pattern. */
  fineSigmaPx: 1.5,
  /** Coarsest detail used, px: wider change is drift, spread heat or the room. */
  coarseSigmaPx: 6,
  /** How far a nudge may carry what is left out as no guide, px. */
  nudgeReachPx: 4,
  /** Largest shift searched, as a share of the frame's longer side. */
  maxShiftShare: 0.1,
  /** A board nudged by hand moves a few pixels and turns by a fraction of a degree. */
  priorShiftPx: 10,
  priorAngleRad: 0.03,
  /** Above this uncertainty (root mean square over the frame) the alignment is not relied on, px. */
  trustedPx: 0.5,
  /** Pictures less alike than this over their edges share no scene: noise alone gives up to 0.16, boards 0.6 and more. */
  leastLikeness: 0.35,
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
 *  @param unreliable 1 = no guide to the alignment (mirrors of the room), in the baseline's grid; null if unknown.
 *  @param warmShape what the camera would add for a board that warmed evenly by 1 K (its emissivity), in the baseline's
 *  grid; null if unknown. A warmed board stands out from the table otherwise than a cold one did.
 */
export function alignFrames(
  baseline: Raster<"degC">,
  powered: Raster<"degC">,
  unreliable: Uint8Array | null = null,
  warmShape: Float32Array | null = null,
  options: OptionsOf<typeof ALIGN_DEFAULTS> = {},
): Alignment {
  const o = { ...ALIGN_DEFAULTS, ...options };
  const { width, height } = baseline;
  const lines = linePattern([baseline, powered]);
  const separated = separatePattern(baseline, lines);
  const template = bandPass(
    prepared(baseline, lines, unreliable, 1.5),
    width,
    height,
    o.fineSigmaPx,
    o.coarseSigmaPx,
  );
  // Where the mirrors lie in the powered frame is not known yet: they are left out with the reach of a nudge.
  const moving = bandPass(
    prepared(powered, lines, unreliable, o.nudgeReachPx),
    width,
    height,
    o.fineSigmaPx,
    o.coarseSigmaPx,
  );
  const templates = [template];
  if (warmShape !== null) {
    const shape = warmShape.map((v, i) => (template[i]! * 0 === 0 ? v : Number.NaN));
    templates.push(bandPass(shape, width, height, o.fineSigmaPx, o.coarseSigmaPx));
  }
  const other = separatePattern(powered, lines);
  const noiseK = Math.max(1e-6, Math.SQRT2 * separated.patternSigmaK * whiteNoiseGain(o.fineSigmaPx));
  const starts: RigidTransform[] = [STILL];
  const coarse = coarseShift(templates, moving, width, height, {
    cellPx: Math.max(2, Math.round(Math.max(width, height) / 96)),
    maxShiftPx: o.maxShiftShare * Math.max(width, height),
    scaleK: Math.max(2 * noiseK, 0.5 * robustSigma(template)),
  });
  if (coarse.dxPx !== 0 || coarse.dyPx !== 0) {
    starts.push({ dxPx: coarse.dxPx, dyPx: coarse.dyPx, angleRad: radians(0) });
  }
  const refine = (start: RigidTransform, last: boolean) =>
    refineAlignment(templates, moving, width, height, start, {
      noiseK,
      patternK2: sharedPattern(separated.pattern.data, other.pattern.data, lines, width),
      fineSigmaPx: o.fineSigmaPx,
      misfitPx: last ? [0.1, 0.05] : [1.5, 1, 0.7, 0.5, 0.3, 0.2, 0.1],
      distrustSurroundings: last,
      maxIterations: last ? 30 : 10,
      priorShiftPx: o.priorShiftPx,
      priorAngleRad: o.priorAngleRad,
    });
  let best: RefinedAlignment | null = null;
  for (const start of starts) {
    const refined = refine(start, false);
    if (best === null || refined.cost < best.cost) best = refined;
  }
  const found = refine(best!.transform, true);
  const uncertaintyPx = meanDisplacementError(found.covariance, width, height);
  const trusted = found.converged && uncertaintyPx <= o.trustedPx && found.likeness >= o.leastLikeness;
  return {
    transform: trusted ? found.transform : STILL,
    uncertaintyPx,
    covariance: found.covariance,
    trusted,
    separated,
  };
}

/** Variance of the pattern both frames share, K², from pixels that hold no scene in either; ≥ 0. */
function sharedPattern(a: Float32Array, b: Float32Array, lines: LinePattern, width: number): number {
  const products = new Float32Array(a.length).fill(Number.NaN);
  for (let i = 0; i < a.length; i++) {
    const line = lines.columnsK[i % width]! + lines.rowsK[Math.floor(i / width)]!;
    const u = a[i]! - line;
    const v = b[i]! - line;
    // At edges the pattern is left in the scene and these are zero.
    if (Math.abs(u) + Math.abs(v) > 1e-6) products[i] = u * v;
  }
  let sum = 0;
  let count = 0;
  for (const product of products) {
    if (!(product * 0 === 0)) continue;
    sum += product;
    count++;
  }
  return count === 0 ? 0 : Math.max(0, sum / count);
}

/** A frame without line offsets, and without what is no guide and its surroundings (NaN). */
function prepared(
  { data, width, height }: Raster<"degC">,
  { columnsK, rowsK }: LinePattern,
  unreliable: Uint8Array | null,
  reachPx: number,
): Float32Array {
  const out = data.map((v, i) => v - columnsK[i % width]! - rowsK[Math.floor(i / width)]!);
  if (unreliable === null) return out;
  const near = gaussianFilter(Float32Array.from(unreliable), width, height, reachPx / 2);
  for (let i = 0; i < out.length; i++) if (near[i]! > 0.02) out[i] = Number.NaN;
  return out;
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
