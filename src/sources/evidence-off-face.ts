// sources: heat under a face that mirrors → the evidence for it in the board around that face alone.
import { CandidatePool } from "./candidate-pool.js";
import type { FitParts } from "./mirrored-places.js";
import { ProjectedFit } from "./projected-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Weigh a part whose face is taken for a mirror with the face left out: whatever the mirror's smooth shapes leave of a picture
 *  of the room, it is no heat.
 *  @param others the rest of the set.
 *  @returns χ² lost without it, ÷ the residual scale; infinite where the set holds no mirror in its place.
 */
export function evidenceOffFace(
  model: SourceModel,
  { rise, variance, nuisance, state, scale }: FitParts,
  candidate: Candidate,
  others: readonly Candidate[],
): number {
  const mirror = others.find(({ kind, footprint }) => kind === "mirror" && footprint === candidate.footprint);
  if (mirror === undefined) return Number.POSITIVE_INFINITY;
  const beside = Float32Array.from(variance);
  for (const { at, values } of model.mirrorColumns(mirror)) {
    at!.forEach((pixel, k) => {
      if (values[k] !== 0) beside[pixel] = Number.NaN;
    });
  }
  const pool = new CandidatePool(model, new ProjectedFit(rise, beside, nuisance), state);
  return (pool.fitSet([...others, candidate]).gain - pool.fitSet(others).gain) / scale;
}
