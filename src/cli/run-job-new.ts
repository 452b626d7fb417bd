// cli: the options of `job new` → a new job folder, and a line that says so.
import { symptomSchema } from "../job/job-schema.js";
import { visibleText } from "../report/visible-text.js";
import { createJob } from "../store/create-job.js";
import type { CommandOutput } from "./command-output.js";
import type { JobNewWords } from "./job-words.js";
import { printNotes } from "./say-outcome.js";

/** Begin a job.
 *  @throws ToolError E_USAGE, and those of `createJob`.
 */
export async function runJobNew(folder: string, words: JobNewWords, output: CommandOutput): Promise<void> {
  const job = await createJob(folder, {
    device: words.device,
    complaint: words.complaint,
    symptom: symptomOf(words),
    remark: words.remark,
    boards: words.board,
    at: words.at,
  });
  await printNotes(job.notes, words, output);
  const { id, device } = job.header;
  const boards = job.boards.map((board) => board.name);
  if (words.json === true) {
    await output.result(`${JSON.stringify({ folder, id, device, boards, seal: job.seal }, null, 2)}\n`);
  } else if (words.quiet !== true) {
    const maps = boards.length === 0 ? "no board map yet" : `board map: ${boards.join(", ")}`;
    await output.result(`Job ${id} begun in ${visibleText(folder)}: ${visibleText(`${device}, ${maps}`)}.\n`);
  }
}

function symptomOf(words: JobNewWords) {
  const { symptom: text, restartsAfter: restartsAfterS, draws: drawsA, connected } = words;
  const given = { text, restartsAfterS, connected, drawsA };
  if (Object.values(given).every((value) => value === undefined)) return undefined;
  return symptomSchema.parse(given);
}
