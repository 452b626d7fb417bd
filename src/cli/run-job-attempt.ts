// cli: the options of `job attempt` → an attempt added, and its findings printed.
import { findingsPieces } from "../report/serialise-findings.js";
import { visibleText } from "../report/visible-text.js";
import { addAttempt } from "../store/add-attempt.js";
import { attemptName } from "../store/job-paths.js";
import { attemptConditions, attemptOptions } from "./attempt-words.js";
import type { CommandOutput } from "./command-output.js";
import { withProgress } from "./frame-progress.js";
import type { JobAttemptWords } from "./job-words.js";
import { printFindings } from "./print-findings.js";
import { printVerdict } from "./print-verdict.js";
import { printAttemptNotes } from "./say-outcome.js";

/** Told where the job has a map and the attempt does not use it. */
const LEFT_OUT =
  "The job has a board map, but no view said how these frames show it, so no part is named. Add them again with --view F, or with --view-from N if attempt N saw the same side; `faultglow job withdraw` takes this attempt back.";

/** Add an attempt. With --json the findings are printed as `find` prints them: the same frames, the same findings.
 *  @throws ToolError those of `addAttempt`.
 */
export async function runJobAttempt(
  folder: string,
  words: JobAttemptWords,
  output: CommandOutput,
): Promise<void> {
  const request = {
    baseline: words.baseline,
    powered: words.powered,
    view: words.view,
    viewFrom: words.viewFrom,
    board: words.board,
    otherBaseline: words.otherBaseline,
    otherPowered: words.otherPowered,
    otherView: words.otherView,
    options: attemptOptions(words),
    conditions: attemptConditions(words),
    at: words.at,
  };
  const added = await withProgress(output, words.quiet === true, ({ show }) =>
    addAttempt(folder, request, { onFile: show }),
  );
  await printAttemptNotes(added, words, output);
  const { attempt, job } = added;
  const { number } = attempt.attempt;
  if (words.json === true) {
    await output.result(findingsPieces(attempt.findings));
    return;
  }
  if (words.quiet === true) {
    await printVerdict(attempt.findings, output);
    return;
  }
  const left = job.boards.length > 0 && attempt.board === null ? `${LEFT_OUT}\n\n` : "";
  await output.result(
    `Attempt ${number} of ${visibleText(job.header.device)}: ${visibleText(`${folder}/${attemptName(number)}/report.html`)}\n\n${left}` +
      printFindings(attempt.findings, output.styles),
  );
}
