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
  readonly secondFault: number;
  /** That nothing is at fault any more. */
  readonly mended: number;
  readonly weights: readonly AttemptWeight[];
}

/** Two faults are weighed among so many parts, those that stand out alone. */
const MOST_PAIRED = 12;

/** Weigh every part as the fault, every pair of those that stand out as two faults, a place that no region names, and no heat
 *  at all, by Bayes' rule: prior × likelihood of all attempts and readings, summed over the ways in which a fault can show
 *  (`faultModes`). Attempts and readings that share errors count for less than their number (`temperAttempts`).
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
  const single = 1 - o.secondPrior;
  const chances = new Map<string, { faulty: number; still: number }>();
  let total = 0;
  let mended = 0;
  const alone = parts.map((part) => {
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

  let second = 0;
  const named = alone.reduce((sum, { prior }) => sum + prior, 0);
  const paired = [...alone].sort((a, b) => b.prior * b.all - a.prior * a.all).slice(0, MOST_PAIRED);
  paired.forEach((a, i) => {
    for (const b of paired.slice(i + 1)) {
      // Of all ordered pairs of named parts these two are two.
      const prior = (2 * o.secondPrior * a.prior * b.prior) / named;
      for (const first of a.modes) {
        for (const other of b.modes) {
          const value = prior * first.share * other.share * of([first, other]);
          add(chances.get(a.key)!, value, isStill(first));
          add(chances.get(b.key)!, value, isStill(other));
          second += value;
          if (!isStill(first) && !isStill(other)) mended += value;
        }
      }
    }
  });

  const restOf = (source: string | null) =>
    unnamedModes(source, allNets, readNets).reduce((sum, mode) => sum + mode.share * of([mode]), 0);
  const rest = o.unnamedPrior * restOf(UNNAMED) + o.coldPrior * restOf(null);
  total += second + rest;
  for (const chance of chances.values()) {
    chance.faulty = Math.min(1, chance.faulty / total);
    chance.still = Math.min(1, chance.still / total);
  }
  return {
    chances,
    unexplained: rest / total,
    secondFault: second / total,
    mended: Math.min(1, mended / total),
    weights,
  };
}

/** The fault may be any named part alike, those that are warm anyway less often; the rest is for what no region names. */
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
