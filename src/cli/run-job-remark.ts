// cli: the words of `job remark` and `job withdraw` → a line of the journal.
import { ToolError } from "../core/errors.js";
import { appendSaid } from "../store/append-said.js";
import type { CommandOutput } from "./command-output.js";
import type { JobSayWords, JobWithdrawWords } from "./job-words.js";
import { sayAdded } from "./say-outcome.js";

/** Keep a remark.
 *  @throws ToolError those of `appendSaid`.
 */
export async function runJobRemark(
  folder: string,
  text: string,
  words: JobSayWords,
  output: CommandOutput,
): Promise<void> {
  const entries = await appendSaid(folder, [{ type: "remark", text }], { at: words.at });
  await sayAdded(folder, entries, words, output);
}

/** Take a line back.
 *  @throws ToolError E_USAGE if it is no number; E_JOB_ENTRY if there is no such line to take back; those of
 *  `appendSaid`.
 */
export async function runJobWithdraw(
  folder: string,
  line: string,
  words: JobWithdrawWords,
  output: CommandOutput,
): Promise<void> {
  if (!/^[1-9]\d{0,8}$/.test(line)) {
    throw new ToolError("E_USAGE", {
      problem: `expected the number of a line, found "${line}"`,
      fix: "See the numbers with faultglow job show",
    });
  }
  const said = { type: "withdrawal" as const, seq: Number(line), reason: words.reason };
  await sayAdded(folder, await appendSaid(folder, [said]), words, output);
}
