// sources: heat under a mirror, or that shows no face → the evidence for it beside the mirrors and within the outline.

import { peakOf } from "../numeric/pixel-errors.js";
import { CandidatePool } from "./candidate-pool.js";
import type { Column } from "./column.js";
import type { FitParts } from "./mirrored-places.js";
import type { Picture } from "./picture.js";
import { ProjectedFit } from "./projected-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { withoutMirrors } from "./without-mirrors.js";

/** A pixel that is board but for less than this shows no outline: from 2.6 px within it on, by the optics' tail. Of a
 *  kelvin that ends at the outline 5 mK are missing there, a tenth of the noise of a pixel; one pixel farther out it
 *  would be eight times as much. */
export const LEAST_HIDDEN = 0.005;

/** A pixel that sees at least this share of the most that any sees of a face shows the face. */
const ON_FACE = 0.5;

/** Leave out what the outline's fade reaches. What drifts does not end at the outline, what the finish mirrors of the
 *  room does, and heat does: as smooth change is fitted without an end, a hill would be made of the fade of what is
 *  mirrored.
 *  @param variance K² per pixel of all pictures; not modified.
 *  @param face what a part shows by itself, which stays: what fades there is what the mask mirrors, tenths of a kelvin,
 *  and no step.
 *  @returns the same with NaN there.
 */
export function withoutOutline(
  pictures: readonly Picture[],
  variance: Float32Array,
  face: Column | null = null,
): Float32Array {
  const inside = Float32Array.from(variance);
  for (const { seen, offset } of pictures) {
    for (const pixel of seen.pixels) {
      if (seen.covered[pixel]! < 1 - LEAST_HIDDEN) inside[offset + pixel] = Number.NaN;
    }
  }
  if (face !== null) for (const pixel of facePixels(face)) inside[pixel] = variance[pixel]!;
  return inside;
}

/** True if the outline's fade reaches some of a part's own face. */
export function facesOutline(pictures: readonly Picture[], { body }: Candidate): boolean {
  if (body === null) return false;
  const face = facePixels(body);
  return pictures.some(({ seen, offset }) =>
    face.some((pixel) => seen.covered[pixel - offset]! < 1 - LEAST_HIDDEN),
  );
}

function facePixels({ at, values }: Column): number[] {
  const least = ON_FACE * peakOf(values);
  return [...values.keys()].filter((k) => values[k]! >= least).map((k) => at?.[k] ?? k);
}

/** Weigh a part that does not show itself with the faces left out that may show the room in its place: whatever a
 *  mirror's smooth shapes leave of a picture of the room, it is no heat. A part in view has its own face alone against
 *  it; of one that shows none a hill tells, which what is left on any mirror bends. The outline is left out with the
 *  mirrors, and of a part that shows no face always.
 *  @param others the rest of the set.
 *  @returns χ² lost without it, ÷ the residual scale; infinite for a part in view where the set holds no such mirror.
 */
export function evidenceOffFace(
  model: SourceModel,
  { rise, variance, nuisance, state, scale }: FitParts,
  candidate: Candidate,
  others: readonly Candidate[],
): number {
  const mirrors = others.filter(
    ({ kind, footprint }) =>
      kind === "mirror" && (footprint === candidate.footprint || candidate.body === null),
  );
  if (mirrors.length === 0 && candidate.body !== null) return Number.POSITIVE_INFINITY;
  const beside = withoutMirrors(model, withoutOutline(model.pictures, variance), mirrors);
  const pool = new CandidatePool(model, new ProjectedFit(rise, beside, nuisance), state);
  return (pool.fitSet([...others, candidate]).gain - pool.fitSet(others).gain) / scale;
}
