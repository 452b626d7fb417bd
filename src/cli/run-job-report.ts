// cli: the words of `job report` → the report of a job, and a line that says where it is.
import { TOOL_VERSION } from "../core/tool-version.js";
import { visibleText } from "../report/visible-text.js";
import { writeJobReport } from "../store/write-job-report.js";
import type { CommandOutput } from "./command-output.js";
import { withProgress } from "./frame-progress.js";
import type { JobReportWords } from "./job-words.js";

/** Write the report of a job.
 *  @throws ToolError those of `writeJobReport`.
 */
export async function runJobReport(
  folder: string,
  words: JobReportWords,
  output: CommandOutput,
): Promise<void> {
  const audience = words.for ?? "repairer";
  const silent = words.quiet === true || words.json === true;
  const { html, pdf } = await withProgress(output, silent, ({ show }) =>
    writeJobReport(folder, audience, {
      toolVersion: TOOL_VERSION,
      out: words.out,
      useReadings: words.withoutReadings !== true,
      readings: words.tolerance,
      onFile: show,
    }),
  );
  if (words.json === true) {
    await output.result(`${JSON.stringify({ folder, for: audience, html, pdf }, null, 2)}\n`);
  } else if (words.quiet !== true) {
    await output.result(`Report: ${visibleText(html)}\nPDF:    ${visibleText(pdf)}\n`);
  }
}
