// hotspots: rise around a peak → sub-pixel place of its source with uncertainty, and its width.
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { type FramePoint, framePoint } from "../core/units.js";

/** Defaults of `locateSource`. */
export const LOCATE_DEFAULTS = Object.freeze({
  /** Window to begin with, px: the spot of a small part under usual optics. */
  startWindowPx: 2,
  /** Narrowest and widest Gaussian window, px: below the optics' blur there is only noise, above it a second source. */
  minWindowPx: 1.2,
  maxWindowPx: 6,
  /** Steps; window and centre settle within a few. */
  iterations: 20,
  /** A centre this far from the brightest pixel belongs to something else: the pixel is kept, as unsure as this, px. */
  maxStrayPx: 3,
  strayedSigmaPx: 2,
  /** … but not nearer than this: the brightest pixel itself is off by noise, px. */
  leastStrayPx: 1.5,
});

/** The window's rim, where the background is taken, in units of its width: of a spot as wide as the window a tenth of
 *  the peak is left at the inner end, a hundredth at the outer one. */
const RIM = Object.freeze({ inner: 2.2, outer: 3 });

/** Place and width of a spot. */
export interface LocatedSource {
  readonly at: FramePoint;
  /** Standard deviation of the place along each axis from pixel noise alone, px. */
  readonly sigmaPx: number;
  /** Gaussian width of the spot, px; null where it has no shape to measure. */
  readonly widthPx: number | null;
}

/** Find the centre of a spot by a Gaussian-windowed centroid over its local background.
 *  The window takes on the spot's own width, which makes the estimate nearly as good as a fit of the right model
 *  without assuming one. The background is the level at the window's rim.
 *  Method: iterated windowed centroid (Stone 1989, Astron. J. 97:1227, from memory); the bound it is held against
 *  is Condon 1997, doi 10.1086/133871 (DOI from memory).
 *  @param rise K, NaN = no reading; not modified.
 *  @param peak brightest pixel.
 *  @param noiseK white noise of one pixel, K.
 */
export function locateSource(
  rise: Raster<"K">,
  peak: FramePoint,
  noiseK: number,
  options: OptionsOf<typeof LOCATE_DEFAULTS> = {},
): LocatedSource {
  const o = { ...LOCATE_DEFAULTS, ...options };
  let window = o.startWindowPx;
  let x = peak[0];
  let y = peak[1];
  let widthPx: number | null = null;
  let sigmaPx = o.maxWindowPx;
  for (let step = 0; step < o.iterations; step++) {
    const m = windowedMoments(rise, x, y, window);
    if (m === null) break;
    const nx = x + 2 * m.meanX;
    const ny = y + 2 * m.meanY;
    // Leaving the peak's neighbourhood means that there is no spot to follow.
    if (Math.hypot(nx - peak[0], ny - peak[1]) > Math.max(o.leastStrayPx, Math.min(o.maxStrayPx, window))) {
      return { at: peak, sigmaPx: o.strayedSigmaPx, widthPx: null };
    }
    const moved = Math.hypot(nx - x, ny - y);
    x = nx;
    y = ny;
    // Under a window of its own width a Gaussian spot's second moment is half its own.
    const product = m.secondMoment;
    const own = 1 / (1 / product - 1 / (window * window));
    const next = own > 0 && Number.isFinite(own) ? Math.sqrt(own) : o.maxWindowPx;
    widthPx = next < o.maxWindowPx ? next : null;
    const clipped = Math.min(o.maxWindowPx, Math.max(o.minWindowPx, next));
    const changed = Math.abs(clipped - window);
    window = 0.5 * (window + clipped);
    sigmaPx = (2 * noiseK * m.scoreGain) / m.weight;
    if (moved < 1e-4 && changed < 1e-2) break;
  }
  return { at: framePoint(x, y), sigmaPx: Math.min(sigmaPx, o.maxWindowPx), widthPx };
}

interface Moments {
  readonly weight: number;
  readonly meanX: number;
  readonly meanY: number;
  readonly secondMoment: number;
  /** √Σ(w·dx)², averaged over the axes: how pixel noise enters the first moment. */
  readonly scoreGain: number;
}

function windowedMoments(rise: Raster<"K">, cx: number, cy: number, window: number): Moments | null {
  const { width, height, data } = rise;
  const reach = Math.ceil(RIM.outer * window);
  const x0 = Math.max(0, Math.round(cx) - reach);
  const x1 = Math.min(width - 1, Math.round(cx) + reach);
  const y0 = Math.max(0, Math.round(cy) - reach);
  const y1 = Math.min(height - 1, Math.round(cy) + reach);
  const background = rimLevel(rise, cx, cy, RIM.inner * window, RIM.outer * window);
  const scale = -0.5 / (window * window);
  let weight = 0;
  let sx = 0;
  let sy = 0;
  let second = 0;
  let gain = 0;
  for (let y = y0; y <= y1; y++) {
    for (let x = x0; x <= x1; x++) {
      const v = data[y * width + x]! - background;
      if (!(v * 0 === 0)) continue;
      const dx = x - cx;
      const dy = y - cy;
      const r2 = dx * dx + dy * dy;
      const w = Math.exp(scale * r2);
      weight += w * v;
      sx += w * v * dx;
      sy += w * v * dy;
      second += w * v * r2;
      gain += w * w * r2;
    }
  }
  if (!(weight > 0) || !(second > 0)) return null;
  return {
    weight,
    meanX: sx / weight,
    meanY: sy / weight,
    secondMoment: second / weight / 2,
    scoreGain: Math.sqrt(gain / 2),
  };
}

/** Mean rise in a ring, K; 0 where the ring holds no reading. */
function rimLevel(rise: Raster<"K">, cx: number, cy: number, inner: number, outer: number): number {
  const { width, height, data } = rise;
  let sum = 0;
  let count = 0;
  for (let y = Math.max(0, Math.ceil(cy - outer)); y <= Math.min(height - 1, cy + outer); y++) {
    for (let x = Math.max(0, Math.ceil(cx - outer)); x <= Math.min(width - 1, cx + outer); x++) {
      const r = Math.hypot(x - cx, y - cy);
      const v = data[y * width + x]!;
      if (r < inner || r > outer || !(v * 0 === 0)) continue;
      sum += v;
      count++;
    }
  }
  return count === 0 ? 0 : sum / count;
}
