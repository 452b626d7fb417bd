// sources: the parts in view that don't heat → by how much the board around them shows more than noise does.
import { median, SIGMA_PER_MAD } from "../numeric/median.js";
import type { HeatJudge } from "./heat-log-odds.js";
import type { Candidate } from "./source-model.js";
import { aroundFace } from "./weigh-face.js";

/** Noise is as the fit has it until so many parts say otherwise: it is taken to be known to a factor of 1.4 either way,
 *  which is how well the median of as many tells a spread (1.17 ÷ √8: 37 % efficient; Rousseeuw and Croux 1993, from
 *  memory). */
const PRIOR_PARTS = 8;

/** Compare what the board around all other parts in view shows with its error. Most parts don't heat, and yet the board
 *  around each shows watts: joints and pads that no map draws, room mirrored in the mask, copper. What is found around
 *  one that may heat errs as much. Method: spread of the null from the many cases in which it is true (Efron 2004, J.
 *  Am. Stat. Assoc. 99, 96–104; from memory).
 *  @param set what was found: parts that heat in it are not asked.
 *  @returns factor on the standard deviation, at least 1.
 */
export function aroundError({ model, pool, scale }: HeatJudge, set: readonly Candidate[]): number {
  const heating = new Set(set.filter(({ kind }) => kind === "heat").map(({ footprint }) => footprint));
  const sizes = model.candidates.flatMap((candidate): number[] => {
    if (candidate.body === null || candidate.normallyWarm || heating.has(candidate.footprint)) return [];
    const others = set.filter(({ footprint }) => footprint !== candidate.footprint);
    const around = aroundFace(pool, candidate, others, scale);
    const sigmas = around === null ? Number.NaN : Math.abs(around.powerW) / around.sigmaW;
    // One that is held at its bound, or that no pixel tells of, has no error to be held against.
    return Number.isFinite(sigmas) ? [sigmas] : [];
  });
  if (sizes.length === 0) return 1;
  const spread = SIGMA_PER_MAD * median(Float32Array.from(sizes));
  const n = sizes.length;
  return Math.max(1, Math.sqrt((PRIOR_PARTS + n * spread ** 2) / (PRIOR_PARTS + n)));
}
