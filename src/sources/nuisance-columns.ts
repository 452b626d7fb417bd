// sources: what changes in a difference picture without a part heating → columns of the fit with their priors.

import type { BoardMap } from "../board/board-schema.js";
import { boundsOf, type Polygon } from "../board/polygon.js";
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { framePoint } from "../core/units.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { peakOf } from "../numeric/pixel-errors.js";
import type { BoardInFrame } from "./board-in-frame.js";
import { centralDifference } from "./central-difference.js";
import { boardColumn, type Column, pictureColumn } from "./column.js";
import type { Picture } from "./picture.js";
import { shiftSteps } from "./shift-steps.js";

/** Defaults of `nuisanceColumns`. */
export const NUISANCE_DEFAULTS = Object.freeze({
  /** Level of the board against its surroundings: the room mirrored in the mask, and the offset's own error, K. Wide:
   *  where it was looked at the level was true to 0.03 to 0.05 K (record 312). */
  boardLevelK: 0.5,
  /** The mask blurs what it mirrors: nothing in it is narrower than this, radius to 1/e in widths of the picture. Hands
   *  and heads are about twice as wide there as mirrors show them. */
  blurWidths: 0.14,
  /** Change of any wavelength that no room makes, K: a camera's pattern that has grown, air that moves. At 0.01 K 51 of
   *  60 changed reflections were right for 52, and 4 of 60 unpowered boards showed heat for 2 (record 241). */
  restK: 0.04,
  /** Shortest wavelength of either, mm. */
  smoothWavelengthMm: 18,
  /** What the alignment may have left even where it claims none, px. */
  minShiftPx: 0.02,
});

/** What smooth change is laid out by. */
type SmoothOptions = Omit<ResolvedOptions<typeof NUISANCE_DEFAULTS>, "minShiftPx"> & {
  /** Smooth change over the board: a warm hand mirrored in the mask, drift that is not even, K. */
  readonly smoothK: number;
};

/** A column of the fit that is no heat. */
export interface NuisanceColumn {
  readonly what: "level" | "smooth" | "shift" | "mirror" | "view" | "uneven" | "optics" | "finish" | "body";
  readonly column: Column;
  /** Standard deviation of its coefficient before anything is seen. */
  readonly priorSigma: number;
}

/** Lay out the columns of one picture: the board's level, smooth change, what a shift or turn leaves at edges.
 *  @param picture with its baseline.
 *  @param size pixels of all pictures.
 *  @param shiftSigmaPx uncertainty of the alignment, px.
 *  @param modelK extra smooth change allowed for the plate model's own error, K.
 */
export function nuisanceColumns(
  board: BoardMap,
  picture: Picture,
  size: number,
  shiftSigmaPx: number,
  modelK: number,
  options: OptionsOf<typeof NUISANCE_DEFAULTS> & Pick<SmoothOptions, "smoothK">,
): NuisanceColumn[] {
  const o = { ...NUISANCE_DEFAULTS, ...options };
  return [
    ...smoothColumns(board.outline, picture, size, modelK, o),
    ...shiftColumns(picture, size, Math.max(o.minShiftPx, shiftSigmaPx)),
  ];
}

/** Products of cosines over the board's bounding box, level first. */
function smoothColumns(
  outline: Polygon,
  picture: Picture,
  size: number,
  modelK: number,
  o: SmoothOptions,
): NuisanceColumn[] {
  const alone = picture.seen.width * picture.seen.height === size;
  return smoothWaves(outline, picture, modelK, o).map(({ what, values, priorSigma }) => ({
    what,
    column: boardColumn(picture.at, values, alone),
    priorSigma,
  }));
}

/** A wave over the board in one picture. */
interface SmoothWave {
  readonly what: "level" | "smooth";
  /** One for each of the picture's pixels on the board. */
  readonly values: Float32Array;
  readonly priorSigma: number;
}

/** Make the waves as numbers alone: what `uneven-copper.ts` multiplies with heat.
 *  @param modelK extra change allowed for the plate model's own error, K.
 *  @returns level first.
 */
export function smoothWaves(
  outline: Polygon,
  { view, seen }: Picture,
  modelK: number,
  o: SmoothOptions,
): SmoothWave[] {
  const widthMm = pictureWidthMm(view, seen.width);
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  return wavesOver(outline, view, seen, o.smoothWavelengthMm).map(({ k, l, values }) => {
    const level = k === 0 && l === 0;
    const falling = 1 / Math.sqrt(1 + 0.25 * (k * k + l * l));
    const cycles = widthMm * Math.hypot(k / (2 * (maxX - minX)), l / (2 * (maxY - minY)));
    const mirroredK = o.smoothK * falling * blurred(cycles, o.blurWidths);
    return {
      what: level ? "level" : "smooth",
      values,
      priorSigma: Math.hypot(level ? o.boardLevelK : mirroredK, o.restK * falling, modelK * falling),
    };
  });
}

/** Share of a wave that is left of it where what is mirrored is blurred by a Gaussian.
 *  @param cycles of the wave over the picture's width. @param radius to 1/e, in widths of the picture.
 */
function blurred(cycles: number, radius: number): number {
  return Math.exp(-(Math.PI * radius * cycles * (Math.PI * radius * cycles)));
}

/** How much of the board the picture is wide, mm. */
function pictureWidthMm(view: Picture["view"], width: number): number {
  const [left, right] = [view.toBoard(framePoint(0, 0)), view.toBoard(framePoint(width, 0))];
  return Math.hypot(right[0] - left[0], right[1] - left[1]);
}

/** A product of cosines of orders k and l. */
interface Wave {
  readonly k: number;
  readonly l: number;
  /** At the picture's pixels on the board. */
  readonly values: Float32Array;
}

/** Waves last made over a view, and of what: both passes of a fit want the same, and so does each weighing beside
 *  strong heat. */
interface KnownWaves {
  readonly outline: Polygon;
  readonly pixels: Int32Array;
  readonly waves: readonly Wave[];
}

/** By the view, and by the wavelength in it. */
const lastWaves = new WeakMap<Picture["view"], Map<number, KnownWaves>>();

function wavesOver(
  outline: Polygon,
  view: Picture["view"],
  { pixels, placesMm }: Pick<BoardInFrame, "pixels" | "placesMm">,
  wavelengthMm: number,
): readonly Wave[] {
  const ofView = lastWaves.get(view) ?? new Map<number, KnownWaves>();
  const known = ofView.get(wavelengthMm);
  if (known?.outline === outline && known.pixels === pixels) return known.waves;
  const waves = makeWaves(outline, placesMm, wavelengthMm);
  lastWaves.set(view, ofView.set(wavelengthMm, { outline, pixels, waves }));
  return waves;
}

function makeWaves(outline: Polygon, placesMm: Float64Array, wavelengthMm: number): Wave[] {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const orderX = Math.floor((2 * (maxX - minX)) / wavelengthMm);
  const orderY = Math.floor((2 * (maxY - minY)) / wavelengthMm);
  const u = new Float32Array(placesMm.length / 2);
  const v = new Float32Array(u.length);
  for (let k = 0; k < u.length; k++) {
    u[k] = (placesMm[2 * k]! - minX) / (maxX - minX);
    v[k] = (placesMm[2 * k + 1]! - minY) / (maxY - minY);
  }
  const alongX = cosines(u, orderX);
  const alongY = cosines(v, orderY);
  const waves: Wave[] = [];
  for (let l = 0; l <= orderY; l++) {
    for (let k = 0; k <= orderX; k++) {
      // Short waves only along one axis at a time would leave a lattice: the ellipse keeps directions alike.
      if ((k / Math.max(1, orderX)) ** 2 + (l / Math.max(1, orderY)) ** 2 > 1.001) continue;
      waves.push({ k, l, values: productOf(alongX[k]!, alongY[l]!) });
    }
  }
  return waves;
}

/** Multiply number by number. */
export function productOf(a: Float32Array, b: Float32Array): Float32Array {
  const out = new Float32Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! * b[i]!;
  return out;
}

/** cos(π·k·u) for k = 0 … order at every pixel, by the recurrence of Chebyshev's polynomials. */
function cosines(u: Float32Array, order: number): Float32Array[] {
  const waves: Float32Array[] = [new Float32Array(u.length).fill(1)];
  if (order > 0) {
    const once = new Float32Array(u.length);
    for (let i = 0; i < once.length; i++) once[i] = Math.cos(Math.PI * u[i]!);
    waves.push(once);
  }
  for (let k = 2; k <= order; k++) waves.push(nextWave(waves[1]!, waves[k - 1]!, waves[k - 2]!));
  return waves;
}

function nextWave(once: Float32Array, before: Float32Array, twice: Float32Array): Float32Array {
  const out = new Float32Array(once.length);
  for (let i = 0; i < out.length; i++) out[i] = 2 * once[i]! * before[i]! - twice[i]!;
  return out;
}

/** What a map laid a little beside the picture leaves of heat already found: its derivatives along x and y.
 *  @param heat modelled rise, K per pixel of all pictures; not modified.
 *  @param sigmaPx how far the map may lie off, px.
 *  @returns no column where there is no heat.
 */
export function misplacedHeat(
  heat: Float32Array,
  picture: Picture,
  size: number,
  sigmaPx: number,
): NuisanceColumn[] {
  const { width, height } = picture.seen;
  const own = heat.subarray(picture.offset, picture.offset + width * height);
  const peak = peakOf(own);
  if (!(peak > 0)) return [];
  return (["x", "y"] as const).map((along) => {
    const values = centralDifference(own, width, height, along);
    return { what: "view", column: pictureColumn(values, picture.offset, size), priorSigma: sigmaPx };
  });
}

/** Smoothing of the scene before its derivatives are taken, px: noise of single pixels is no edge. A judgement. */
const SCENE_SIGMA_PX = 0.7;

/** The scene's derivatives along x, y and the turn, per pixel of displacement at the frame's root mean square arm. */
function shiftColumns(picture: Picture, size: number, sigmaPx: number): NuisanceColumn[] {
  const { scene, seen, offset } = picture;
  if (scene === null) return [];
  const { width, height } = seen;
  const smooth = gaussianFilter(scene, width, height, SCENE_SIGMA_PX);
  return shiftSteps(smooth, width, height).map((values) => ({
    what: "shift",
    column: pictureColumn(values, offset, size),
    priorSigma: sigmaPx,
  }));
}
