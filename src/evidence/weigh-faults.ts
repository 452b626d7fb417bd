// evidence: attempts, changes and what nets read → the probability of every part to be, and still to be, at fault.
import { sameName } from "../readings/classify-readings.js";
import type { NetVerdict } from "../readings/net-verdicts.js";
import { type Priors, UNNAMED } from "./attempt-likelihood.js";
import type { EvidenceFigures } from "./evidence-defaults.js";
import { type BoardChange, type FaultMode, faultModes, type JobPart, unnamedModes } from "./fault-modes.js";
import { jobLikelihood } from "./job-likelihood.js";
import type { SeenAttempt } from "./seen-attempt.js";
import { type AttemptWeight, temperAttempts } from "./temper-attempts.js";

/** What a job holds, ready to be weighed. */
export interface JobEvidence {
  readonly parts: readonly JobPart[];
  readonly attempts: readonly SeenAttempt[];
  readonly changes: readonly BoardChange[];
  readonly nets: readonly NetVerdict[];
}

/** What came of it. */
export interface WeighedFaults {
  /** By part: that it is or was at fault, and that it still is. */
  readonly chances: ReadonlyMap<string, { readonly faulty: number; readonly still: number }>;
  readonly unexplained: number;
  /** That there are or were two faults or more, and three. */
  readonly secondFault: number;
  readonly thirdFault: number;
  /** That nothing is at fault any more. */
  readonly mended: number;
  readonly weights: readonly AttemptWeight[];
}

/** Two and three faults are weighed among so many parts: those that an attempt names, and those that stand out
 *  alone. */
const MOST_JOINED = 12;
/** An attempt names a part from this chance on. */
const NAMED = 0.2;

/** Weigh every part as the fault, every two and three of those that stand out as faults side by side or one after the
 *  other, a place that no region names, and no heat at all, by Bayes' rule: prior × likelihood of all attempts and
 *  readings, summed over the ways in which a fault can show (`faultModes`; of three faults none is driven by another
 *  part's). Attempts and readings that share errors count for less than their number (`temperAttempts`).
 *  The order in which nets were read does not matter; before or after a change does.
 */
export function weighFaults(job: JobEvidence, o: EvidenceFigures): WeighedFaults {
  const { parts, attempts, changes } = job;
  const weights = temperAttempts(attempts, o);
  const priors = partPriors(parts, o);
  const allNets = [...new Set(parts.flatMap(({ nets }) => nets))];
  const nets = o.useReadings ? job.nets.filter(({ net }) => allNets.includes(sameName(net))) : [];
  const { readNets, of } = jobLikelihood(attempts, weights, nets, changes, priors, o);
  const heated = new Set(attempts.flatMap(({ heat }) => heat.flatMap(({ named }) => [...named.keys()])));
  const single = 1 - o.secondPrior - o.thirdPrior;
  const chances = new Map<string, { faulty: number; still: number }>();
  let total = 0;
  let mended = 0;
  const alone = parts.map((part): Candidate => {
    const modes = faultModes(part, parts, readNets, heated, changes, o);
    let all = 0;
    let still = 0;
    for (const mode of modes) {
      const value = mode.share * of([mode]);
      all += value;
      if (isStill(mode)) still += value;
    }
    const prior = priors.get(part.key)!;
    chances.set(part.key, { faulty: single * prior * all, still: single * prior * still });
    total += single * prior * all;
    mended += single * prior * (all - still);
    return { key: part.key, prior, all, modes };
  });

  let several = 0;
  let three = 0;
  const named = alone.reduce((sum, { prior }) => sum + prior, 0);
  const joined = standOut(alone, attempts);
  /** @param prior of all ordered sets of so many parts. */
  const weighSet = (
    members: readonly Candidate[],
    prior: number,
    modesOf: (one: Candidate) => FaultMode[],
  ) => {
    // Of all ordered sets of named parts these are as many as they can be ordered in.
    const orders = members.length === 2 ? 2 : 6;
    const own = members.reduce((product, one) => (product * one.prior) / named, orders * prior * named);
    for (const modes of combine(members.map(modesOf))) {
      const value = modes.reduce((product, mode) => product * mode.share, own) * of(modes);
      members.forEach(({ key }, k) => {
        add(chances.get(key)!, value, isStill(modes[k]!));
      });
      several += value;
      if (members.length === 3) three += value;
      if (!modes.some(isStill)) mended += value;
    }
  };
  joined.forEach((a, i) => {
    joined.slice(i + 1).forEach((b, k) => {
      weighSet([a, b], o.secondPrior, ({ modes }) => modes);
      for (const c of joined.slice(i + k + 2)) weighSet([a, b, c], o.thirdPrior, ownModes);
    });
  });

  const restOf = (source: string | null) =>
    unnamedModes(source, allNets, readNets).reduce((sum, mode) => sum + mode.share * of([mode]), 0);
  const rest = o.unnamedPrior * restOf(UNNAMED) + o.coldPrior * restOf(null);
  total += several + rest;
  for (const chance of chances.values()) {
    chance.faulty = Math.min(1, chance.faulty / total);
    chance.still = Math.min(1, chance.still / total);
  }
  return {
    chances,
    unexplained: rest / total,
    secondFault: several / total,
    thirdFault: three / total,
    mended: Math.min(1, mended / total),
    weights,
  };
}

/** A part with the ways in which its fault can show. */
interface Candidate {
  readonly key: string;
  readonly prior: number;
  /** Likelihood of everything if it is the only fault. */
  readonly all: number;
  readonly modes: FaultMode[];
}

/** Parts that may be one of several faults: what an attempt names explains that attempt, however ill it explains the
 *  others. */
function standOut(alone: readonly Candidate[], attempts: readonly SeenAttempt[]): Candidate[] {
  const most = new Map<string, number>();
  for (const heat of attempts.flatMap((attempt) => attempt.heat)) {
    for (const [key, chance] of heat.named) most.set(key, Math.max(most.get(key) ?? 0, chance));
  }
  const chance = ({ key }: Candidate) => ((most.get(key) ?? 0) >= NAMED ? most.get(key)! : 0);
  return [...alone]
    .sort((a, b) => chance(b) - chance(a) || b.prior * b.all - a.prior * a.all)
    .slice(0, MOST_JOINED);
}

/** Without heat in other parts, whose share goes to the part's own. */
function ownModes({ modes }: Candidate): FaultMode[] {
  const own = modes.filter(({ driven }) => !driven);
  const share = own.reduce((sum, mode) => sum + mode.share, 0);
  return own.map((mode) => ({ ...mode, share: mode.share / share }));
}

/** Every choice of one of each list. */
function combine<T>(lists: readonly (readonly T[])[]): T[][] {
  return lists.reduce<T[][]>((sets, list) => sets.flatMap((set) => list.map((one) => [...set, one])), [[]]);
}

/** The fault may be any named part alike, those that are warm anyway less often; the rest is for what no region
 *  names. */
function partPriors(parts: readonly JobPart[], o: EvidenceFigures): Priors {
  const weightOf = ({ normallyWarm }: JobPart) => (normallyWarm ? o.warmPrior : 1);
  const sum = parts.reduce((all, part) => all + weightOf(part), 0);
  const named = 1 - o.unnamedPrior - o.coldPrior;
  const priors = new Map(parts.map((part) => [part.key, (named * weightOf(part)) / sum]));
  return priors.set(UNNAMED, o.unnamedPrior);
}

function isStill({ curedFrom }: FaultMode): boolean {
  return curedFrom === Number.POSITIVE_INFINITY;
}

function add(chance: { faulty: number; still: number }, value: number, still: boolean): void {
  chance.faulty += value;
  if (still) chance.still += value;
}
