// align: baseline and powered frame, and the sensor's part in them → how the content moved, how surely, and whether to rely on it.
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { radians } from "../core/units.js";
import { whiteNoiseGain } from "../numeric/gaussian-filter.js";
import { sharedKernels } from "../numeric/kernels.js";
import { robustSigma } from "../numeric/median.js";
import { warpRaster } from "../numeric/warp.js";
import { bandPass } from "./band-pass.js";
import { type CellPicture, cellPicture } from "./cell-picture.js";
import { coarseShift } from "./coarse-shift.js";
import { type EdgeSamples, type Edges, edgeSamples, findEdges } from "./edge-samples.js";
import type { LinePattern } from "./line-pattern.js";
import { refineAlignment } from "./refine-alignment.js";
import { affineOf, type RigidTransform } from "./rigid-transform.js";
import { evenWarmth, ownWarmth } from "./warm-shapes.js";

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
  /** How far a nudge may carry what is left out as no guide, px. */
  nudgeReachPx: 4,
  /** Largest shift searched, as a share of the frame's longer side: far beyond a nudge, and the search costs its square. */
  maxShiftShare: 0.1,
  /** Edge pixels used for the first, rough steps, and for the last ones: neighbours hold the same noise. */
  fewSamples: 1500,
  mostSamples: 9000,
  /** In the last steps the surroundings of a pixel say how noisy it is; where they are quiet, it may be quieter than the
   *  frame by this factor. */
  quietShare: 0.3,
  /** Pictures this much alike are aligned; else other starts than standing still are tried as well. */
  sureLikeness: 0.85,
  /** A board nudged by hand moves a few pixels and turns by a fraction of a degree. */
  priorShiftPx: 10,
  priorAngleRad: 0.03,
  /** Above this uncertainty (root mean square over the frame) the alignment is not relied on, px. */
  trustedPx: 0.5,
  /** Pictures less alike than this over their edges share no scene: noise alone gives up to 0.16, boards 0.6 and more. */
  leastLikeness: 0.35,
  /** … nor those less alike than so much ÷ √(edge pixels): the fewer there are, the better some place makes two pictures of noise
   *  alike. Of 300 pairs of noise the most was 10.5, of 98 pairs of boards the least 30. */
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
 *  @param sensor offsets of its columns and rows, and the spread of its pattern and noise, K: the pattern would hold the
 *  answer at zero.
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
  const coarseSigma = o.coarseSigmaPx / side;
  const template = bandPass(before.data, width, height, fineSigma, coarseSigma);
  const moving = bandPass(after.data, width, height, fineSigma, coarseSigma);
  const edges = without(findEdges(template, width, height), beside, side, width, baseline.width);
  const seen = warmShape === null ? null : cellPicture({ ...baseline, data: warmShape }, side).data;
  const even = seen === null ? null : evenWarmth(before, seen, fineSigma, coarseSigma);
  const shapesAt = (powered: Float32Array): Float32Array[] =>
    even === null
      ? [template]
      : [template, even, ownWarmth(even, before, powered, seen!, edges.flat, coarseSigma)];
  const shapes = shapesAt(after.data);
  // Noise and pattern of pixels, averaged over a cell.
  const noiseK = Math.max(1e-6, (Math.SQRT2 * sensor.patternSigmaK * whiteNoiseGain(fineSigma)) / side);
  const patternK2 = sharedPattern(before, after, edges.flat);
  const onBoard = (shape: Float32Array): Float32Array =>
    shape.map((v, i) =>
      beside?.[side * (Math.floor(i / width) * baseline.width + (i % width))] === 1 ? Number.NaN : v,
    );
  const few = edgeSamples(edges, shapes, width, o.fewSamples);
  const refine = (samples: EdgeSamples, start: RigidTransform, last: boolean) =>
    refineAlignment(samples, moving, width, height, start, {
      noiseK: last ? o.quietShare * noiseK : noiseK,
      patternK2,
      fineSigmaPx: fineSigma,
      misfitPx: (last ? [0.1, 0.05] : [1.5, 1, 0.7, 0.5, 0.3, 0.2]).map((px) => px / side),
      distrustSurroundings: last,
      maxIterations: last ? 30 : 10,
      settledPx: (last ? 0.002 : 0.02) / side,
      priorShiftPx: o.priorShiftPx / side,
      priorAngleRad: o.priorAngleRad,
    });
  let best = refine(few, STILL, false);
  if (!(best.likeness >= o.sureLikeness)) {
    const coarse = coarseShift(beside === null ? shapes : shapes.map(onBoard), moving, width, height, {
      cellPx: Math.max(2, Math.round(Math.max(width, height) / 96)),
      maxShiftPx: o.maxShiftShare * Math.max(width, height),
      scaleK: Math.max(2 * noiseK, 0.5 * robustSigma(template)),
    });
    const other = refine(few, { dxPx: coarse.dxPx, dyPx: coarse.dyPx, angleRad: radians(0) }, false);
    if (other.likeness > best.likeness) best = other;
  }
  // How the board warmed shows better once the pictures lie on each other; without a board there is nothing to see of it.
  const back =
    even === null
      ? after.data
      : warpRaster(after.data, width, height, affineOf(best.transform, before), { order: "linear" });
  const all = edgeSamples(edges, shapesAt(back), width, o.mostSamples);
  const found = refine(all, best.transform, true);
  const covariance = found.covariance.map((value, i) => value * (i % 3 < 2 ? side : 1) * (i < 6 ? side : 1));
  const uncertaintyPx = meanDisplacementError(covariance, baseline.width, baseline.height);
  const leastLikeness = Math.max(o.leastLikeness, o.noiseLikeness / Math.sqrt(all.count));
  const trusted = found.converged && uncertaintyPx <= o.trustedPx && found.likeness >= leastLikeness;
  return {
    transform: trusted ? inPixels(found.transform, side, before, baseline) : STILL,
    uncertaintyPx,
    covariance,
    trusted,
  };
}

/** Edges without those beside the board: a board that is nudged leaves what it lies on where it was. */
function without(
  edges: Edges,
  beside: Uint8Array | null,
  side: number,
  width: number,
  frameWidth: number,
): Edges {
  if (beside === null) return edges;
  const places = edges.places.filter(
    (i) => beside[side * (Math.floor(i / width) * frameWidth + (i % width))] !== 1,
  );
  return { ...edges, places };
}

/** A movement of cells as one of pixels: cells may end short of the frame's border, which shifts the centre of turning. */
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

/** Variance of the pattern both pictures share, K², from what pixels clear of edges differ by from the four beside
 *  them; ≥ 0.
 */
function sharedPattern(a: CellPicture, b: CellPicture, flat: Uint8Array): number {
  const { sum, count } = sharedDetail(a, b, flat);
  // White noise of variance 1 has 1 + 4/16 in such differences.
  return count === 0 ? 0 : Math.max(0, sum / count / 1.25);
}

function sharedDetail(a: CellPicture, b: CellPicture, flat: Uint8Array): { sum: number; count: number } {
  const { width, height } = a;
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [one, other, marked] = [kernels.put(a.data), kernels.put(b.data), kernels.put(flat)];
    const at = kernels.take(8);
    const count = kernels.run.sharedDetail(one, other, width, height, marked, at);
    return { sum: kernels.doubles(at, 1)[0]!, count };
  }
  let sum = 0;
  let count = 0;
  for (let y = 1; y < height - 1; y += 2) {
    for (let i = y * width + 1; i < (y + 1) * width - 1; i++) {
      if (flat[i] === 0) continue;
      const u = a.data[i]! - (a.data[i - 1]! + a.data[i + 1]! + a.data[i - width]! + a.data[i + width]!) / 4;
      const v = b.data[i]! - (b.data[i - 1]! + b.data[i + 1]! + b.data[i - width]! + b.data[i + width]!) / 4;
      const product = u * v;
      if (!(product * 0 === 0)) continue;
      sum += product;
      count++;
    }
  }
  return { sum, count };
}

/** Root mean square length of the displacement error over the frame, px; infinite where it can't be told. */
function meanDisplacementError(covariance: Float64Array, width: number, height: number): number {
  const armSquared = (width * width + height * height) / 12;
  const squared = covariance[0]! + covariance[4]! + covariance[8]! * armSquared;
  return Number.isFinite(squared) ? Math.sqrt(squared) : Number.POSITIVE_INFINITY;
}
