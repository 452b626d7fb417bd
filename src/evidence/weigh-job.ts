// evidence: a job → one table of suspects over all attempts, readings and actions, the verdict, and what to do next.

import { formatProbability } from "../core/format-quantity.js";
import { TOOL_VERSION } from "../core/tool-version.js";
import type { Job } from "../job/job.js";
import type { ReadingFigures } from "../readings/classify-readings.js";
import { chooseNext } from "./choose-next.js";
import { EVIDENCE_DEFAULTS, type EvidenceFigures } from "./evidence-defaults.js";
import { type Evidence, judgedReadingSchema } from "./evidence-schema.js";
import { doneTo, firstOf, nameOf } from "./explain-part.js";
import { type GatheredJob, gatherJob } from "./gather-job.js";
import { listSuspects } from "./list-suspects.js";
import { pointsToPart, sayEvidence } from "./say-evidence.js";
import type { SeenAttempt } from "./seen-attempt.js";
import { weighFaults } from "./weigh-faults.js";

/** Options of `weighJob`. */
export type WeighJobOptions = Partial<EvidenceFigures> & {
  readonly toolVersion?: string;
  /** Tolerances and limits by which readings are judged, in place of the usual ones. */
  readonly readings?: ReadingFigures | undefined;
};

/** Weigh everything that a job holds: every attempt by its own probabilities (its prior taken out), every net that was
 *  read, and what was done meanwhile, by one model (`weighFaults`). A part that was replaced and whose heat stayed is
 *  nearly cleared, what shares its net or lies behind it gains; what an attempt from another side says counts more than
 *  the same view once more.
 *  Pure: the same job gives the same evidence.
 */
export function weighJob(job: Job, options: WeighJobOptions = {}): Evidence {
  const { toolVersion = TOOL_VERSION } = options;
  const o = resolveFigures(options);
  const gathered = gatherJob(job, options.readings);
  const weighed = weighFaults(gathered, o);
  const suspects = listSuspects(gathered, weighed, o);
  return {
    kind: "faultglow/evidence",
    version: 1,
    tool: { name: "faultglow", version: toolVersion },
    options: { ...o, ...options.readings },
    suspects,
    pointsToPart: pointsToPart(gathered, weighed, suspects, o),
    unexplained: weighed.unexplained,
    secondFault: weighed.secondFault,
    thirdFault: weighed.thirdFault,
    mended: weighed.mended,
    attempts: gathered.attempts.map((attempt, k) => ({
      number: attempt.number,
      state: attempt.state,
      weight: weighed.weights[k]!.place,
      heat: attempt.heat.length > 0,
      first: firstOf(attempt, gathered)?.ref ?? null,
      text: sayAttempt(attempt, gathered),
    })),
    // Without what the journal adds to references.
    readings: gathered.readings.map((reading) => judgedReadingSchema.parse(reading)),
    verdict: sayEvidence(gathered, weighed, suspects, o),
    next: chooseNext(gathered, weighed, suspects, o),
  };
}

/** The figures alone, whatever else the options hold. */
function resolveFigures(options: Partial<EvidenceFigures>): EvidenceFigures {
  const names = Object.keys(EVIDENCE_DEFAULTS) as (keyof EvidenceFigures)[];
  const given = names.filter((name) => options[name] !== undefined).map((name) => [name, options[name]]);
  return { ...EVIDENCE_DEFAULTS, ...Object.fromEntries(given) };
}

function sayAttempt(attempt: SeenAttempt, job: GatheredJob): string {
  const name = nameOf(attempt);
  const before = job.parts.flatMap(({ key, ref }) => {
    const done = doneTo(key, attempt.state, job);
    return done === null ? [] : [`${ref} ${done}`];
  });
  const after = before.length === 0 ? "" : `, ${before.join(", ")} before it`;
  if (!attempt.placed) return `${name}${after}: no board map and view, so that it names no part.`;
  if (attempt.heat.length === 0)
    return `${name}${after}: ${attempt.likeliest.size > 0 ? "no fault surely shows" : "no heat of a fault"}.`;
  const first = firstOf(attempt, job);
  return first === null
    ? `${name}${after}: heat in none of the named parts.`
    : `${name}${after}: heat, most probably in ${first.ref} (${formatProbability(first.probability)}).`;
}
