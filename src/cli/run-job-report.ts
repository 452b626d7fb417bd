// cli: the words of `job report` → the report of a job, and a line that says where it is.
import { ToolError } from "../core/errors.js";
import { TOOL_VERSION } from "../core/tool-version.js";
import { AUDIENCES, type Audience } from "../report/job-report-model.js";
import { visibleText } from "../report/visible-text.js";
import { writeJobReport } from "../store/write-job-report.js";
import type { CommandOutput } from "./command-output.js";
import { frameProgress } from "./frame-progress.js";
import type { JobReportWords } from "./job-words.js";

/** Write the report of a job.
 *  @throws ToolError E_USAGE if `--for` names nobody that there is a report for, and those of `writeJobReport`.
 */
export async function runJobReport(
  folder: string,
  words: JobReportWords,
  output: CommandOutput,
): Promise<void> {
  const audience = parseAudience(words.for ?? "repairer");
  const progress = frameProgress(output, words.quiet === true || words.json === true);
  const { html, pdf } = await writeJobReport(folder, audience, {
    toolVersion: TOOL_VERSION,
    out: words.out,
    useReadings: words.withoutReadings !== true,
    readings: words.tolerance,
    onFile: progress.show,
  });
  await progress.done();
  if (words.json === true) {
    await output.result(`${JSON.stringify({ folder, for: audience, html, pdf }, null, 2)}\n`);
  } else if (words.quiet !== true) {
    await output.result(`Report: ${visibleText(html)}\nPDF:    ${visibleText(pdf)}\n`);
  }
}

function parseAudience(text: string): Audience {
  const audience = AUDIENCES.find((name) => name === text);
  if (audience !== undefined) return audience;
  throw new ToolError("E_USAGE", {
    problem: `--for takes ${AUDIENCES.join(" or ")}, found "${text}"`,
    fix: "Write --for repairer for all figures, or --for customer for the short report without the maths",
  });
}
