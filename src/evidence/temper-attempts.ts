// evidence: attempts → how much each counts, since those that are alike share their errors.
import type { EvidenceFigures } from "./evidence-defaults.js";
import type { SeenAttempt } from "./seen-attempt.js";

/** How much of an attempt counts. */
export interface AttemptWeight {
  /** Of where it says heat is. */
  readonly place: number;
  /** Of whether there is heat: errors of that are shared by attempts in one state of the board alone. */
  readonly presence: number;
}

/** Weigh each attempt by 1 ÷ the sum of the shares of error that it has in common with all, itself among them. So n
 *  attempts that are alike count as n/(1 + (n − 1)·r) of them, which grows to 1/r and no further, and one that stands
 *  alone counts in full. Errors that are shared show as the same answer: attempts that place heat elsewhere share none.
 *  Method: the variance of a mean of n equally correlated values (Kish's design effect, Survey Sampling 1965, from
 *  memory), as an exponent of the likelihood.
 */
export function temperAttempts(attempts: readonly SeenAttempt[], o: EvidenceFigures): AttemptWeight[] {
  return attempts.map((own) => {
    let place = 0;
    let presence = 0;
    for (const other of attempts) {
      if (!other.placed || other.board !== own.board) continue;
      const share = other === own ? 1 : sharedErrors(own, other, o);
      place += other === own ? 1 : share * sameAnswer(own, other);
      if (other.state === own.state && other.heat.length > 0 === own.heat.length > 0) presence += share;
    }
    return { place: own.placed ? 1 / place : 0, presence: own.placed ? 1 / presence : 0 };
  });
}

function sharedErrors(a: SeenAttempt, b: SeenAttempt, o: EvidenceFigures): number {
  if (a.viewKey === b.viewKey) return o.sameViewShare;
  const common = a.sides.filter((side) => b.sides.includes(side)).length;
  const most = Math.max(a.sides.length, b.sides.length, 1);
  return o.otherSideShare + (o.sameSideShare - o.otherSideShare) * (common / most);
}

/** How alike two attempts are in where they place heat: 1 for the same probabilities, 0 where they have no part in
 *  common. Method: coefficient of Bhattacharyya 1943 (from memory).
 */
function sameAnswer(a: SeenAttempt, b: SeenAttempt): number {
  if (a.heat.length === 0 || b.heat.length === 0) return 0;
  const [p, q] = [meanOfSpots(a), meanOfSpots(b)];
  let sum = 0;
  for (const [key, probability] of p) sum += Math.sqrt(probability * (q.get(key) ?? 0));
  return Math.min(1, sum);
}

function meanOfSpots({ heat }: SeenAttempt): Map<string, number> {
  const mean = new Map<string, number>();
  for (const { named, rest } of heat) {
    for (const [key, probability] of [...named, ["", rest] as const]) {
      mean.set(key, (mean.get(key) ?? 0) + probability / heat.length);
    }
  }
  return mean;
}
