// cli: what was added to a job → a line on the terminal, or JSON.
import { ToolError } from "../core/errors.js";
import type { Note } from "../core/notes.js";
import { doubtLines } from "../job/doubt-lines.js";
import type { Entry } from "../job/entry-schema.js";
import { entryText } from "../job/parse-journal.js";
import { visibleText } from "../report/visible-text.js";
import type { AddedAttempt } from "../store/add-attempt.js";
import { sha256Of } from "../store/job-paths.js";
import { openJob } from "../store/open-job.js";
import type { CommandOutput } from "./command-output.js";
import { describeEntry } from "./describe-entry.js";
import type { JobWords } from "./job-words.js";

/** Say which lines were added, and what looks like a slip in them. */
export async function sayAdded(
  folder: string,
  entries: readonly Entry[],
  words: JobWords,
  output: CommandOutput,
): Promise<void> {
  const last = entries[entries.length - 1];
  if (last === undefined) return;
  const seal = sha256Of(entryText(last));
  const known = await remarkOnSlips(folder, entries[0]!.seq, words, output);
  if (words.json === true) {
    await output.result(`${JSON.stringify({ folder, added: entries, seal }, null, 2)}\n`);
  } else if (words.quiet !== true) {
    const lines = entries.map((entry) => `Line ${entry.seq}: ${visibleText(describeEntry(entry, known))}`);
    await output.result(`${lines.join("\n")}\n`);
  }
}

/** The lines stand by now: a job that can't be opened for another reason does not make them undone.
 *  @returns all lines of the journal; none where the job can't be opened.
 */
async function remarkOnSlips(
  folder: string,
  from: number,
  words: JobWords,
  output: CommandOutput,
): Promise<readonly Entry[]> {
  try {
    const job = await openJob(folder);
    await printNotes([...job.notes, ...doubtLines(job, from)], words, output);
    return job.entries;
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    await output.remark(`The job has a fault of another kind: ${visibleText(error.message)}\n`);
    return [];
  }
}

/** Print notes on stderr; with --quiet warnings alone. */
export async function printNotes(
  notes: readonly Note[],
  words: JobWords,
  output: CommandOutput,
): Promise<void> {
  for (const { code, severity, text } of notes) {
    if (words.quiet !== true) await output.remark(`${code}: ${visibleText(text)}\n`);
    else if (severity === "warning") await output.remark(`Warning: ${visibleText(text)}\n`);
  }
}

/** Print notes of an attempt that was added, and what looks like a slip in it. With --quiet those that its findings
 *  have, too, come with the verdict (`printVerdict`), and are not said twice.
 */
export async function printAttemptNotes(
  { attempt, job, notes }: Pick<AddedAttempt, "attempt" | "job" | "notes">,
  words: JobWords,
  output: CommandOutput,
): Promise<void> {
  const withVerdict = words.quiet === true && words.json !== true ? attempt.findings.notes : [];
  const own = notes.filter((one) => !withVerdict.some(({ text }) => text === one.text));
  await printNotes([...own, ...doubtLines(job, attempt.seq)], words, output);
}
