// align: what the map draws and the baseline → the drawing, where the baseline has it.
import { radians } from "../core/units.js";
import { warpRaster } from "../numeric/warp.js";
import { wideGaussian } from "../numeric/wide-gaussian.js";
import type { ComparedPictures } from "./compared-pictures.js";
import { edgeSamples, findEdges } from "./edge-samples.js";
import type { RefineOptions } from "./normal-equations.js";
import { refineAlignment } from "./refine-alignment.js";
import { affineOf, backOf } from "./rigid-transform.js";

/** Gaussian width of the neighbourhood over which an edge's contrast is taken as one, px: wider than an edge. Half or
 *  twice changes the error of 50 pairs by 1 %. */
const CONTRAST_SIGMA_PX = 8;
/** Where nothing is drawn no contrast can be told: the drawing's mean square counts beside by this share. It takes
 *  effect where the mean square around a place is a fiftieth of that of all: from 2.8 widths off an edge on, exp(−2.8²
 *  ÷ 2), where a drawing has nothing to be laid. Half or twice makes the median error of 50 pairs 0.018 or 0.017 px, of
 *  0.017. */
const DRAWN_SHARE = 0.02;
/** Edges used at most: what is placed has hundreds of px of them. */
const MOST_SAMPLES = 2000;

/** Lay what the map draws onto the baseline's own edges, by a shift and a turn.
 *  Fiducials are clicked to some tenths of a pixel. Where the board warms, the powered frame's edges are mostly the
 *  warmth's, and a drawing that lies beside the baseline would pull the powered frame there.
 *  The drawing's edges are looked for in whatever contrast the baseline has around each of them, of either sign.
 *  @param drawn emissivity, 0…1 per cell, width×height, 0 off the board; not modified.
 *  @param pictures of the baseline, band-passed, width×height; not modified: `template`, K, NaN = left out, and `even`,
 *  what the drawing shows there. Where `even` is null no board is known, and the drawing stays.
 *  @param side of a cell, px. @param options lengths in cells; `priorShiftPx` and `priorAngleRad` say how far it may
 *  lie off.
 *  @returns the drawing moved, width×height; the same object where the fit does not settle. Beyond what was drawn
 *  nothing is known, and what stood there stays.
 */
export function placeShape(
  drawn: Float32Array,
  { template, even }: Pick<ComparedPictures, "template" | "even">,
  width: number,
  height: number,
  side: number,
  options: RefineOptions,
): Float32Array {
  if (even === null) return drawn;
  const shape = inContrastOf(template, even, width, height, CONTRAST_SIGMA_PX / side);
  const samples = edgeSamples(findEdges(shape, width, height), [shape], width, MOST_SAMPLES);
  const still = { dxPx: 0, dyPx: 0, angleRad: radians(0) };
  const { transform, converged } = refineAlignment(samples, template, width, height, still, options);
  if (!converged) return drawn;
  const size = { width, height };
  const moved = warpRaster(drawn, width, height, affineOf(backOf(transform), size), { order: "linear" });
  for (let i = 0; i < moved.length; i++) if (!(moved[i]! * 0 === 0)) moved[i] = drawn[i]!;
  return moved;
}

/** The drawing in the contrast that a picture has around each place of it. */
function inContrastOf(
  picture: Float32Array,
  drawing: Float32Array,
  width: number,
  height: number,
  sigma: number,
): Float32Array {
  const product = new Float32Array(drawing.length);
  const square = new Float32Array(drawing.length);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < drawing.length; i++) {
    const both = drawing[i]! * picture[i]!;
    if (!(both * 0 === 0)) continue;
    product[i] = both;
    square[i] = drawing[i]! * drawing[i]!;
    sum += square[i]!;
    count++;
  }
  const least = 1e-12 + (DRAWN_SHARE * sum) / Math.max(1, count);
  const above = wideGaussian(product, width, height, sigma);
  const below = wideGaussian(square, width, height, sigma);
  for (let i = 0; i < above.length; i++) above[i] = (drawing[i]! * above[i]!) / (below[i]! + least);
  return above;
}
