// sources: heat under a face that mirrors → the evidence for it in the board around that face alone.
import { CandidatePool } from "./candidate-pool.js";
import { SHAPE_SHARES } from "./mirror-shapes.js";
import type { FitParts } from "./mirrored-places.js";
import { ProjectedFit } from "./projected-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** A pixel that shows less than this share of what the face mirrors tells of the board: stray light reaches some 14 px around a face, the
 *  hill of a heating shield not much further. */
const LEAST_SHARE = 0.01;

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
  for (const [shape, { at, values }] of model.mirrorColumns(mirror).entries()) {
    const most = Math.min(1, SHAPE_SHARES[shape] ?? 1);
    at!.forEach((pixel, k) => {
      if (most * Math.abs(values[k]!) > LEAST_SHARE) beside[pixel] = Number.NaN;
    });
  }
  const pool = new CandidatePool(model, new ProjectedFit(rise, beside, nuisance), state);
  return (pool.fitSet([...others, candidate]).gain - pool.fitSet(others).gain) / scale;
}
