// job: a job and the lines that were just added → what looks like a slip in them, or what they leave behind.
import { type Note, note } from "../core/notes.js";
import type { Job, JobAttempt } from "./job.js";
import { unknownNames } from "./unknown-names.js";

/** Look at lines from a number on: names that no map has, a map that was taken back, frames that an attempt has
 *  already, and power of which only half was told. Nothing is refused: a person may have meant it.
 *  @param from `seq` of the first line to look at.
 *  @param canWithdraw false: whoever reads it sees no numbers of lines, so names are said without the advice to
 *  withdraw a line by its number. Doubts about attempts have it all the same: they come where attempts are added by a
 *  command.
 */
export function doubtLines(job: Job, from: number, canWithdraw = true): Note[] {
  return [
    ...unknownNames(job, from, canWithdraw),
    ...withdrawnMaps(job, from),
    ...job.attempts
      .filter(({ seq }) => seq >= from)
      .flatMap((attempt) => [...repeatedFrames(job, attempt), ...halfPower(attempt)]),
  ];
}

/** What a map that was taken back leaves behind. */
function withdrawnMaps(job: Job, from: number): Note[] {
  return job.entries.flatMap(({ seq, said }) => {
    if (seq < from || said.type !== "withdrawal") return [];
    const { seq: withdrawn } = said;
    const target = job.entries.find((line) => line.seq === withdrawn)?.said;
    if (target?.type !== "board") return [];
    const left = job.boards.findLast(({ name }) => name === target.name);
    if (left !== undefined) {
      const which = left.seq > withdrawn ? "still counts, as before" : "counts again";
      return [note("N_JOB_MAP", `Of "${target.name}" the map of line ${left.seq} ${which}.`)];
    }
    const rest =
      job.boards.length === 0
        ? "The job has no board map any more"
        : `The job has no map of "${target.name}" any more`;
    return [
      note(
        "N_JOB_MAP",
        `${rest}: attempts keep the one that they were analysed with, and a new attempt names no part of it. To have one again, save a map on the bench page, or give one with --board at the next attempt.`,
      ),
    ];
  });
}

/** Frames that another attempt has shown already, unless they come again to be placed on a map. */
function repeatedFrames(job: Job, attempt: JobAttempt): Note[] {
  const { seq } = attempt;
  const { number } = attempt.attempt;
  const own = poweredOf(attempt);
  const earlier = job.attempts.find((other) => {
    if (other.seq >= seq || (other.board === null && attempt.board !== null)) return false;
    const known = new Set(poweredOf(other));
    return own.every((sha256) => known.has(sha256));
  });
  if (earlier === undefined) return [];
  return [
    note(
      "N_JOB_REPEAT",
      `Attempt ${number} has no powered frame that attempt ${earlier.attempt.number} does not have: it measures nothing anew, and the evidence would hear one capture twice. Withdraw the one that is not to count: line ${earlier.seq} (attempt ${earlier.attempt.number}) or line ${seq} (attempt ${number}).`,
    ),
  ];
}

function poweredOf({ attempt }: JobAttempt): string[] {
  return attempt.views.flatMap(({ powered }) => powered.map(({ sha256 }) => sha256));
}

function halfPower({ seq, attempt }: JobAttempt): Note[] {
  const { volts, amps } = attempt.conditions;
  const { cycleS } = attempt.options;
  if ((volts === null) === (amps === null)) return [];
  const [has, lacks] = volts === null ? ["amps", "volts"] : ["volts", "amps"];
  // A switched supply has no books, whatever was told.
  const lost =
    cycleS === null
      ? "so the books are not drawn up and comparisons can't divide it out"
      : "so comparisons can't divide it out";
  return [
    note(
      "N_JOB_POWER",
      `Attempt ${attempt.number} has ${has} and no ${lacks}: what was fed in is not known, ${lost}. If the ${lacks} are known, withdraw line ${seq} and add the attempt again with both.`,
    ),
  ];
}
