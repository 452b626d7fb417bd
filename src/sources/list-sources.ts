// sources: a set found, weighed and fitted → each source with its watts, its chances and what else would do.
import type { ResolvedOptions } from "../core/options.js";
import { type AveragedPower, averagePowers, powerSigma, type StatePool } from "./average-powers.js";
import type { SetFit } from "./candidate-pool.js";
import type { FIT_DEFAULTS } from "./fit-defaults.js";
import type { LikeliestSource } from "./likeliest-source.js";
import type { FitParts } from "./mirrored-places.js";
import { isFault } from "./recast-candidate.js";
import type { RestPower } from "./rest-powers.js";
import type { FittedSource, PowerToTell } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import type { SourceWeight } from "./weigh-set.js";

/** What the list is made with. */
export interface ListedWith {
  /** One for every state of the plate. */
  readonly pools: readonly StatePool[];
  /** Watts of each of the set by the warmth of the whole board; null where that does not tell them. */
  readonly restPowers: readonly RestPower[] | null;
  /** … and on uneven copper; null where copper says nothing. */
  readonly powersToTell: readonly (PowerToTell | null)[] | null;
  /** What would explain, beside the others, what they leave. */
  readonly alternatives: (others: readonly Candidate[]) => FittedSource["alternatives"];
  /** Log odds that the change on one of the set is heat, beside the others. */
  readonly logOdds: (candidate: Candidate) => number;
  /** Watts that a candidate's hill would need to be as high as one that the board's finish may mirror there. */
  readonly mirroredHillW: (candidate: Candidate) => number;
  /** The one that was taken for heat for the power that was fed in; null if none was. */
  readonly byFeed: LikeliestSource | null;
  /** What a source must show to be listed. */
  readonly least: Pick<ResolvedOptions<typeof FIT_DEFAULTS>, "leastHeatOdds" | "leastChance" | "spreadError">;
}

/** List those of a set that stand and are heat rather than mirrors. */
export function listSources(
  model: SourceModel,
  { state, scale }: Pick<FitParts, "state" | "scale">,
  set: readonly Candidate[],
  answer: SetFit,
  weights: readonly SourceWeight[],
  by: ListedWith,
): FittedSource[] {
  const averaged = averagePowers(set, by.pools, scale, (one) => model.plate.powerError(one));
  return set.flatMap((candidate, c): FittedSource[] => {
    const { stands, share, bodyStep, evidence } = weights[c]!;
    if (!stands) return [];
    const others = set.filter((other) => other !== candidate);
    const logOdds = by.logOdds(candidate);
    const isByFeed = candidate === by.byFeed?.candidate;
    if (!isByFeed && logOdds < by.least.leastHeatOdds) return [];
    const isHeat = 1 / (1 + Math.exp(-logOdds));
    const heatChance = isHeat / (1 + (by.least.spreadError / share) ** 2);
    if (isFault(candidate) && !isByFeed && heatChance < by.least.leastChance) return [];
    const power = averaged[c] ?? { powerW: answer.powersW[c]!, logSigma: model.plate.powerError(state) };
    return [
      {
        candidate,
        powerW: power.powerW,
        powerSigmaW: powerSigma(power, answer.variancesW2[c]! * scale),
        powerLogSigma: power.logSigma,
        powerNoiseW: Math.sqrt(Math.max(0, answer.variancesW2[c]! * scale)),
        toTell:
          by.powersToTell?.[c] ?? powerAtRest(power, power.powerW / answer.powersW[c]!, by.restPowers?.[c]),
        bodyShare: answer.bodyShares[c]!,
        heatChance,
        mirrorChance: 1 - isHeat,
        ownShare: share,
        bodyStep,
        mirroredHill: by.mirroredHillW(candidate) / answer.powersW[c]!,
        evidence,
        byFeed: isByFeed ? by.byFeed!.chances : null,
        alternatives: by.alternatives(others),
      },
    ];
  });
}

/** @param factor by which all states of the plate together give other watts than the one at hand. */
function powerAtRest(
  { logSigma }: AveragedPower,
  factor: number,
  rest: RestPower | undefined,
): PowerToTell | null {
  if (rest === undefined || !(rest.powerW > 0)) return null;
  const powerNoiseW = factor * Math.sqrt(rest.varianceW2);
  return { powerW: factor * rest.powerW, powerLogSigma: logSigma, powerNoiseW };
}
