// sources: what changes in a difference picture without a part heating → columns of the fit with their priors.
import type { BoardMap } from "../board/board-schema.js";
import { emissivityOf } from "../board/emissivity.js";
import type { PlacedView } from "../board/place-view.js";
import { boundsOf } from "../board/polygon.js";
import type { Raster } from "../core/raster.js";
import { framePoint } from "../core/units.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { coverageOf } from "./heat-columns.js";

/** Defaults of `nuisanceColumns`. */
export const NUISANCE_DEFAULTS = Object.freeze({
  /** Level of the board against its surroundings: the room mirrored in the mask, and the offset's own error, K. */
  boardLevelK: 0.3,
  /** Smooth change over the board: a warm hand mirrored in the mask, drift that is not even, K. */
  smoothK: 0.15,
  /** Shortest wavelength of the smooth change, mm. */
  smoothWavelengthMm: 18,
  /** A shiny part mirrors whatever the room does, K. */
  mirrorK: 3,
  /** Finishes below this emissivity mirror more than they emit of small rises. */
  shinyEmissivity: 0.5,
  /** What the alignment may have left even where it claims none, px. */
  minShiftPx: 0.02,
});

/** A column of the fit that is no heat. */
export interface NuisanceColumn {
  readonly what: "level" | "smooth" | "shift" | "mirror";
  /** The shiny part, for `mirror`. */
  readonly ref: string | null;
  readonly values: Float32Array;
  /** Standard deviation of its coefficient before anything is seen. */
  readonly priorSigma: number;
}

/** Lay out the columns: the board's level, smooth change, what a shift or turn leaves at edges, mirrors.
 *  @param scene the baseline without the sensor's pattern, °C; not modified.
 *  @param shiftSigmaPx uncertainty of the alignment, px.
 *  @param modelK extra smooth change allowed for the plate model's own error, K.
 */
export function nuisanceColumns(
  board: BoardMap,
  view: PlacedView,
  scene: Raster<"degC">,
  onBoard: Uint8Array,
  opticsSigmaPx: number,
  shiftSigmaPx: number,
  modelK: number,
  options: Partial<typeof NUISANCE_DEFAULTS> = {},
): NuisanceColumn[] {
  const o = { ...NUISANCE_DEFAULTS, ...options };
  return [
    ...smoothColumns(board, view, scene, onBoard, modelK, o),
    ...shiftColumns(scene, Math.max(o.minShiftPx, shiftSigmaPx)),
    ...mirrorColumns(board, view, scene, opticsSigmaPx, o),
  ];
}

/** Products of cosines over the board's bounding box, level first. */
function smoothColumns(
  board: BoardMap,
  view: PlacedView,
  scene: Raster<"degC">,
  onBoard: Uint8Array,
  modelK: number,
  o: typeof NUISANCE_DEFAULTS,
): NuisanceColumn[] {
  const { minX, minY, maxX, maxY } = boundsOf(board.outline);
  const orderX = Math.floor((2 * (maxX - minX)) / o.smoothWavelengthMm);
  const orderY = Math.floor((2 * (maxY - minY)) / o.smoothWavelengthMm);
  const { width, height } = scene;
  const n = width * height;
  const u = new Float32Array(n);
  const v = new Float32Array(n);
  for (let i = 0; i < n; i++) {
    if (onBoard[i] === 0) continue;
    const mm = view.toBoard(framePoint(i % width, Math.floor(i / width)));
    u[i] = (mm[0] - minX) / (maxX - minX);
    v[i] = (mm[1] - minY) / (maxY - minY);
  }
  const columns: NuisanceColumn[] = [];
  for (let l = 0; l <= orderY; l++) {
    for (let k = 0; k <= orderX; k++) {
      // Short waves only along one axis at a time would leave a lattice: the ellipse keeps directions alike.
      if ((k / Math.max(1, orderX)) ** 2 + (l / Math.max(1, orderY)) ** 2 > 1.001) continue;
      const values = new Float32Array(n);
      for (let i = 0; i < n; i++) {
        if (onBoard[i] === 1) values[i] = Math.cos(Math.PI * k * u[i]!) * Math.cos(Math.PI * l * v[i]!);
      }
      const level = k === 0 && l === 0;
      const falling = 1 / Math.sqrt(1 + 0.25 * (k * k + l * l));
      columns.push({
        what: level ? "level" : "smooth",
        ref: null,
        values,
        priorSigma: Math.hypot(level ? o.boardLevelK : o.smoothK * falling, modelK * falling),
      });
    }
  }
  return columns;
}

/** The scene's derivatives along x, y and the turn, per pixel of displacement at the frame's root mean square arm. */
function shiftColumns(scene: Raster<"degC">, sigmaPx: number): NuisanceColumn[] {
  const { width, height, data } = scene;
  const smooth = gaussianFilter(data, width, height, 0.7);
  const gx = new Float32Array(data.length);
  const gy = new Float32Array(data.length);
  const turn = new Float32Array(data.length);
  const arm = Math.hypot(width, height) / Math.sqrt(12);
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      const dx = 0.5 * (smooth[i + 1]! - smooth[i - 1]!);
      const dy = 0.5 * (smooth[i + width]! - smooth[i - width]!);
      if (!(dx * 0 === 0) || !(dy * 0 === 0)) continue;
      gx[i] = dx;
      gy[i] = dy;
      turn[i] = (dy * (x - (width - 1) / 2) - dx * (y - (height - 1) / 2)) / arm;
    }
  }
  return [gx, gy, turn].map((values) => ({ what: "shift", ref: null, values, priorSigma: sigmaPx }));
}

/** For each shiny part in view: an even change over it and one that slopes along x and y. */
function mirrorColumns(
  board: BoardMap,
  view: PlacedView,
  scene: Raster<"degC">,
  opticsSigmaPx: number,
  o: typeof NUISANCE_DEFAULTS,
): NuisanceColumn[] {
  const out: NuisanceColumn[] = [];
  for (const region of board.regions) {
    if (region.side !== view.side || emissivityOf(region) >= o.shinyEmissivity) continue;
    const planes = planeColumns(view, region.polygon, scene.width, scene.height, opticsSigmaPx);
    for (const values of planes) {
      out.push({ what: "mirror", ref: region.ref, values, priorSigma: o.mirrorK });
    }
  }
  return out;
}

/** A polygon's blurred coverage, and the same sloping along x and along y from −1 to 1; none out of the picture. */
export function planeColumns(
  view: PlacedView,
  polygon: Parameters<typeof coverageOf>[1],
  width: number,
  height: number,
  opticsSigmaPx: number,
): Float32Array[] {
  const coverage = coverageOf(view, polygon, width, height);
  if (coverage === null) return [];
  let sum = 0;
  let sx = 0;
  let sy = 0;
  for (let i = 0; i < coverage.length; i++) {
    const c = coverage[i]!;
    if (c === 0) continue;
    sum += c;
    sx += c * (i % width);
    sy += c * Math.floor(i / width);
  }
  if (!(sum > 0)) return [];
  const half = Math.max(1, Math.sqrt(sum) / 2);
  const alongX = new Float32Array(coverage.length);
  const alongY = new Float32Array(coverage.length);
  for (let i = 0; i < coverage.length; i++) {
    const c = coverage[i]!;
    if (c === 0) continue;
    alongX[i] = (c * ((i % width) - sx / sum)) / half;
    alongY[i] = (c * (Math.floor(i / width) - sy / sum)) / half;
  }
  return [coverage, alongX, alongY].map((c) => gaussianFilter(c, width, height, opticsSigmaPx));
}
