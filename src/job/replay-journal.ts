// job: header, lines of the journal and the files that they point to → the job in memory.
import type { Entry } from "./entry-schema.js";
import type { Attachments, Job, JobAttempt, JobBoard } from "./job.js";
import type { JobHeader } from "./job-schema.js";

/** Tell a job from its journal. Lines that were withdrawn don't count, nor does the withdrawal of a withdrawal bring
 *  them back; the files of withdrawn attempts are not asked for.
 *  @param entries in their order, already checked as a chain (`parseJournal`).
 *  @param attached gives what `attempt` and `board` lines point to; what it throws is passed on.
 *  @param seal hash of the last line, of job.json where there is none.
 */
export function replayJournal(
  header: JobHeader,
  entries: readonly Entry[],
  attached: Attachments,
  seal: string,
): Job {
  const withdrawn = withdrawnSeqs(entries);
  const job = {
    header,
    boards: [] as JobBoard[],
    attempts: [] as JobAttempt[],
    readings: [] as Job["readings"][number][],
    references: [] as Job["references"][number][],
    actions: [] as Job["actions"][number][],
    remarks: [] as Job["remarks"][number][],
    entries,
    withdrawn,
    seal,
  };
  for (const { seq, at, said } of entries) {
    if (withdrawn.has(seq)) continue;
    const told = { seq, at };
    switch (said.type) {
      case "board": {
        const { name, file, sha256 } = said;
        job.boards.push({ ...told, name, file, sha256, map: attached.board(sha256) });
        break;
      }
      case "attempt":
        job.attempts.push({ ...told, ...attached.attempt(said.number) });
        break;
      case "reading":
        job.readings.push({ ...said.reading, ...told });
        break;
      case "reference":
        job.references.push({ ...said.reference, ...told });
        break;
      case "action":
        job.actions.push({ ...said.action, ...told });
        break;
      case "remark":
        job.remarks.push({ ...told, text: said.text });
        break;
      case "withdrawal":
        break;
    }
  }
  return job;
}

/** Lines that a later line took back. */
export function withdrawnSeqs(entries: readonly Entry[]): ReadonlySet<number> {
  return new Set(
    entries.flatMap(({ seq, said }) => (said.type === "withdrawal" && said.seq < seq ? [said.seq] : [])),
  );
}
