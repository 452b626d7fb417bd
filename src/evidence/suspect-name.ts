// evidence: a suspect among others → its name, with its board where another board of the job has a part of that name.
import type { JobSuspect } from "./evidence-schema.js";

/** Name a suspect so that it can be told from the others: several boards of one device may each have a U2. */
export function suspectName(
  { ref, board }: Pick<JobSuspect, "ref" | "board">,
  suspects: readonly Pick<JobSuspect, "ref" | "board">[],
): string {
  const isShared = suspects.some((other) => other.ref === ref && other.board !== board);
  return isShared && board !== null ? `${ref} (${board})` : ref;
}
