// evidence: weighed parts → the table of suspects, each with its reasons and what became of it.
import { sameName } from "../readings/classify-readings.js";
import { LEAST_PROBABILITY } from "../suspects/weigh-alternatives.js";
import type { EvidenceFigures } from "./evidence-defaults.js";
import type { JobSuspect, SuspectState } from "./evidence-schema.js";
import { chanceIn, doneTo, explainPart, lastStates, nameOf, type PartReasons } from "./explain-part.js";
import type { JobPart } from "./fault-modes.js";
import type { GatheredJob } from "./gather-job.js";
import { LIKELY, looksAt, unseenWork } from "./unseen-change.js";
import type { WeighedFaults } from "./weigh-faults.js";

/** An attempt names a part from this chance on. */
const LEAST_NAMED = 0.02;
/** A part that was suspected or changed is cleared below this … */
const CLEARED = 0.1;
/** … suspected means from this on in some attempt. */
const SUSPECTED = 0.2;
/** A fault is cured if no more than this share of its probability is left. */
const CURED_SHARE = 0.3;
/** From here on all is as good as mended, and the table is ordered by what was at fault. */
export const MENDED = 0.5;

/** List the suspects of a job. While the fault is there the first is what most probably still has it, else what had it;
 *  what is normally warm stands last.
 */
export function listSuspects(job: GatheredJob, weighed: WeighedFaults, o: EvidenceFigures): JobSuspect[] {
  const states = job.changes.length;
  const rank = ({ probability, stillFaulty }: JobSuspect) =>
    weighed.mended > MENDED ? probability : stillFaulty + 1e-6 * probability;
  const warmth = ({ state }: JobSuspect) => (state === "normallyWarm" ? 1 : 0);
  return job.parts
    .filter(({ key }) => {
      const named = job.attempts.some(
        (attempt) => chanceIn(attempt, key) >= LEAST_NAMED || attempt.warm.has(key),
      );
      return (
        named || doneTo(key, states, job) !== null || weighed.chances.get(key)!.faulty >= LEAST_PROBABILITY
      );
    })
    .map((part): JobSuspect => {
      const { faulty, still } = weighed.chances.get(part.key)!;
      const reasons = explainPart(part, job, o);
      const state = stateOf(part, faulty, still, job);
      const region = job.maps.get(part.board)!.regions.find(({ ref }) => ref === part.ref)!;
      return {
        ref: part.ref,
        side: part.side,
        board: part.board === "" ? null : part.board,
        nets: region.nets ?? [],
        probability: faulty,
        stillFaulty: still,
        readingRatio: reasons.readingRatio,
        state,
        for: reasons.for,
        against: reasons.against,
        cleared: state === "open" || state === "normallyWarm" ? null : howCleared(part, state, job, reasons),
        changed: job.changes.filter(({ keys }) => keys.includes(part.key)).map(({ did }) => did),
      };
    })
    .sort((a, b) => warmth(a) - warmth(b) || rank(b) - rank(a) || (a.ref < b.ref ? -1 : 1));
}

function stateOf(part: JobPart, faulty: number, still: number, job: GatheredJob): SuspectState {
  if (faulty >= LIKELY && unseenWork(part, job) !== null) return "unseen";
  if (faulty >= 0.5 && still <= CURED_SHARE * faulty) return "cured";
  // Where nothing was seen of it after it was changed, nothing has cleared it.
  const { attempts, nets } = looksAt(part, job);
  const seenAfter = [...attempts.filter(({ heat }) => heat.length > 0), ...nets];
  const changed = seenAfter.some((seen) => doneTo(part.key, seen.state, job) !== null);
  const suspected = job.attempts.some((attempt) => chanceIn(attempt, part.key) >= SUSPECTED);
  if ((changed || suspected) && faulty < CLEARED) return "cleared";
  const warm = part.normallyWarm || job.attempts.some((attempt) => attempt.warm.has(part.key));
  return warm && faulty < CLEARED ? "normallyWarm" : "open";
}

function howCleared(part: JobPart, state: SuspectState, job: GatheredJob, { against }: PartReasons): string {
  const { attempts } = looksAt(part, job);
  const after = attempts.filter((attempt) => doneTo(part.key, attempt.state, job) !== null);
  if (state === "unseen") {
    const { did, everywhere } = unseenWork(part, job)!;
    return `It was ${did}${everywhere ? " with the board" : ""}, and nothing shows yet whether its heat is gone.`;
  }
  const done = doneTo(part.key, job.changes.length, job);
  if (state === "cured") {
    const gone =
      after.find(({ heat }) => heat.length === 0) ??
      after.find((attempt) => chanceIn(attempt, part.key) < LEAST_NAMED);
    if (gone !== undefined) return `It was ${done}, and in attempt ${gone.number} its heat is gone.`;
    const net = lastStates(job).find(
      ({ net: name, outcome, state: when }) =>
        outcome === "ordinary" && part.nets.includes(sameName(name)) && doneTo(part.key, when, job) !== null,
    );
    return `It was ${done ?? "changed"}${net === undefined ? "" : `, and ${net.net} reads as it should since`}.`;
  }
  const still = after.find(({ heat }) => heat.length > 0);
  if (still !== undefined) {
    return `It was ${doneTo(part.key, still.state, job)}, and attempt ${still.number} still shows heat.`;
  }
  const other = attempts.find(
    (attempt) => attempt.heat.length > 0 && chanceIn(attempt, part.key) < LEAST_NAMED,
  );
  if (other !== undefined) return `${nameOf(other)} shows the heat elsewhere.`;
  return against.at(-1) ?? "Other parts explain it all better.";
}
