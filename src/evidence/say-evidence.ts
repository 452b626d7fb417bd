// evidence: the table of suspects → the verdict on the job in a sentence or two.
import { formatProbability } from "../core/format-quantity.js";
import { EVIDENCE_DEFAULTS, type EvidenceFigures } from "./evidence-defaults.js";
import type { JobSuspect } from "./evidence-schema.js";
import type { GatheredJob } from "./gather-job.js";
import { MENDED } from "./list-suspects.js";
import { partKey } from "./seen-attempt.js";
import { suspectName } from "./suspect-name.js";
import { TRIED_SPEAKS, triedRatio } from "./tried-likelihood.js";
import type { WeighedFaults } from "./weigh-faults.js";

/** From here on one part is named, below it two; below the other nothing is. */
const NAMED = 0.6;
const WORTH_NAMING = 0.2;
/** Several faults are spoken of from this chance on. */
const SEVERAL = 0.5;
/** So many parts that were cured, and that are cleared, are told of by name. */
const MOST_TOLD = 2;

const NO_MAP = "No part can be named: the job has no board map yet.";

/** A suspect by the name that tells it from the others. */
type Named = JobSuspect & { readonly key: string };

/** Say what a job comes to: what is at fault or was, how surely, and what was cleared. */
export function sayEvidence(
  job: GatheredJob,
  weighed: WeighedFaults,
  suspects: readonly JobSuspect[],
  o: EvidenceFigures = EVIDENCE_DEFAULTS,
): string {
  if (job.attempts.length === 0 && job.nets.length === 0) return "Nothing has been measured yet.";
  const named = withKeys(suspects);
  return [answer(job, weighed, named, o), ...told(weighed, named)].join(" ");
}

function answer(
  job: GatheredJob,
  weighed: WeighedFaults,
  suspects: readonly Named[],
  o: EvidenceFigures,
): string {
  const [first, second] = suspects.filter(isCounted);
  if (weighed.mended > MENDED && first !== undefined) {
    const sure = formatProbability(first.probability);
    return `${first.ref} was at fault (${sure})${first.cleared === null ? "." : `: ${afterColon(first.cleared)}`}`;
  }
  if (!isMeasured(job)) {
    if (!isTried(first, job, o)) return nothingNamed(job);
    return `${first.ref} may be at fault (${formatProbability(first.stillFaulty)}). No attempt shows its heat by itself, and no net reads low, but heat there would explain most.`;
  }
  if (first === undefined || first.stillFaulty < WORTH_NAMING) {
    if (job.parts.length === 0) return NO_MAP;
    return weighed.unexplained > MENDED
      ? "None of the named parts explains what was measured."
      : "What was measured fits several parts and points to none.";
  }
  const sure = formatProbability(first.stillFaulty);
  // Two that are each more probable than not may still be one or the other.
  const likely = suspects.filter(
    ({ state, stillFaulty }) => state !== "normallyWarm" && stillFaulty >= NAMED,
  );
  const most = weighed.thirdFault > SEVERAL ? 3 : weighed.secondFault > SEVERAL ? 2 : 1;
  if (Math.min(likely.length, most) > 1) {
    const [last, ...others] = likely
      .slice(0, most)
      .map(({ ref, stillFaulty }) => `${ref} (${formatProbability(stillFaulty)})`)
      .reverse();
    return `${others.reverse().join(", ")} and ${last} are ${others.length === 1 ? "both" : "all"} at fault.`;
  }
  const alone = second === undefined || second.stillFaulty < NAMED;
  if (second === undefined || (first.stillFaulty >= NAMED && alone))
    return `${first.ref} is at fault (${sure}).`;
  return `${first.ref} (${sure}) or ${second.ref} (${formatProbability(second.stillFaulty)}) is at fault; what was measured can't settle which.`;
}

/** Neither attempts nor nets point anywhere: how probable a part was before is no answer, however few there are. */
function nothingNamed({ attempts, parts }: GatheredJob): string {
  const unplaced = attempts.findLast(({ heat, placed }) => !placed && heat.length > 0);
  if (unplaced === undefined) return "No attempt shows the heat of a fault, and no net reads low.";
  if (parts.length === 0) return NO_MAP;
  const placed = attempts.some((attempt) => attempt.placed);
  return `No part can be named: attempt ${unplaced.number} shows heat without a board map and a view${placed ? ", and no attempt with them shows the heat of a fault" : ""}.`;
}

/** Whether anything that was measured points to a part: heat in an attempt with map and view, a net out of the
 *  ordinary, heat that the fit would give the first suspect, or a fault that was mended. Where nothing does,
 *  probabilities are what is left of those from before any measurement.
 */
export function pointsToPart(
  job: GatheredJob,
  weighed: WeighedFaults,
  suspects: readonly JobSuspect[],
  o: EvidenceFigures = EVIDENCE_DEFAULTS,
): boolean {
  const first = withKeys(suspects).find(isCounted);
  return (weighed.mended > MENDED && first !== undefined) || isMeasured(job) || isTried(first, job, o);
}

function withKeys(suspects: readonly JobSuspect[]): Named[] {
  return suspects.map((suspect) => ({
    ...suspect,
    key: partKey(suspect.board ?? "", suspect.ref),
    ref: suspectName(suspect, suspects),
  }));
}

function isCounted({ state }: Named): boolean {
  return state !== "normallyWarm";
}

/** Whether an attempt with map and view shows heat, or a net is out of the ordinary. */
function isMeasured({ attempts, nets }: GatheredJob): boolean {
  return (
    attempts.some(({ placed, heat }) => placed && heat.length > 0) ||
    nets.some(({ outcome }) => outcome !== "ordinary")
  );
}

/** Whether the fit would give a part that is worth naming heat that no attempt names. */
function isTried(part: Named | undefined, { attempts }: GatheredJob, o: EvidenceFigures): part is Named {
  if (part === undefined || part.stillFaulty < WORTH_NAMING) return false;
  return attempts.some((attempt) => triedRatio(attempt, part.key, null, o) >= TRIED_SPEAKS);
}

/** What was cleared, and what else was cured. */
function told(weighed: WeighedFaults, suspects: readonly Named[]): string[] {
  const lines: string[] = [];
  const mended = weighed.mended > MENDED;
  // The answer has told of the first one, where it speaks of what was.
  const first = suspects.find(isCounted);
  for (const one of suspects) {
    if (one.state === "unseen" && !(mended && one === first)) {
      lines.push(one.cleared!.replace(/^It /, `${one.ref} `));
    }
  }
  const cured = suspects.filter(({ state }) => state === "cured");
  if (!mended && weighed.secondFault > SEVERAL) {
    for (const { ref, cleared: how } of cured.slice(0, MOST_TOLD)) {
      lines.push(`${ref} was at fault too: ${afterColon(how!)}`);
    }
  }
  const cleared = suspects.filter(({ state, changed }) => state === "cleared" && changed.length > 0);
  for (const { ref, cleared: how } of cleared.slice(0, MOST_TOLD)) {
    lines.push(`${ref} is cleared: ${afterColon(how!)}`);
  }
  const more = cleared.length - MOST_TOLD;
  if (more > 0) {
    lines.push(
      more === 1
        ? "1 more part that was changed is cleared."
        : `${more} more parts that were changed are cleared.`,
    );
  }
  return lines;
}

/** A sentence after a colon. Only "It" becomes small: others may begin with a name. */
function afterColon(text: string): string {
  return text.startsWith("It ") ? `it ${text.slice(3)}` : text;
}
