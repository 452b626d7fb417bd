// report: an analysis → a picture of plain pixels: the baseline in grey, the rise in colour where it is significant.
import type { Raster } from "../core/raster.js";
import type { Analysis } from "../findings/analysis.js";
import { placeSigma } from "../findings/place-sigma.js";
import { sampleBilinear } from "../numeric/sample-bilinear.js";
import { select } from "../numeric/select-rank.js";
import { greyColour, type Rgb, riseColour } from "./colour-scale.js";
import { leastColoured } from "./least-coloured.js";

/** A painted picture and the numbers that its colours stand for. */
export interface PaintedRise {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue per pixel, row-major. */
  readonly rgb: Uint8Array;
  /** Temperatures of the darkest and the lightest grey, °C; null if the baseline has no reading at all. */
  readonly greyC: { readonly low: number; readonly high: number } | null;
  /** Rises of the first and the last colour, K; null if nothing is significant. */
  readonly riseK: { readonly low: number; readonly high: number } | null;
  /** True if some pixel had no reading; such pixels are white. */
  readonly hasNoReading: boolean;
}

const NO_READING: Rgb = [255, 255, 255];
/** Line round what is significant, so that a faint amber is not lost on grey for an eye without colour. */
const CONTOUR: Rgb = [84, 46, 20];
/** Share of the baseline's pixels left out at either end of the greys, so that one hot pixel does not darken the
 *  rest. */
const GREY_TAIL = 0.01;

/** Paint the rise over the baseline at the size asked for; values are interpolated, then coloured, never the reverse.
 *  A pixel is coloured where its significance reaches that of a place that counts, so that whatever is listed is in
 *  colour, and also where the rise itself reaches the threshold, three times the root mean square of the frame's falls,
 *  and 4 % of the peak: a board that is warm as a whole stands out nowhere, and is warm all the same. Falls are not
 *  drawn.
 *  @param width,height size of the picture, px; the frame is stretched over it, pixel centres at half pixels.
 */
export function paintRise(analysis: Analysis, width: number, height: number): PaintedRise {
  const { baseline, smoothRise, significance, findings } = analysis;
  const greyC = greyRange(baseline);
  const leastSigma = placeSigma(findings, smoothRise.data.length);
  const leastRiseK = Math.max(findings.threshold.riseK, leastColoured(smoothRise.data).leastK);
  const valueAt = ({ data }: Raster, x: number, y: number): number =>
    sampleBilinear(data, baseline.width, baseline.height, x, y);
  const significant = new Uint8Array(width * height);
  const shownRise = new Float32Array(width * height);
  const rgb = new Uint8Array(width * height * 3);
  let highK = Number.NEGATIVE_INFINITY;
  let lowK = Number.POSITIVE_INFINITY;
  let hasNoReading = false;
  for (let y = 0, i = 0; y < height; y++) {
    const frameY = ((y + 0.5) * baseline.height) / height - 0.5;
    for (let x = 0; x < width; x++, i++) {
      const frameX = ((x + 0.5) * baseline.width) / width - 0.5;
      const warmC = valueAt(baseline, frameX, frameY);
      if (Number.isNaN(warmC) || greyC === null) {
        hasNoReading = true;
        setPixel(rgb, i, NO_READING);
      } else {
        setPixel(rgb, i, greyColour((warmC - greyC.low) / (greyC.high - greyC.low || 1)));
      }
      const riseK = valueAt(smoothRise, frameX, frameY);
      if (riseK >= leastRiseK || (riseK > 0 && valueAt(significance, frameX, frameY) >= leastSigma)) {
        significant[i] = 1;
        shownRise[i] = riseK;
        if (riseK > highK) highK = riseK;
        if (riseK < lowK) lowK = riseK;
      }
    }
  }
  // A single value everywhere would be a scale without extent: it starts at 0 then.
  const riseK = highK > 0 ? { low: lowK < highK ? lowK : 0, high: highK } : null;
  if (riseK !== null) paintSignificant(rgb, significant, shownRise, width, height, riseK);
  return { width, height, rgb, greyC, riseK, hasNoReading };
}

function paintSignificant(
  rgb: Uint8Array,
  significant: Uint8Array,
  shownRise: Float32Array,
  width: number,
  height: number,
  riseK: { low: number; high: number },
): void {
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (significant[i] === 0) continue;
      const inside =
        (x === 0 || significant[i - 1] === 1) &&
        (x === width - 1 || significant[i + 1] === 1) &&
        (y === 0 || significant[i - width] === 1) &&
        (y === height - 1 || significant[i + width] === 1);
      setPixel(rgb, i, inside ? riseColour((shownRise[i]! - riseK.low) / (riseK.high - riseK.low)) : CONTOUR);
    }
  }
}

function greyRange(baseline: Raster<"degC">): { low: number; high: number } | null {
  const readings = Float64Array.from(baseline.data.filter((value) => Number.isFinite(value)));
  const { length } = readings;
  if (length === 0) return null;
  const tail = Math.floor(length * GREY_TAIL);
  return { low: select(readings, length, tail), high: select(readings, length, length - 1 - tail) };
}

function setPixel(rgb: Uint8Array, index: number, colour: Rgb): void {
  rgb[index * 3] = colour[0];
  rgb[index * 3 + 1] = colour[1];
  rgb[index * 3 + 2] = colour[2];
}
