// evidence: a job whose likely fault was worked on after the last look at it → that nothing shows yet whether it
// helped.
import { sameName } from "../readings/classify-readings.js";
import type { JobSuspect } from "./evidence-schema.js";
import type { JobPart } from "./fault-modes.js";
import type { GatheredJob } from "./gather-job.js";
import { suspectName } from "./suspect-name.js";

/** A part at least as probably at fault as this was worked on for its fault. */
export const LIKELY = 0.5;
/** What is done to a part so that its fault goes. */
const MENDING = new Set(["lifted", "replaced", "reflowed", "cleaned"]);

/** What looked at a part: the attempts whose camera looked over its board, from either side, and what was read on its
 *  nets. */
export function looksAt(
  part: JobPart,
  { attempts, nets }: GatheredJob,
): Pick<GatheredJob, "attempts" | "nets"> {
  return {
    attempts: attempts.filter(({ placed, board }) => placed && board === part.board),
    nets: nets.filter(
      ({ net, board }) =>
        part.nets.includes(sameName(net)) && (board === null || sameName(board) === sameName(part.board)),
    ),
  };
}

/** Find the last work on a part, or on its board as a whole, since a camera looked over that board (from either side)
 *  or a meter at one of the part's nets; null where something looked since, or nothing was done. Chances alone would
 *  call it mended, for most work helps.
 */
export function unseenWork(part: JobPart, job: GatheredJob): GatheredJob["changes"][number] | null {
  const { attempts, nets } = looksAt(part, job);
  const seen = Math.max(0, ...[...attempts, ...nets].map(({ state }) => state));
  return (
    job.changes
      .slice(seen)
      .findLast(({ did, keys, everywhere }) => MENDING.has(did) && (everywhere || keys.includes(part.key))) ??
    null
  );
}

/** Say that a capture is due: a likely part was worked on, and nothing has looked over its board or at its nets since.
 *  @returns null where that is so of none.
 */
export function unseenChange(job: GatheredJob, suspects: readonly JobSuspect[]): string | null {
  for (const suspect of suspects) {
    if (suspect.state !== "unseen") continue;
    const part = job.parts.find(({ ref, board }) => ref === suspect.ref && board === (suspect.board ?? ""));
    if (part === undefined) continue;
    const last = job.attempts.findLast(({ placed, board }) => placed && board === part.board);
    if (last === undefined) continue;
    const { did, everywhere } = unseenWork(part, job)!;
    const name = suspectName(suspect, suspects);
    const [work, whose] = everywhere ? ["the board", `the heat of ${name}`] : [name, "its heat"];
    return `Capture again as in attempt ${last.number}: ${work} was ${did} since, and nothing shows yet whether ${whose} is gone.`;
  }
  return null;
}
