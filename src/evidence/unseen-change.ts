// evidence: a job whose likely fault was worked on after the last capture → that nothing shows yet whether it helped.
import type { JobSuspect } from "./evidence-schema.js";
import type { GatheredJob } from "./gather-job.js";
import { suspectName } from "./suspect-name.js";

/** A part at least as probably at fault as this was worked on for its fault. */
const LIKELY = 0.5;
/** What is done to a part so that its fault goes. */
const MENDING = new Set(["lifted", "replaced", "reflowed", "cleaned"]);

/** Say that a capture is due: a likely part was worked on, and neither camera nor meter has looked since. Chances alone would call it
 *  mended, for most work helps.
 *  @returns null where something was seen since, or nothing was done.
 */
export function unseenChange(job: GatheredJob, suspects: readonly JobSuspect[]): string | null {
  const last = job.attempts.findLast(({ placed }) => placed);
  if (last === undefined) return null;
  const seen = Math.max(last.state, ...job.nets.map(({ state }) => state));
  const since = job.changes.slice(seen);
  for (const suspect of suspects) {
    if (suspect.probability < LIKELY) continue;
    const part = job.parts.find(({ ref, board }) => ref === suspect.ref && board === (suspect.board ?? ""));
    const done = since.findLast(
      ({ did, keys }) => MENDING.has(did) && part !== undefined && keys.includes(part.key),
    );
    if (done !== undefined)
      return `Capture again as in attempt ${last.number}: ${suspectName(suspect, suspects)} was ${done.did} since, and nothing shows yet whether its heat is gone.`;
  }
  return null;
}
