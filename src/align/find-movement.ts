// align: baseline and powered frame, and the sensor's part in them → how the content moved, how surely, and whether to
// rely on it.
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { radians } from "../core/units.js";
import { whiteNoiseGain } from "../numeric/gaussian-filter.js";
import { robustSigma } from "../numeric/median.js";
import { cellPicture } from "./cell-picture.js";
import { coarseShift } from "./coarse-shift.js";
import { broughtBack, type ComparedPictures, comparedPictures } from "./compared-pictures.js";
import { edgeSamples, noiseShare } from "./edge-samples.js";
import { groundOf } from "./ground.js";
import type { LinePattern } from "./line-pattern.js";
import type { RefineOptions } from "./normal-equations.js";
import { placeShape } from "./place-shape.js";
import { type RefinedAlignment, refineAlignment } from "./refine-alignment.js";
import { afterMovement, type RigidTransform } from "./rigid-transform.js";
import { sharedPattern } from "./shared-pattern.js";

/** Defaults of `findMovement`. */
export const ALIGN_DEFAULTS = Object.freeze({
  /** Finest detail used, px: below the blur of the optics there is only noise and sensor pattern. */
  fineSigmaPx: 1.5,
  /** Larger frames are aligned on cells of 2×2 pixels, whose edges say enough … */
  mostPixels: 50_000,
  /** … with this as the finest detail, cells: with the cell itself 2.3 px, which in practice places edges as well. */
  fineSigmaCells: 1.1,
  /** Coarsest detail used, px: wider change is drift, spread heat or the room. */
  coarseSigmaPx: 6,
  /** How far what the map draws may lie beside the baseline: by a shift and a turn as far as the mean of four clicks,
   *  each 0.3 px off, … */
  drawnPlacePx: 0.15,
  /** … and place by place, px: of four corners clicked so 0.18 are left, with shapes 0.1 mm off either way (by hand, a
   *  judgement) at 0.36 mm a pixel 0.24, with more fiducials less. Half or twice of either changes the error of 50
   *  pairs by 2 %. */
  drawnMisfitPx: 0.2,
  /** Pictures that lie on each other to this are compared as they are, px. Half of it: median error 0.019 px, not 0.017
   *  (50 pairs); twice 0.017. */
  bringBackPx: 0.25,
  /** How far a nudge may carry what is left out as no guide, px. */
  nudgeReachPx: 4,
  /** Largest shift searched, as a share of the frame's longer side: far beyond a nudge, and the search costs its
   *  square. */
  maxShiftShare: 0.1,
  /** Edge pixels used for the first, rough steps, and for the last ones: neighbours hold the same noise. */
  fewSamples: 1500,
  mostSamples: 9000,
  /** … and without a map, where the plain chain is to take no longer than its peers. */
  mostWithoutMap: 6000,
  /** In the last steps the surroundings of a pixel say how noisy it is; where they are quiet, it may be quieter than
   *  the frame by this factor. */
  quietShare: 0.3,
  /** Pictures this much alike are aligned; else other starts than standing still are tried as well. */
  sureLikeness: 0.85,
  /** A board nudged by hand moves a few pixels and turns by a fraction of a degree. */
  priorShiftPx: 10,
  priorAngleRad: 0.03,
  /** Above this uncertainty (root mean square over the frame) the alignment is not relied on, px: three times it is as
   *  much as is allowed for between frames that could not be aligned. */
  trustedPx: 1,
  /** Pictures less alike than this over their edges share no scene: noise alone gives up to 0.16, boards 0.6 and
   *  more. */
  leastLikeness: 0.35,
  /** … nor those less alike than so much ÷ √(edge pixels): the fewer there are, the better some place makes two
   *  pictures of noise alike. Of 300 pairs of noise the most was 10.5, of 98 pairs of boards the least 30. */
  noiseLikeness: 14,
});

/** How the powered frame's content lies relative to the baseline's. */
export interface Movement {
  readonly transform: RigidTransform;
  /** Root mean square displacement error over the frame that the fit admits, px. */
  readonly uncertaintyPx: number;
  /** Covariance of (dx px, dy px, angle rad), row-major 3×3. */
  readonly covariance: Float64Array;
  /** False where the frames hold too little structure, or too different, to tell. The transform is then zero. */
  readonly trusted: boolean;
}

const STILL: RigidTransform = { dxPx: 0, dyPx: 0, angleRad: radians(0) };

/** Find the shift and turn of the powered frame's content relative to the baseline's.
 *  @param baseline °C, width×height, NaN = no reading; not modified.
 *  @param powered °C, same shape; not modified.
 *  @param sensor offsets of its columns and rows, and the spread of its pattern and noise, K: the pattern would hold
 *  the answer at zero.
 *  @param unreliable 1 = no guide to the alignment (mirrors of the room), in the baseline's grid; null if unknown.
 *  @param warmShape, beside as for `alignFrames`.
 */
export function findMovement(
  baseline: Raster<"degC">,
  powered: Raster<"degC">,
  sensor: { readonly lines: LinePattern; readonly patternSigmaK: number },
  unreliable: Uint8Array | null = null,
  warmShape: Float32Array | null = null,
  beside: Uint8Array | null = null,
  options: OptionsOf<typeof ALIGN_DEFAULTS> = {},
): Movement {
  const o = { ...ALIGN_DEFAULTS, ...options };
  const { lines } = sensor;
  const side = baseline.data.length > o.mostPixels ? 2 : 1;
  const before = cellPicture(baseline, side, { lines, unreliable, reachPx: 1.5 });
  // Where the mirrors lie in the powered frame is not known yet: they are left out with the reach of a nudge.
  const after = cellPicture(powered, side, { lines, unreliable, reachPx: o.nudgeReachPx });
  const { width, height } = before;
  const fineSigma = side === 1 ? o.fineSigmaPx : o.fineSigmaCells;
  const drawn = warmShape === null ? null : cellPicture({ ...baseline, data: warmShape }, side).data;
  const ground =
    beside === null
      ? null
      : groundOf(beside, drawn, { side, frameWidth: baseline.width, width, height }, fineSigma);
  const compare = { fineSigma, coarseSigma: o.coarseSigmaPx / side, ground };
  const first = comparedPictures(before, after.data, drawn, compare);
  // Noise and pattern of pixels, averaged over a cell.
  const pixelK = sensor.patternSigmaK / side;
  const noiseK = Math.max(1e-6, Math.SQRT2 * pixelK * whiteNoiseGain(fineSigma));
  const common = {
    noiseK,
    patternK2: sharedPattern(before, after, first.edges.flat),
    pixelK2: pixelK * pixelK,
    fineSigmaPx: fineSigma,
    drawnMisfitPx: o.drawnMisfitPx / side,
    broughtBack: STILL,
    noiseShare: null,
    priorShiftPx: o.priorShiftPx / side,
    priorAngleRad: o.priorAngleRad,
  };
  const roughly: RefineOptions = {
    ...common,
    misfitPx: [1.5, 1, 0.7, 0.5, 0.3, 0.2].map((px) => px / side),
    distrustSurroundings: false,
    maxIterations: 10,
    settledPx: 0.02 / side,
  };
  const finely: RefineOptions = {
    ...common,
    noiseK: o.quietShare * noiseK,
    misfitPx: [0.1, 0.05].map((px) => px / side),
    distrustSurroundings: true,
    maxIterations: 30,
    settledPx: 0.002 / side,
  };
  const few = edgeSamples(first.edges, first.shapes, width, o.fewSamples);
  const from = (start: RigidTransform): RefinedAlignment =>
    refineAlignment(few, first.moving, width, height, start, roughly);
  let rough = from(STILL);
  if (!(rough.likeness >= o.sureLikeness)) {
    const shapes =
      ground === null ? first.shapes : first.shapes.map((shape) => leftOut(shape, ground.beside));
    const coarse = coarseShift(shapes, first.moving, width, height, {
      cellPx: Math.max(2, Math.round(Math.max(width, height) / 96)),
      maxShiftPx: o.maxShiftShare * Math.max(width, height),
      scaleK: Math.max(2 * noiseK, 0.5 * robustSigma(first.template)),
    });
    const other = from({ dxPx: coarse.dxPx, dyPx: coarse.dyPx, angleRad: radians(0) });
    if (other.likeness > rough.likeness) rough = other;
  }
  const placed =
    drawn === null
      ? null
      : placeShape(drawn, first, width, height, side, {
          ...finely,
          noiseK: noiseK / Math.SQRT2,
          patternK2: 0,
          drawnMisfitPx: 0,
          misfitPx: [0.3, 0.2, 0.1].map((px) => px / side),
          maxIterations: 10,
          settledPx: 0.02 / side,
          priorShiftPx: o.drawnPlacePx / side,
          priorAngleRad: o.drawnPlacePx / (Math.hypot(baseline.width, baseline.height) / Math.sqrt(12)),
        });
  const settle = (base: RigidTransform, pictures: ComparedPictures, start: RigidTransform) => {
    const most = drawn === null ? o.mostWithoutMap : o.mostSamples;
    const all = edgeSamples(pictures.edges, pictures.shapes, width, most);
    const rest = refineAlignment(all, pictures.moving, width, height, start, {
      ...finely,
      noiseShare: noiseShare(pictures.edges, all),
      broughtBack: base,
    });
    return {
      ...rest,
      left: rest.transform,
      transform: afterMovement(rest.transform, base),
      count: all.count,
    };
  };
  const settleBroughtBack = (base: RigidTransform) => {
    const back = broughtBack(before, after.data, base);
    return settle(base, comparedPictures(back.before, back.after, placed, compare), STILL);
  };
  // A turn by its shift at a quarter of the width, the mean arm of a frame.
  const far = ({ dxPx, dyPx, angleRad }: RigidTransform): boolean =>
    Math.hypot(dxPx, dyPx, (angleRad * width) / 4) > o.bringBackPx / side;
  // Without a map the pictures stay as they are: no mirrors are known to go around, and what the border does is left
  // for the time it costs.
  let found =
    drawn === null
      ? settle(STILL, first, rough.transform)
      : settleBroughtBack(far(rough.transform) ? rough.transform : STILL);
  // The pictures are those of the movement they were brought back by: where that was some way off they are made again.
  if (drawn !== null && found.converged && far(found.left)) found = settleBroughtBack(found.transform);
  const covariance = found.covariance.map((value, i) => value * (i % 3 < 2 ? side : 1) * (i < 6 ? side : 1));
  const uncertaintyPx = meanDisplacementError(covariance, baseline.width, baseline.height);
  const leastLikeness = Math.max(o.leastLikeness, o.noiseLikeness / Math.sqrt(found.count));
  const trusted = found.converged && uncertaintyPx <= o.trustedPx && found.likeness >= leastLikeness;
  return {
    transform: trusted ? inPixels(found.transform, side, before, baseline) : STILL,
    uncertaintyPx,
    covariance,
    trusted,
  };
}

/** A picture without what is marked. */
function leftOut(picture: Float32Array, marked: Uint8Array): Float32Array {
  const out = picture.slice();
  for (let i = 0; i < out.length; i++) if (marked[i] === 1) out[i] = Number.NaN;
  return out;
}

/** A movement of cells as one of pixels: cells may end short of the frame's border, which shifts the centre of
 *  turning. */
function inPixels(
  { dxPx, dyPx, angleRad }: RigidTransform,
  side: number,
  cells: { readonly width: number; readonly height: number },
  frame: Raster,
): RigidTransform {
  const x = (side * cells.width - frame.width) / 2;
  const y = (side * cells.height - frame.height) / 2;
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return {
    dxPx: side * dxPx + x - cos * x + sin * y,
    dyPx: side * dyPx + y - sin * x - cos * y,
    angleRad,
  };
}

/** Root mean square length of the displacement error over the frame, px; infinite where it can't be told. */
function meanDisplacementError(covariance: Float64Array, width: number, height: number): number {
  const armSquared = (width * width + height * height) / 12;
  const squared = covariance[0]! + covariance[4]! + covariance[8]! * armSquared;
  return Number.isFinite(squared) ? Math.sqrt(squared) : Number.POSITIVE_INFINITY;
}
