// evidence: a job whose likely fault was worked on after the last capture → that nothing shows yet whether it helped.
import { sameName } from "../readings/classify-readings.js";
import type { JobSuspect } from "./evidence-schema.js";
import type { GatheredJob } from "./gather-job.js";
import { suspectName } from "./suspect-name.js";

/** A part at least as probably at fault as this was worked on for its fault. */
const LIKELY = 0.5;
/** What is done to a part so that its fault goes. */
const MENDING = new Set(["lifted", "replaced", "reflowed", "cleaned"]);

/** Say that a capture is due: a likely part was worked on, or its board was cleaned as a whole, and neither a camera over that board nor a
 *  meter on one of the part's nets has looked since. Chances alone would call it mended, for most work helps.
 *  @returns null where something was seen since, or nothing was done.
 */
export function unseenChange(job: GatheredJob, suspects: readonly JobSuspect[]): string | null {
  for (const suspect of suspects) {
    if (suspect.probability < LIKELY) continue;
    const part = job.parts.find(({ ref, board }) => ref === suspect.ref && board === (suspect.board ?? ""));
    if (part === undefined) continue;
    const last = job.attempts.findLast(({ placed, board }) => placed && board === part.board);
    if (last === undefined) continue;
    const read = job.nets.filter(
      ({ net, board }) =>
        part.nets.includes(sameName(net)) && (board === null || sameName(board) === sameName(part.board)),
    );
    const seen = Math.max(last.state, ...read.map(({ state }) => state));
    const done = job.changes
      .slice(seen)
      .findLast(({ did, keys, everywhere }) => MENDING.has(did) && (everywhere || keys.includes(part.key)));
    if (done === undefined) continue;
    const name = suspectName(suspect, suspects);
    const [work, whose] = done.everywhere ? ["the board", `the heat of ${name}`] : [name, "its heat"];
    return `Capture again as in attempt ${last.number}: ${work} was ${done.did} since, and nothing shows yet whether ${whose} is gone.`;
  }
  return null;
}
