// job: a summary of a job and what is looked for → whether it is meant.
import type { JobSummary } from "./summarise-job.js";

/** What is looked for; everything that is given has to hold. Upper and lower case are alike. */
export interface JobQuery {
  /** Part of the device's name. */
  readonly device?: string | undefined;
  /** A part that was suspected, worked on or measured at. */
  readonly ref?: string | undefined;
  /** A net that was fed or measured, or on which such a part lies. */
  readonly net?: string | undefined;
  /** Date `2031-03-01` or moment: something was said on it or later. */
  readonly since?: string | undefined;
  /** … the job was begun on it or before. */
  readonly until?: string | undefined;
  /** Part of what a person wrote: complaint, remarks. */
  readonly text?: string | undefined;
}

/** Say whether a job is meant. Dates are compared as the calendar at the bench had them; moments by the clock. */
export function matchesQuery(job: JobSummary, query: JobQuery): boolean {
  const holds = (words: readonly string[], wanted: string | undefined): boolean =>
    wanted === undefined || words.some((one) => folded(one).includes(folded(wanted)));
  const names = (words: readonly string[], wanted: string | undefined): boolean =>
    wanted === undefined || words.some((one) => folded(one) === folded(wanted));
  return (
    holds([job.device], query.device) &&
    names(
      job.parts.map(({ ref }) => ref),
      query.ref,
    ) &&
    names(job.nets, query.net) &&
    holds(job.words, query.text) &&
    (query.since === undefined || compareMoments(job.lastAt, query.since) >= 0) &&
    (query.until === undefined || compareMoments(job.createdAt, query.until) <= 0)
  );
}

function compareMoments(moment: string, wanted: string): number {
  if (wanted.length > 10) return Date.parse(moment) - Date.parse(wanted);
  const day = moment.slice(0, 10);
  return day === wanted ? 0 : day < wanted ? -1 : 1;
}

/** Without a locale, so that the same search finds the same on every machine. */
function folded(text: string): string {
  return text.normalize("NFKC").toLowerCase();
}
