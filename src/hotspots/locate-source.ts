// hotspots: rise around a peak → sub-pixel place of its source with uncertainty, and its width.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { type FramePoint, framePoint } from "../core/units.js";
import { type Kernels, sharedKernels } from "../numeric/kernels.js";

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
  const momentsAt = momentsAround(rise, peak, o);
  for (let step = 0; step < o.iterations; step++) {
    const m = momentsAt(x, y, window);
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

/** Sums over the window: weight, both first moments, the second, and how noise enters the first. */
type Sums = readonly [number, number, number, number, number];

/** Pixels around a place, both ends of both axes included. */
interface Square {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** What measures a spot's moments, at a place and under a window that stray from a peak as far as they may. */
function momentsAround(
  rise: Raster<"K">,
  peak: FramePoint,
  o: ResolvedOptions<typeof LOCATE_DEFAULTS>,
): (cx: number, cy: number, window: number) => Moments | null {
  const kernels = sharedKernels();
  const sums = kernels === null ? plainSums(rise) : sumsByKernel(kernels, rise, peak, o);
  return (cx, cy, window) => {
    const [weight, sx, sy, second, gain] = sums(cx, cy, window);
    if (!(weight > 0) || !(second > 0)) return null;
    return {
      weight,
      meanX: sx / weight,
      meanY: sy / weight,
      secondMoment: second / weight / 2,
      scoreGain: Math.sqrt(gain / 2),
    };
  };
}

/** Pixels under the window. */
function windowAt({ width, height }: Raster<"K">, cx: number, cy: number, window: number): Square {
  const reach = Math.ceil(RIM.outer * window);
  return {
    x0: Math.max(0, Math.round(cx) - reach),
    x1: Math.min(width - 1, Math.round(cx) + reach),
    y0: Math.max(0, Math.round(cy) - reach),
    y1: Math.min(height - 1, Math.round(cy) + reach),
  };
}

/** Pixels inside a circle are among these. */
function squareAround({ width, height }: Raster<"K">, cx: number, cy: number, radius: number): Square {
  return {
    x0: Math.max(0, Math.ceil(cx - radius)),
    x1: Math.min(width - 1, Math.floor(cx + radius)),
    y0: Math.max(0, Math.ceil(cy - radius)),
    y1: Math.min(height - 1, Math.floor(cy + radius)),
  };
}

function plainSums(rise: Raster<"K">): (cx: number, cy: number, window: number) => Sums {
  const { width, data } = rise;
  return (cx, cy, window) => {
    const { x0, x1, y0, y1 } = windowAt(rise, cx, cy, window);
    const background = rimLevel(rise, cx, cy, window);
    const scale = -0.5 / (window * window);
    let [weight, sx, sy, second, gain] = [0, 0, 0, 0, 0];
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
    return [weight, sx, sy, second, gain];
  };
}

/** Mean rise in the window's rim, K; 0 where that holds no reading. */
function rimLevel(rise: Raster<"K">, cx: number, cy: number, window: number): number {
  const { width, data } = rise;
  const [inner, outer] = [RIM.inner * window, RIM.outer * window];
  const { x0, x1, y0, y1 } = squareAround(rise, cx, cy, outer);
  let sum = 0;
  let count = 0;
  for (let y = y0; y <= y1; y++) {
    for (let x = x0; x <= x1; x++) {
      const dx = x - cx;
      const dy = y - cy;
      // Squared, for engines differ in how they round a distance.
      const r2 = dx * dx + dy * dy;
      const v = data[y * width + x]!;
      if (r2 < inner * inner || r2 > outer * outer || !(v * 0 === 0)) continue;
      sum += v;
      count++;
    }
  }
  return count === 0 ? 0 : sum / count;
}

/** The same by the compiled kernels, to the last bit. They are given the rows that can be reached. */
function sumsByKernel(
  kernels: Kernels,
  rise: Raster<"K">,
  peak: FramePoint,
  o: ResolvedOptions<typeof LOCATE_DEFAULTS>,
): (cx: number, cy: number, window: number) => Sums {
  const { width, height, data } = rise;
  const stray = Math.max(o.leastStrayPx, o.maxStrayPx);
  const reach = Math.ceil(stray + RIM.outer * Math.max(o.startWindowPx, o.maxWindowPx)) + 1;
  const top = Math.max(0, Math.floor(peak[1]) - reach);
  const bottom = Math.min(height, Math.ceil(peak[1]) + reach + 1);
  const from = kernels.put(data.subarray(top * width, bottom * width));
  const out = kernels.take(8 * 5);
  const { run } = kernels;
  return (cx, cy, window) => {
    const [inner, outer] = [RIM.inner * window, RIM.outer * window];
    const ring = squareAround(rise, cx, cy, outer);
    const rowAt = (y: number): number => from + 4 * width * (y - top);
    const background = run.ringLevel(
      rowAt(ring.y0),
      width,
      ring.x0,
      ring.x1,
      ring.y0,
      ring.y1,
      cx,
      cy,
      inner * inner,
      outer * outer,
    );
    const { x0, x1, y0, y1 } = windowAt(rise, cx, cy, window);
    const scale = -0.5 / (window * window);
    run.spotMoments(rowAt(y0), width, x0, x1, y0, y1, cx, cy, background, scale, out);
    return kernels.doubles(out, 5) as unknown as Sums;
  };
}
