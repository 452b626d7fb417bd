// align: what the camera sees of the board and both frames → the shapes a warmed board adds to its picture.
import { wideGaussian } from "../numeric/wide-gaussian.js";
import { bandPass } from "./band-pass.js";
import type { CellPicture } from "./cell-picture.js";

/** Width over which the board's warming is averaged ÷ that of the coarsest detail: wider, so that edges don't get into
 *  it. */
const FIELD_PER_COARSE = 1.33;
/** Finishes below this emissivity show the room rather than the board. */
const LEAST_EMISSIVITY = 0.5;

/** Shapes of a board that warmed evenly, by 1 K, and of one that warmed as this one did, where it is flat.
 *  A part of low emissivity on a warmed board stands out from it otherwise than on a cold one: edges that were not there
 *  appear, and others change their sign.
 *  @param emissivity 0…1 per cell, 0 off the board; not modified.
 *  @param flat 1 = clear of edges: there a board that moved shows the same.
 *  @returns band-passed; NaN where the baseline is left out.
 */
export function warmShapes(
  before: CellPicture,
  after: CellPicture,
  emissivity: Float32Array,
  flat: Uint8Array,
  fineSigma: number,
  coarseSigma: number,
): Float32Array[] {
  const { width, height } = before;
  const shape = new Float32Array(emissivity.length);
  const warming = new Float32Array(emissivity.length);
  const weights = new Float32Array(emissivity.length);
  for (let i = 0; i < shape.length; i++) {
    const e = emissivity[i]!;
    const level = before.data[i]!;
    shape[i] = level * 0 === 0 ? e : Number.NaN;
    const change = after.data[i]! - level;
    if (!(e > LEAST_EMISSIVITY) || flat[i] === 0 || !(change * 0 === 0)) continue;
    warming[i] = change / e;
    weights[i] = e * e;
  }
  const even = bandPass(shape, width, height, fineSigma, coarseSigma);
  const field = wideGaussian(warming, width, height, FIELD_PER_COARSE * coarseSigma, weights);
  for (let i = 0; i < field.length; i++) field[i] = (field[i]! * 0 === 0 ? field[i]! : 0) * even[i]!;
  return [even, field];
}
