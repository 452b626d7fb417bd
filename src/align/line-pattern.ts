// align: frames of one sensor → the offsets of its columns and rows, which stay put when the board moves.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { gaussianFilter, gaussianKernel } from "../numeric/gaussian-filter.js";
import { robustSigma } from "../numeric/median.js";

/** Defaults of `linePattern`. */
export const LINE_PATTERN_DEFAULTS = Object.freeze({
  /** Offsets are told from the scene by changing from one line to the next: what is smoother than this is left, px. */
  smoothSigmaPx: 3,
  /** Width at which the scene's own edges are looked for, px. */
  edgeSigmaPx: 2,
  /** A pixel this many times steeper than the frame's usual slope across the lines belongs to an edge. */
  edgeFactor: 3,
  /** Lines with fewer pixels clear of edges than this, over all frames, are left alone. */
  minPixels: 12,
});

/** Offsets of columns and rows, K. */
export interface LinePattern {
  readonly columnsK: Float64Array;
  readonly rowsK: Float64Array;
}

/** Measure the offsets of the sensor's columns and rows.
 *  Each line's offset is the mean of its detail across the lines, over pixels clear of the scene's edges: an edge of
 *  the board that runs along a column must not be taken for that column's offset.
 *  @param frames °C, one shape, taken by one sensor; not modified.
 */
export function linePattern(
  frames: readonly Raster<"degC">[],
  options: OptionsOf<typeof LINE_PATTERN_DEFAULTS> = {},
): LinePattern {
  const o = { ...LINE_PATTERN_DEFAULTS, ...options };
  const { width, height } = frames[0]!;
  return {
    columnsK: offsets(frames, width, height, 1, width, o),
    rowsK: offsets(frames, height, width, width, 1, o),
  };
}

/** Offsets of `lines` lines; `across` is the stride from one line to the next, `along` that within a line. */
function offsets(
  frames: readonly Raster<"degC">[],
  lines: number,
  length: number,
  across: number,
  along: number,
  o: ResolvedOptions<typeof LINE_PATTERN_DEFAULTS>,
): Float64Array {
  const sums = new Float64Array(lines);
  const counts = new Float64Array(lines);
  const reach = Math.ceil(3 * o.smoothSigmaPx);
  const kernel = gaussianKernel(o.smoothSigmaPx, reach);
  for (const { data, width, height } of frames) {
    const smooth = gaussianFilter(data, width, height, o.edgeSigmaPx);
    const slope = new Float32Array(data.length).fill(Number.NaN);
    for (let line = 1; line < lines - 1; line++) {
      for (let k = 0; k < length; k++) {
        const i = line * across + k * along;
        slope[i] = smooth[i + across]! - smooth[i - across]!;
      }
    }
    const limit = o.edgeFactor * robustSigma(slope);
    for (let k = 0; k < length; k++) {
      for (let line = 0; line < lines; line++) {
        const i = line * across + k * along;
        let mean = 0;
        let weight = 0;
        let clear = true;
        for (let d = -reach; d <= reach; d++) {
          if (line + d < 0 || line + d >= lines) continue;
          const j = i + d * across;
          const v = data[j]!;
          if (Math.abs(slope[j]!) > limit) {
            clear = false;
            break;
          }
          if (!(v * 0 === 0)) continue;
          mean += kernel[d + reach]! * v;
          weight += kernel[d + reach]!;
        }
        const detail = data[i]! - mean / weight;
        if (!clear || !(detail * 0 === 0)) continue;
        sums[line]! += detail;
        counts[line]!++;
      }
    }
  }
  return sums.map((sum, line) => (counts[line]! >= o.minPixels ? sum / counts[line]! : 0));
}
