// clean: mean baseline and mean powered frame → the pixels whose reading is the sensor's fault.
import { ToolError } from "../core/errors.js";
import { type Raster, sameShape } from "../core/raster.js";
import { kernelsFor } from "../numeric/kernels.js";
import { labelComponents } from "../numeric/label-components.js";
import { addPixels, countMissing, scalePixels, subtractPixels } from "../numeric/pixel-arithmetic.js";
import { type LonePixels, lonePixels, lonePixelsAt } from "./find-lone-pixels.js";

/** Why a pixel is in the mask of `findBadPixels`. */
export const BAD_PIXEL = Object.freeze({
  good: 0,
  /** Far from its neighbours in the same direction in both roles: dead or hot. */
  spike: 1,
  /** Changed alone between the roles. */
  change: 2,
  /** Does not vary in a burst in which the others do. */
  stuck: 3,
  /** No reading, in a hole of one or two pixels; larger holes are not in the mask and stay holes. */
  hole: 4,
});

/** What `findBadPixels` goes by. */
export const BAD_PIXEL_DEFAULTS = Object.freeze({
  /** Robust sigma a spike must stand out from its neighbours in each role: the fixed pattern's own tail ends below. */
  spikeSigma: 8,
  /** Robust sigma a lone change must stand out: in the difference the fixed pattern is gone, but real differences pass
   *  6 sigma once in some frames. */
  changeSigma: 7,
  /** Smallest step between levels, K; one step alone is no defect. 0: unknown or fine. */
  stepK: 0,
  /** With fewer frames equal readings happen by chance. */
  leastFramesForStuck: 5,
  /** If more than this share of the pixels never varies, the levels are coarse and it means nothing. */
  mostStillShare: 1e-3,
  /** So many may be still in the smallest picture too. */
  mostStillAlways: 4,
  /** Bad pixels come alone or in pairs; what is larger is something in the picture. */
  largestGroup: 2,
});

/** Options of `findBadPixels`. */
export interface BadPixelOptions {
  /** Default 0. */
  readonly stepK?: number;
  /** Temporal noise of the averaged stacks with the number of frames in them; for stuck pixels. */
  readonly temporal?: readonly { readonly sigma: Raster<"K"> | null; readonly frameCount: number }[];
}

/** What `findBadPixels` finds. */
export interface BadPixels {
  /** One value of `BAD_PIXEL` a pixel. */
  readonly mask: Uint8Array;
  readonly counts: {
    readonly spike: number;
    readonly change: number;
    readonly stuck: number;
    readonly hole: number;
  };
}

/** Find dead, hot and stuck pixels, lone changes and small holes.
 *  Bad pixels belong to the sensor, so both frames are taken as they came, before any alignment. A picture made by
 *  optics has no single-pixel detail: a pixel is bad only if its side neighbours do not rise with it (see
 *  `findLonePixels`), so a heat source however small stays.
 *  @param baseline mean of the baseline frames, °C; not modified.
 *  @param powered mean of the powered frames, °C, same shape; null if there is only one role: spikes are then judged
 *  in that one alone.
 *  @throws ToolError E_FRAME_SIZE if shapes differ.
 */
export function findBadPixels(
  baseline: Raster<"degC">,
  powered: Raster<"degC"> | null,
  options: BadPixelOptions = {},
): BadPixels {
  const find = (): BadPixels => badPixelsOf(baseline, powered, options);
  const frames = powered === null ? [baseline.data] : [baseline.data, powered.data];
  const kernels = kernelsFor(baseline.data.length);
  // Each step reads the frames.
  return kernels === null ? find() : kernels.holding(frames, find);
}

/** What is wrong with some pixels, by their indices: a few in a frame. */
type Kinds = Map<number, number>;

function badPixelsOf(
  baseline: Raster<"degC">,
  powered: Raster<"degC"> | null,
  options: BadPixelOptions,
): BadPixels {
  const { spikeSigma } = BAD_PIXEL_DEFAULTS;
  const { stepK = BAD_PIXEL_DEFAULTS.stepK, temporal = [] } = options;
  const { width, height, data } = baseline;
  const kinds: Kinds = new Map();
  const inBaseline = lonePixels(data, width, height, spikeSigma, 2 * stepK);
  let inPowered = inBaseline;
  let inBoth: LonePixels = new Map();
  if (powered !== null) {
    checkShapes(baseline, powered);
    // What must stand out in both need not be looked for in the second where the first has none.
    if (inBaseline.size > 0) inPowered = lonePixels(powered.data, width, height, spikeSigma, 2 * stepK);
    const pair = loneInPair(data, powered.data, width, height, 2 * stepK);
    inBoth = pair.inBoth;
    for (const i of pair.changed.keys()) kinds.set(i, BAD_PIXEL.change);
  }
  for (const { sigma, frameCount } of temporal) {
    if (sigma !== null && frameCount >= BAD_PIXEL_DEFAULTS.leastFramesForStuck) {
      checkShapes(baseline, sigma);
      markStuck(sigma, baseline, powered, kinds);
    }
  }
  // A lone change of one role alone is in the mean as well, at half its height: it keeps its own name.
  for (const i of inBoth.keys()) if (!kinds.has(i)) kinds.set(i, BAD_PIXEL.spike);
  for (const [i, way] of inBaseline) if (inPowered.get(i) === way) kinds.set(i, BAD_PIXEL.spike);
  markHoles(baseline, powered, kinds);
  const mask = new Uint8Array(data.length);
  for (const [i, kind] of kinds) mask[i] = kind;
  return { mask, counts: countKinds(kinds) };
}

/** Lone pixels of the mean of both roles, and of their difference.
 *  What stays put while the scene moves shows better in the sum of the roles, where noise has averaged.
 */
function loneInPair(
  baseline: Float32Array,
  powered: Float32Array,
  width: number,
  height: number,
  leastK: number,
): { inBoth: LonePixels; changed: LonePixels } {
  const { spikeSigma, changeSigma } = BAD_PIXEL_DEFAULTS;
  const n = baseline.length;
  const kernels = kernelsFor(n);
  if (kernels === null) {
    const mean = scalePixels(addPixels(baseline, powered), 0.5);
    const difference = subtractPixels(powered, baseline);
    return {
      inBoth: lonePixels(mean, width, height, spikeSigma, leastK),
      changed: lonePixels(difference, width, height, changeSigma, leastK),
    };
  }
  const { run } = kernels;
  const [before, after, picture] = [kernels.put(baseline), kernels.put(powered), kernels.take(4 * n)];
  run.add(before, after, n, picture);
  run.linear(picture, n, 0.5, 0, picture);
  const inBoth = lonePixelsAt(kernels, picture, width, height, spikeSigma, leastK);
  run.subtract(after, before, n, picture);
  return { inBoth, changed: lonePixelsAt(kernels, picture, width, height, changeSigma, leastK) };
}

function checkShapes(baseline: Raster, other: Raster): void {
  if (sameShape(baseline, other)) return;
  throw new ToolError("E_FRAME_SIZE", {
    problem: `baseline is ${baseline.width}×${baseline.height} but powered is ${other.width}×${other.height}`,
    fix: "Export both at the same resolution",
  });
}

/** A pixel at either end of its frame's range may be saturated, which is not stuck. */
function markStuck(
  sigma: Raster<"K">,
  baseline: Raster<"degC">,
  powered: Raster<"degC"> | null,
  kinds: Kinds,
): void {
  const still = new Uint8Array(sigma.data.length);
  let count = 0;
  for (let i = 0; i < still.length; i++) {
    if (sigma.data[i] === 0) {
      still[i] = 1;
      count++;
    }
  }
  const { mostStillAlways, mostStillShare } = BAD_PIXEL_DEFAULTS;
  if (count === 0 || count > Math.max(mostStillAlways, mostStillShare * still.length)) return;
  for (const frame of powered === null ? [baseline] : [baseline, powered]) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const value of frame.data) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
    for (let i = 0; i < still.length; i++) if (frame.data[i] === low || frame.data[i] === high) still[i] = 0;
  }
  markSmallGroups(still, baseline.width, baseline.height, kinds, BAD_PIXEL.stuck);
}

function markHoles(baseline: Raster<"degC">, powered: Raster<"degC"> | null, kinds: Kinds): void {
  if (countMissing(baseline.data) === 0 && (powered === null || countMissing(powered.data) === 0)) return;
  const hole = new Uint8Array(baseline.data.length);
  for (let i = 0; i < hole.length; i++) {
    if (Number.isNaN(baseline.data[i]!) || (powered !== null && Number.isNaN(powered.data[i]!))) hole[i] = 1;
  }
  markSmallGroups(hole, baseline.width, baseline.height, kinds, BAD_PIXEL.hole);
}

function markSmallGroups(
  pixels: Uint8Array,
  width: number,
  height: number,
  kinds: Kinds,
  kind: number,
): void {
  if (!pixels.includes(1)) return;
  const { labels, count } = labelComponents(pixels, width, height, 8);
  const sizes = new Int32Array(count + 1);
  for (const label of labels) sizes[label] = sizes[label]! + 1;
  for (let i = 0; i < labels.length; i++) {
    const label = labels[i]!;
    if (label !== 0 && sizes[label]! <= BAD_PIXEL_DEFAULTS.largestGroup) kinds.set(i, kind);
  }
}

function countKinds(kinds: Kinds): BadPixels["counts"] {
  const counts = new Int32Array(5);
  for (const kind of kinds.values()) counts[kind]!++;
  return {
    spike: counts[BAD_PIXEL.spike]!,
    change: counts[BAD_PIXEL.change]!,
    stuck: counts[BAD_PIXEL.stuck]!,
    hole: counts[BAD_PIXEL.hole]!,
  };
}
