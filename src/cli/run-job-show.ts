// cli: a job folder → all that was said, in its order, and where it stands.
import { weighJob } from "../evidence/weigh-job.js";
import { visibleText } from "../report/visible-text.js";
import { openJob } from "../store/open-job.js";
import type { CommandOutput } from "./command-output.js";
import type { JobWeighWords } from "./job-words.js";
import { printJob } from "./print-job.js";
import { printNotes } from "./say-outcome.js";

/** Tell a job.
 *  @throws ToolError those of `openJob`.
 */
export async function runJobShow(folder: string, words: JobWeighWords, output: CommandOutput): Promise<void> {
  const job = await openJob(folder);
  await printNotes(job.notes, words, output);
  const options = { useReadings: words.withoutReadings !== true, readings: words.tolerance };
  const evidence = job.attempts.length + job.readings.length === 0 ? null : weighJob(job, options);
  if (words.json === true) {
    const shown = { folder, ...job, withdrawn: [...job.withdrawn], evidence };
    await output.result(`${JSON.stringify(shown, null, 2)}\n`);
  } else if (words.quiet === true) {
    await output.result(`${visibleText(evidence?.verdict ?? "No attempt yet.")}\n`);
  } else await output.result(printJob(job, evidence, output.styles));
}
