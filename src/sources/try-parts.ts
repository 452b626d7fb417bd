// sources: what was found and every named part → what the fit would give each part beside it.
import type { CandidatePool, SetFit } from "./candidate-pool.js";
import { heatOfSet } from "./heat-of-set.js";
import type { FitParts } from "./mirrored-places.js";
import type { FittedSource } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { unevenPool } from "./uneven-copper.js";

/** What the fit gives a part that is taken in beside all else that was found, whether or not it is listed. */
export interface TriedPart {
  readonly powerW: number;
  /** Standard deviation of the watts that noise and the stated error of the model make. */
  readonly sigmaW: number;
  /** χ² that it takes off beyond what uneven copper makes of the other heat, ÷ the residual scale. */
  readonly evidence: number;
  /** What its face shows was taken for the room, mirrored: beside that mirror the evidence would be less. */
  readonly mirrored: boolean;
}

/** Less evidence than this is none, and what uneven copper makes of it need not be asked. */
const LEAST_ASKED = 8;

/** Try each candidate beside what was found. Attempts that are compared ask this of parts that only one of them lists.
 *  @param set what was found; where it holds the candidate, or a mirror in its place, that one is taken out first.
 *  @param answer the fit of the set. @param listed the sources that stand, whose evidence is known.
 */
export function tryParts(
  model: SourceModel,
  parts: FitParts,
  pool: CandidatePool,
  set: readonly Candidate[],
  answer: SetFit,
  listed: readonly FittedSource[],
): Map<Candidate, TriedPart> {
  const { scale } = parts;
  const known = new Map(listed.map(({ candidate, evidence }) => [candidate, evidence]));
  let uneven: CandidatePool | null = null;
  return new Map(
    model.candidates.map((candidate) => {
      const others = set.filter(({ region }) => region !== candidate.region);
      const { gain, powersW, variancesW2 } = pool.fitSet([...others, candidate]);
      let evidence = known.get(candidate);
      if (evidence === undefined) {
        const without = others.length === set.length ? answer.gain : pool.fitSet(others).gain;
        evidence = Math.max(0, gain - without) / scale;
      }
      if (evidence > LEAST_ASKED && listed.length > 0 && !known.has(candidate)) {
        uneven ??= unevenPool(model, parts, heatOfSet(model, parts.state, set, answer));
        const beyond = uneven.fitSet([...others, candidate]).gain - uneven.fitSet(others).gain;
        evidence = Math.min(evidence, Math.max(0, beyond) / scale);
      }
      const c = others.length;
      return [
        candidate,
        {
          powerW: powersW[c]!,
          sigmaW: Math.sqrt(Math.max(0, variancesW2[c]!) * scale),
          evidence,
          mirrored: set.some(({ region, kind }) => region === candidate.region && kind === "mirror"),
        },
      ];
    }),
  );
}
