// sources: sources found and what they leave → pixels that changed as no heat of the board could, left out of what
// follows.
import type { SetFit } from "./candidate-pool.js";
import { gradientSize } from "./central-difference.js";
import { coolFaces } from "./cool-faces.js";
import { heatOfSet } from "./heat-of-set.js";
import { type FitParts, mirroredPlaces } from "./mirrored-places.js";
import { sizesOf } from "./picture.js";
import { sharpDips } from "./sharp-dips.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { unexplainedPixels } from "./unexplained-pixels.js";

/** Find the pixels that must not bend the fit: what no source explains, faces that stayed cool on a warm board, and
 *  faces whose mirrored room was taken for heat from below. None of them is on the face of a part that the map names.
 *  @param taken what was fitted: `variance` with the model's error, `noise` without, both K² with NaN = left out.
 *  @param set sources found. @param answer their fit.
 *  @param places faces that no map names.
 *  @returns 1 = to be left out, over all pixels.
 */
export function strangePixels(
  model: SourceModel,
  taken: FitParts & { readonly residual: Float32Array; readonly noise: Float32Array },
  set: readonly Candidate[],
  answer: SetFit,
  places: readonly Candidate[],
): Uint8Array {
  const { rise, residual, variance, noise, state } = taken;
  const heating = set.filter((candidate) => candidate.kind === "heat" && candidate.region < 0);
  const onFaces = model.onFaces(heating);
  const unexplained = unexplainedPixels(residual, variance, onFaces, model.pictures);
  const heat = heatOfSet(model, state, set, answer);
  const cool = coolFaces(rise, heat, noise, onFaces, model.pictures);
  const mirrored = mirroredPlaces(model, taken, set, answer, places);
  const strange = either(unexplained, cool, mirrored);
  const apart = either(strange, onFaces);
  const dips = sharpDips(
    residual,
    noise,
    heat,
    gradientSize(heat, sizesOf(model.pictures)),
    apart,
    model.pictures,
  );
  return either(strange, dips);
}

/** What is marked in any of some masks. */
function either(...masks: readonly Uint8Array[]): Uint8Array {
  const out = new Uint8Array(masks[0]!.length);
  for (const mask of masks) for (let i = 0; i < out.length; i++) if (mask[i] === 1) out[i] = 1;
  return out;
}
