// sources: a peak in the rise → the pixels that changed with it, as a face that might mirror the room.
import type { Raster } from "../core/raster.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import type { CoverageWindow } from "./coverage-window.js";

/** A face that no map names. */
export interface ChangedFace {
  readonly picture: number;
  readonly window: CoverageWindow;
  /** True if its change ends at its edge. Else it is a hill, and no mirror makes that. */
  readonly sharp: boolean;
}

/** A pixel changed with the peak if it reached this share of it. */
const CHANGED_SHARE = 0.3;
/** Smoothing before that is judged, px. */
const SMOOTH_SIGMA_PX = 0.8;
/** No face is wider than this, px each way from the peak. */
const REACH_PX = 30;

/** Grow a face from a peak over all neighbours that changed by a good share of it, above the level around.
 *  @param rise K, NaN = no reading; not modified.
 *  @param peakX, peakY the peak's pixel.
 *  @param levelK change of the surroundings, K.
 *  @param marginPx room around the face, px.
 */
export function patchFace(
  rise: Raster<"K">,
  peakX: number,
  peakY: number,
  levelK: number,
  marginPx: number,
): CoverageWindow {
  const { width, height } = rise;
  const left = Math.max(0, peakX - REACH_PX);
  const top = Math.max(0, peakY - REACH_PX);
  const w = Math.min(width, peakX + REACH_PX + 1) - left;
  const h = Math.min(height, peakY + REACH_PX + 1) - top;
  const cut = new Float32Array(w * h);
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) cut[y * w + x] = rise.data[(top + y) * width + left + x]!;
  }
  const smooth = gaussianFilter(cut, w, h, SMOOTH_SIGMA_PX);
  const start = (peakY - top) * w + (peakX - left);
  const least = levelK + CHANGED_SHARE * Math.max(0, smooth[start]! - levelK);
  const inside = new Uint8Array(w * h);
  inside[start] = 1;
  const open = [start];
  let x0 = peakX - left;
  let x1 = x0;
  let y0 = peakY - top;
  let y1 = y0;
  for (let i = open.pop(); i !== undefined; i = open.pop()) {
    const x = i % w;
    const y = Math.floor(i / w);
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
    for (const [u, v] of [
      [x - 1, y],
      [x + 1, y],
      [x, y - 1],
      [x, y + 1],
    ] as const) {
      if (u < 0 || v < 0 || u >= w || v >= h) continue;
      const k = v * w + u;
      if (inside[k] === 1 || !(smooth[k]! >= least)) continue;
      inside[k] = 1;
      open.push(k);
    }
  }
  const margin = Math.ceil(marginPx);
  const fromX = Math.max(0, left + x0 - margin);
  const fromY = Math.max(0, top + y0 - margin);
  const outWidth = Math.min(width, left + x1 + 1 + margin) - fromX;
  const outHeight = Math.min(height, top + y1 + 1 + margin) - fromY;
  const coverage = new Float32Array(outWidth * outHeight);
  for (let y = y0; y <= y1; y++) {
    for (let x = x0; x <= x1; x++) {
      if (inside[y * w + x] === 1) coverage[(top + y - fromY) * outWidth + left + x - fromX] = 1;
    }
  }
  return { x0: fromX, y0: fromY, width: outWidth, height: outHeight, coverage };
}
