// cli: a folder and what is looked for → a list of jobs.
import { visibleText } from "../report/visible-text.js";
import { indexJobs } from "../store/index-jobs.js";
import type { CommandOutput } from "./command-output.js";
import type { JobIndexWords } from "./job-words.js";
import { textTable } from "./text-table.js";

/** List jobs. Those that can't be opened are named on stderr, for they may be meant, too.
 *  @throws ToolError those of `indexJobs`.
 */
export async function runJobIndex(
  folder: string,
  words: JobIndexWords,
  output: CommandOutput,
): Promise<void> {
  const { json, quiet, ...query } = words;
  const index = await indexJobs(folder, query);
  if (json === true) {
    await output.result(`${JSON.stringify({ folder, query, ...index }, null, 2)}\n`);
    return;
  }
  for (const { problem } of index.unreadable) await output.remark(`${visibleText(problem)}\n`);
  if (quiet === true) {
    await output.result(index.jobs.map((job) => `${visibleText(job.folder)}\n`).join(""));
    return;
  }
  if (index.jobs.length === 0) {
    const where = visibleText(folder);
    const none =
      index.looked === 0
        ? `There is no job in ${where} and the folders in it (four deep).`
        : `No job in ${where} fits; jobs looked at: ${index.looked}.`;
    await output.result(`${none}\n`);
    return;
  }
  const [head, ...rows] = textTable(
    [
      { title: "Last" },
      { title: "Device" },
      { title: "Attempts", right: true },
      { title: "Parts" },
      { title: "Folder" },
    ],
    index.jobs.map((job) => [
      job.lastAt.slice(0, 10),
      visibleText(job.device),
      String(job.attempts),
      visibleText([...new Set(job.parts.map(({ ref }) => ref))].slice(0, 6).join(" ")),
      visibleText(job.folder),
    ]),
  );
  await output.result(`${[output.styles.dim(head ?? ""), ...rows].join("\n")}\n`);
}
