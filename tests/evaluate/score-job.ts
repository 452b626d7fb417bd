// evaluate: a job's truth and the comparison of its attempts → which changes were told right.
import type { Comparison } from "../../src/compare/comparison-schema.js";
import type { Job, TrueChange } from "../simulate/make-job.js";

/** Ratios whose logarithm is smaller than this are no change … */
const SAME_LOG = 0.25;
/** … and larger than this one; between, either may be said. */
const OTHER_LOG = 0.8;

/** How one job came out. */
export interface JobScore {
  /** Parts that heat in an attempt, or are said to; and those whose change is right. */
  readonly parts: number;
  readonly right: number;
  /** Parts out of sight that were said to be gone or new. */
  readonly unseenTold: number;
  /** The verdict names the fault of the later attempt, or says that it is gone. */
  readonly verdictRight: boolean;
  /** What was wrong, for people. */
  readonly wrong: readonly string[];
}

/** Score a comparison. Hotter and cooler are held against the true watts by whatever the comparison divided out. A part
 *  that is said to heat and does not is wrong unless it is left unsure.
 */
export function scoreJob(job: Pick<Job, "changes">, comparison: Comparison): JobScore {
  const wrong: string[] = [];
  let parts = 0;
  let unseenTold = 0;
  for (const truth of job.changes) {
    const told = comparison.parts.find(({ ref, side }) => ref === truth.ref && side === truth.side);
    const change = told?.change ?? "none";
    const right = rightAnswers(job, truth, comparison);
    parts++;
    if (truth.outOfSight && (change === "gone" || change === "new")) unseenTold++;
    if (!right.includes(change)) wrong.push(`${truth.ref}: ${change}, not ${right.join(" or ")}`);
  }
  for (const told of comparison.parts) {
    if (job.changes.some(({ ref, side }) => ref === told.ref && side === told.side)) continue;
    parts++;
    if (told.change !== "unsure") wrong.push(`${told.ref}: ${told.change}, but it does not heat`);
    if (told.seen.includes(false) && (told.change === "gone" || told.change === "new")) unseenTold++;
  }
  return {
    parts,
    right: parts - wrong.length,
    unseenTold,
    verdictRight: isVerdictRight(job, comparison),
    wrong,
  };
}

function rightAnswers(
  job: Pick<Job, "changes">,
  truth: TrueChange,
  { division }: Comparison,
): readonly string[] {
  // Of a part that an attempt does not see nothing certain is said; its heat may not even have been found.
  if (truth.outOfSight) return ["unsure", "none"];
  const [before, after] = truth.watts;
  if (!(before > 0 && after > 0)) return [truth.change];
  const moved = job.changes.some(({ change }) => change === "gone" || change === "new");
  if (moved && division.by === "fed") return ["persisted"];
  // What another part takes more changes the power fed in: a part that heats as before has not changed, though its
  // share has.
  const grew = job.changes.some((other) => other !== truth && other.change !== "persisted");
  const asBefore = grew && division.by === "fed" && Math.abs(Math.log(after / before)) < SAME_LOG;
  const ratio = Math.log(after / before) - trueFactorLog(job, division);
  if (Math.abs(ratio) < SAME_LOG) return ["persisted"];
  const way = ratio > 0 ? "hotter" : "cooler";
  return Math.abs(ratio) > OTHER_LOG && !asBefore ? [way] : ["persisted", way];
}

/** By what the true power differs, taken as the comparison took it. */
function trueFactorLog({ changes }: Pick<Job, "changes">, { by, factor }: Comparison["division"]): number {
  if (by === "fed") return Math.log(factor);
  if (by === "none") return 0;
  const warm = changes.filter(({ fault, watts }) => !fault && watts[0] > 0 && watts[1] > 0);
  return warm.reduce((sum, { watts }) => sum + Math.log(watts[1] / watts[0]), 0) / Math.max(1, warm.length);
}

function isVerdictRight(job: Pick<Job, "changes">, { verdict }: Comparison): boolean {
  const names = (ref: string) => new RegExp(`\\b${ref}\\b`).test(verdict);
  const later = job.changes.filter(({ fault, watts }) => fault && watts[1] > 0);
  if (later.length > 0) return later.every(({ ref }) => names(ref));
  const first = job.changes.find(({ fault }) => fault)!;
  if (first.outOfSight) return !/\b(gone|removed)\b/.test(verdict);
  return names(first.ref) && /\bgone\b/.test(verdict);
}
