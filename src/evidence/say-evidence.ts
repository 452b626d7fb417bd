// evidence: the table of suspects → the verdict on the job in a sentence or two.
import { formatProbability } from "../core/format-quantity.js";
import type { JobSuspect } from "./evidence-schema.js";
import type { GatheredJob } from "./gather-job.js";
import { MENDED } from "./list-suspects.js";
import type { WeighedFaults } from "./weigh-faults.js";

/** From here on one part is named, below it two; below the other nothing is. */
const NAMED = 0.6;
const WORTH_NAMING = 0.2;
/** Two faults are spoken of from this chance on. */
const TWO_FAULTS = 0.5;
/** So many cleared parts are told of by name. */
const MOST_CLEARED = 2;

/** Say what a job comes to: what is at fault or was, how surely, and what was cleared. */
export function sayEvidence(
  job: GatheredJob,
  weighed: WeighedFaults,
  suspects: readonly JobSuspect[],
): string {
  if (job.attempts.length === 0 && job.nets.length === 0) return "Nothing has been measured yet.";
  const named = suspects.map((suspect) => ({ ...suspect, ref: nameOf(suspect, suspects) }));
  return [answer(job, weighed, named), ...told(weighed, named)].join(" ");
}

/** A ref that several boards of the job have is told with its board. */
function nameOf({ ref, board }: JobSuspect, suspects: readonly JobSuspect[]): string {
  const isShared = suspects.some((other) => other.ref === ref && other.board !== board);
  return isShared && board !== null ? `${ref} (${board})` : ref;
}

function answer(job: GatheredJob, weighed: WeighedFaults, suspects: readonly JobSuspect[]): string {
  const [first, second] = suspects.filter(({ state }) => state !== "normallyWarm");
  if (weighed.mended > MENDED && first !== undefined) {
    const sure = formatProbability(first.probability);
    return `${first.ref} was at fault (${sure})${first.cleared === null ? "." : `: ${lowerFirst(first.cleared)}`}`;
  }
  const heat = job.attempts.some((attempt) => attempt.heat.length > 0);
  const odd = job.nets.some(({ outcome }) => outcome !== "ordinary");
  if (!heat && !odd) return "No attempt shows the heat of a fault, and no net reads low.";
  if (first === undefined || first.stillFaulty < WORTH_NAMING) {
    return weighed.unexplained > MENDED
      ? "None of the named parts explains what was measured."
      : "What was measured fits several parts and points to none.";
  }
  const sure = formatProbability(first.stillFaulty);
  // Two that are each more probable than not may still be one or the other.
  if (second !== undefined && second.stillFaulty >= NAMED && weighed.secondFault > TWO_FAULTS) {
    return `${first.ref} (${sure}) and ${second.ref} (${formatProbability(second.stillFaulty)}) are both at fault.`;
  }
  const alone = second === undefined || second.stillFaulty < NAMED;
  if (second === undefined || (first.stillFaulty >= NAMED && alone))
    return `${first.ref} is at fault (${sure}).`;
  return `${first.ref} (${sure}) or ${second.ref} (${formatProbability(second.stillFaulty)}) is at fault; what was measured can't settle which.`;
}

/** What was cleared, and what else was cured. */
function told(weighed: WeighedFaults, suspects: readonly JobSuspect[]): string[] {
  const lines: string[] = [];
  const mended = weighed.mended > MENDED;
  const cured = suspects.filter(({ state }) => state === "cured");
  if (!mended && weighed.secondFault > TWO_FAULTS && cured.length > 0) {
    lines.push(`${cured[0]!.ref} was at fault too: ${lowerFirst(cured[0]!.cleared!)}`);
  }
  const cleared = suspects.filter(({ state, changed }) => state === "cleared" && changed.length > 0);
  for (const { ref, cleared: how } of cleared.slice(0, MOST_CLEARED)) {
    lines.push(`${ref} is cleared: ${lowerFirst(how!)}`);
  }
  if (cleared.length > MOST_CLEARED) {
    lines.push(`${cleared.length - MOST_CLEARED} more parts that were changed are cleared.`);
  }
  return lines;
}

function lowerFirst(text: string): string {
  return text.startsWith("It ") ? `it ${text.slice(3)}` : text;
}
