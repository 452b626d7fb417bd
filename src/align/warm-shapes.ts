// align: what the camera sees of the board and both frames → the shapes a warmed board adds to its picture.
import { SHINY_EMISSIVITY } from "../board/emissivity.js";
import { wideGaussian } from "../numeric/wide-gaussian.js";
import { bandPass } from "./band-pass.js";
import type { CellPicture } from "./cell-picture.js";

/** Width over which the board's warming is averaged ÷ that of the coarsest detail: wider, so that edges don't get into
 *  it. */
const FIELD_PER_COARSE = 1.33;

/** Shape of a board that warmed evenly, by 1 K.
 *  A part of low emissivity on a warmed board stands out from it otherwise than on a cold one: edges that were not
 *  there appear, and others change their sign.
 *  @param emissivity 0…1 per cell, 0 off the board; not modified.
 *  @returns band-passed; NaN where the baseline is left out.
 */
export function evenWarmth(
  before: CellPicture,
  emissivity: Float32Array,
  fineSigma: number,
  coarseSigma: number,
): Float32Array {
  const shape = new Float32Array(emissivity.length);
  for (let i = 0; i < shape.length; i++) shape[i] = before.data[i]! * 0 === 0 ? emissivity[i]! : Number.NaN;
  return bandPass(shape, before.width, before.height, fineSigma, coarseSigma);
}

/** Shape of a board that warmed as this one did where it is flat.
 *  @param even shape of the board that warmed evenly; not modified.
 *  @param after powered picture; the nearer it is brought to the baseline, the better.
 *  @param flat 1 = clear of edges: there a board that moved shows nearly the same.
 *  @returns band-passed; NaN where `even` is.
 */
export function ownWarmth(
  even: Float32Array,
  before: CellPicture,
  after: Float32Array,
  emissivity: Float32Array,
  flat: Uint8Array,
  coarseSigma: number,
): Float32Array {
  const warming = new Float32Array(emissivity.length);
  const weights = new Float32Array(emissivity.length);
  for (let i = 0; i < warming.length; i++) {
    const e = emissivity[i]!;
    const change = after[i]! - before.data[i]!;
    if (!(e > SHINY_EMISSIVITY) || flat[i] === 0 || !(change * 0 === 0)) continue;
    warming[i] = change / e;
    weights[i] = e * e;
  }
  const field = wideGaussian(warming, before.width, before.height, FIELD_PER_COARSE * coarseSigma, weights);
  for (let i = 0; i < field.length; i++) field[i] = (field[i]! * 0 === 0 ? field[i]! : 0) * even[i]!;
  return field;
}
