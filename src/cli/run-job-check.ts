// cli: a job folder → what is wrong with it, and how its findings come out when they are computed again.
import { countOf } from "../core/count-of.js";
import { type ErrorCode, ToolError } from "../core/errors.js";
import { visibleText } from "../report/visible-text.js";
import type { AttemptCheck } from "../store/check-attempt.js";
import { checkJob } from "../store/check-job.js";
import type { CheckProblem } from "../store/check-problem.js";
import type { CommandOutput } from "./command-output.js";
import type { JobCheckWords } from "./job-words.js";

const FINDINGS_WORDS: Readonly<Record<AttemptCheck["findings"], string>> = {
  same: "findings computed again, the same to the byte",
  "same-answer": "findings computed again by another version, the same answer",
  nearly: "findings computed again, the same but for last digits",
  changed: "findings computed again, and they differ",
  "not-checked": "findings not computed again",
};

/** Check a job and print what was found.
 *  @throws ToolError with the code of the first error if the job is not sound, after all problems were printed.
 */
export async function runJobCheck(
  folder: string,
  words: JobCheckWords,
  output: CommandOutput,
): Promise<void> {
  const check = await checkJob(folder, { recompute: words.recompute });
  const errors = check.problems.filter(({ severity }) => severity === "error");
  if (words.json === true) await output.result(`${JSON.stringify({ folder, ...check }, null, 2)}\n`);
  else {
    const shown = words.quiet === true ? errors : check.problems;
    const lines = shown.map((problem) => problemLine(problem, output));
    if (words.quiet !== true) {
      for (const { number, findings } of check.attempts) {
        lines.push(`Attempt ${number}: ${FINDINGS_WORDS[findings]}.`);
      }
      if (check.sound) lines.push(`${visibleText(folder)} is sound. Seal: ${check.seal}`);
    }
    if (lines.length > 0) await output.result(`${lines.join("\n")}\n`);
  }
  const first = errors[0];
  if (first === undefined) return;
  throw new ToolError(first.code as ErrorCode, {
    problem: `the job is not sound: ${countOf(errors.length, "error")}, see above`,
    fix: "Take what is damaged from a copy or a pack of the job; attempts without an error can be relied on",
    place: { file: folder },
  });
}

function problemLine({ severity, code, text }: CheckProblem, output: CommandOutput): string {
  const { bold, warn } = output.styles;
  const word = severity === "error" ? bold("error") : severity === "warning" ? warn("mind") : "note";
  // Errors of the readers begin with their code already.
  return `${word}: ${visibleText(text.startsWith(`${code}:`) ? text : `${code}: ${text}`)}`;
}
