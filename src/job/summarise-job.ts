// job: a job → the few lines by which it is found again.
import type { Job } from "./job.js";

/** A part that a job speaks of. */
export interface NamedPart {
  readonly ref: string;
  /** `suspect`: thought a source by an attempt; `action`: something was done to it; `reading`: measured there. */
  readonly as: "suspect" | "action" | "reading";
}

/** A job in an index. */
export interface JobSummary {
  readonly id: string;
  readonly device: string;
  readonly complaint: string | null;
  readonly createdAt: string;
  /** When something was last said. */
  readonly lastAt: string;
  readonly boards: readonly string[];
  readonly attempts: number;
  readonly readings: number;
  readonly actions: number;
  /** Verdict of the last attempt on this device; null without one. */
  readonly verdict: string | null;
  readonly parts: readonly NamedPart[];
  /** Nets that were fed, or read at, or on which a named part lies. */
  readonly nets: readonly string[];
  /** Everything that a person wrote, for a search by words. */
  readonly words: readonly string[];
  readonly seal: string;
}

/** A part is worth finding a job by if an attempt gave it this probability of being a source. Below it nearly every
 *  part of a board is named somewhere. */
const WORTH_NAMING = 0.1;

/** Sum a job up. */
export function summariseJob(job: Job): JobSummary {
  const { header } = job;
  const own = job.attempts.filter(({ attempt }) => !attempt.conditions.healthy);
  const parts = namedParts(job);
  const refs = new Set(parts.map(({ ref }) => ref));
  const regions = job.boards.flatMap(({ map }) => map.regions).filter(({ ref }) => refs.has(ref));
  const text = (words: string | null | undefined): string[] =>
    words === null || words === undefined ? [] : [words];
  return {
    id: header.id,
    device: header.device,
    complaint: header.complaint,
    createdAt: header.createdAt,
    lastAt: job.entries[job.entries.length - 1]?.at ?? header.createdAt,
    boards: distinct(job.boards.map(({ name }) => name)),
    attempts: job.attempts.length,
    readings: job.readings.length,
    actions: job.actions.length,
    verdict: own[own.length - 1]?.findings.verdict ?? null,
    parts,
    nets: distinct([
      ...job.attempts.flatMap(({ attempt }) => text(attempt.conditions.rail)),
      ...job.readings.flatMap(({ net }) => text(net)),
      ...regions.flatMap(({ nets }) => nets ?? []),
    ]),
    words: [
      ...text(header.complaint),
      ...text(header.symptom?.text),
      ...text(header.remark),
      ...job.attempts.flatMap(({ attempt }) => text(attempt.conditions.remark)),
      ...job.actions.flatMap(({ remark }) => text(remark)),
      ...job.readings.flatMap(({ remark }) => text(remark)),
      ...job.remarks.map((remark) => remark.text),
    ],
    seal: job.seal,
  };
}

function namedParts(job: Job): NamedPart[] {
  const suspects = job.attempts
    .flatMap(({ findings }) => findings.suspects)
    .filter(({ probability, normallyWarm }) => !normallyWarm && probability >= WORTH_NAMING);
  const all: NamedPart[] = [
    ...suspects.map(({ ref }) => ({ ref, as: "suspect" as const })),
    ...job.actions.flatMap(({ ref }) => (ref === undefined ? [] : [{ ref, as: "action" as const }])),
    ...job.readings.flatMap(({ ref }) => (ref === undefined ? [] : [{ ref, as: "reading" as const }])),
  ];
  const seen = new Set<string>();
  return all.filter(({ ref, as }) => {
    const key = JSON.stringify([ref, as]);
    return !seen.has(key) && seen.add(key);
  });
}

function distinct(texts: readonly string[]): string[] {
  return [...new Set(texts)];
}
