// sources: a set of sources and its fit → which of them stand against noise and against uneven copper.
import { CandidatePool, type SetFit } from "./candidate-pool.js";
import { evidenceByScatter } from "./evidence-by-scatter.js";
import { evidenceOffFace, facesOutline, withoutOutline } from "./evidence-off-face.js";
import type { FitParts } from "./mirrored-places.js";
import { holds } from "./open-candidates.js";
import type { OwnError } from "./own-error.js";
import { ownShare } from "./own-share.js";
import { sizesOf } from "./picture.js";
import { ProjectedFit } from "./projected-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { evidenceOnUneven } from "./uneven-copper.js";

/** What one of a set weighs. */
export interface SourceWeight {
  /** True if the evidence is enough. */
  readonly stands: boolean;
  /** The most its own rise amounts to as a share of what the others spread there. */
  readonly share: number;
  /** How much warmer than the board its body is, as a share of what the others spread there. */
  readonly bodyStep: number;
  /** χ² lost without it, ÷ the residual scale, beyond what uneven copper makes of the others' heat. */
  readonly evidence: number;
}

const FAILS: SourceWeight = Object.freeze({
  stands: false,
  share: 0,
  bodyStep: 0,
  evidence: 0,
});

/** Evidence of more than so many times what is wanted needs no second look … */
const PLENTY = 4;

/** … and of more than so many times is none of the outline's fade: of half a kelvin that brings up to 356 (record 436),
 *  and goes as the square of it. 40 times the least evidence of 25 takes 1.7 times as much fade: what the mask mirrors
 *  of a room 9 K warmer. */
const OUTLINE_PLENTY = 40;
/** Less of the evidence than this within the outline, which is a small part of the board: the outline makes it. */
const INSIDE_SHARE = 0.5;

/** A hill of no face is told from what the fit leaves beside it by 3 standard deviations at least (squared): the
 *  tail of one in 740. */
const LEAST_BY_SCATTER = 9;

/** Weigh each of a set, those that mirror or have no watts left aside.
 *  @param wanted evidence that a candidate must bring; of a hill of no face 3 standard deviations of what the fit
 *  leaves, too. Where none is wanted it stands.
 *  @param ownError where evidence is short, it is weighed again without the error of the candidate's own shape.
 */
export function weighSet(
  model: SourceModel,
  parts: FitParts,
  pool: CandidatePool,
  fit: ProjectedFit,
  set: readonly Candidate[],
  answer: SetFit,
  wanted: (candidate: Candidate) => number,
  ownError: OwnError,
): SourceWeight[] {
  const poolWith = (variance: Float32Array) =>
    new CandidatePool(model, new ProjectedFit(parts.rise, variance, parts.nuisance), parts.state);
  let inside: CandidatePool | null = null;
  const insideOf = (candidate: Candidate): CandidatePool => {
    if (facesOutline(model.pictures, candidate))
      return poolWith(withoutOutline(model.pictures, parts.variance, candidate.body));
    inside ??= poolWith(withoutOutline(model.pictures, parts.variance));
    return inside;
  };
  const insideGain = (candidate: Candidate, without: readonly Candidate[]): number => {
    const within = insideOf(candidate);
    return (within.fitSet(set).gain - within.fitSet(without).gain) / parts.scale;
  };
  return set.map((candidate, c) => {
    if (candidate.kind === "mirror" || !(answer.powersW[c]! > 0)) return FAILS;
    const least = wanted(candidate);
    const without = set.filter((other) => other !== candidate);
    const lost = (answer.gain - pool.fitSet(without).gain) / parts.scale;
    const offFace = evidenceOffFace(model, parts, candidate, without);
    const offOutline =
      offFace < Number.POSITIVE_INFINITY || lost >= OUTLINE_PLENTY * least
        ? offFace
        : insideGain(candidate, without);
    const shared = Math.min(lost, offFace, offOutline);
    // Evidence that the outline made is none, whatever the error of the part's own shape.
    const byOutline = offOutline < INSIDE_SHARE * lost;
    const short = shared < PLENTY * least && !byOutline && !holds(without, candidate);
    const own = short ? ownError.weigh(model, parts, candidate, without) : null;
    const apparent = Math.max(shared, own?.evidence ?? 0);
    const { share, othersK } = ownShare(fit, answer, set, c);
    if (apparent < least) return FAILS;
    const hidden = candidate.body === null && !candidate.normallyWarm;
    const scattered = () =>
      evidenceByScatter(fit, pool.fitSet(without), answer, parts.variance, sizesOf(model.pictures));
    if (least > 0 && hidden && scattered() < LEAST_BY_SCATTER) return FAILS;
    const onUneven = (made: FitParts) => evidenceOnUneven(model, made, set, answer, c);
    const evidence = Math.min(apparent, Math.max(onUneven(parts), own === null ? 0 : onUneven(own.parts)));
    const bodyK = answer.powersW[c]! * answer.bodyShares[c]! * candidate.maxBodyKPerW;
    return { stands: evidence >= least, share, bodyStep: bodyK / Math.max(othersK, 1e-6), evidence };
  });
}
