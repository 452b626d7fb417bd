// store: an attempt of a job → whether its files are what they were, and its findings come out the same.
import { findDifference } from "../job/find-difference.js";
import { serialiseFindings } from "../report/serialise-findings.js";
import { analyseKept } from "./analyse-kept.js";
import { type CheckProblem, noteProblem } from "./check-problem.js";
import { framesOf } from "./job-files.js";
import { attemptName, frameName, sha256Of } from "./job-paths.js";
import { readAttempt } from "./open-job.js";
import { readJobFile } from "./read-job-file.js";
import type { StoreOptions } from "./store-options.js";

/** How an attempt came out. */
export interface AttemptCheck {
  readonly number: number;
  /** `same`: to the byte, by the same version; `same-answer`: by another version, with nothing else changed;
   *  `nearly`: numbers differ in their last digits; `changed`; `not-checked`: not asked for, or files are missing. */
  readonly findings: "same" | "same-answer" | "nearly" | "changed" | "not-checked";
  /** Version that made the findings. */
  readonly toolVersion: string | null;
}

/** Another processor or another version of Node may round the last bits of sines and exponentials otherwise, and sums
 *  pass that on: a millionth is far above that, and far below every uncertainty that is told. */
const NEARLY = 1e-6;

/** Check the hashes of an attempt's files and compute its findings again.
 *  @throws ToolError E_JOB_HASH and those of reading for the first file that can't be used.
 */
export async function checkAttempt(
  folder: string,
  number: number,
  sha256: string,
  { storage, toolVersion, recompute }: StoreOptions & { readonly recompute: boolean },
): Promise<AttemptCheck & { readonly problems: readonly CheckProblem[] }> {
  const { attempt, findings } = await readAttempt(folder, number, sha256, storage);
  for (const frame of framesOf(attempt)) await readJobFile(folder, frameName(frame), frame.sha256, storage);
  for (const [name, hash] of Object.entries(attempt.files)) {
    await readJobFile(folder, `${attemptName(number)}/${name}`, hash, storage);
  }
  const made = { number, toolVersion: attempt.tool.version };
  if (!recompute) return { ...made, findings: "not-checked", problems: [] };
  const analysis = await analyseKept(folder, attempt, { storage, toolVersion });
  const again = serialiseFindings(analysis.findings);
  if (sha256Of(again) === attempt.files["findings.json"]) return { ...made, findings: "same", problems: [] };
  const after = JSON.parse(again) as typeof findings;
  const before = JSON.parse(serialiseFindings(findings)) as typeof findings;
  return { ...made, ...compare(number, before, after, attempt.tool.version, toolVersion) };
}

function compare(
  number: number,
  before: { tool: { version: string }; verdict: string },
  after: { tool: { version: string }; verdict: string },
  madeBy: string,
  version: string,
): Pick<AttemptCheck, "findings"> & { problems: CheckProblem[] } {
  const sameTool = { ...after, tool: before.tool };
  const exact = findDifference(before, sameTool, 0);
  const versions = `Attempt ${number} was analysed by version ${madeBy}, this is ${version}`;
  if (exact === null) {
    const text = `${versions}: the answer is the same.`;
    return { findings: "same-answer", problems: [noteProblem("N_JOB_VERSION", number, text)] };
  }
  const where = `${exact.path}, then ${shown(exact.before)}, now ${shown(exact.after)}`;
  if (findDifference(before, sameTool, NEARLY) === null) {
    const text = `Attempt ${number}, computed again, differs in last digits alone (${where}): another processor or Node.`;
    return { findings: "nearly", problems: [noteProblem("N_JOB_DIGITS", number, text)] };
  }
  if (madeBy !== version) {
    const verdicts =
      before.verdict === after.verdict
        ? "the verdict is the same"
        : `the verdict was "${before.verdict}" and is "${after.verdict}"`;
    const text = `${versions}: the findings differ (${where}); ${verdicts}.`;
    return { findings: "changed", problems: [noteProblem("N_JOB_VERSION", number, text)] };
  }
  const text = `attempt ${number}, computed again by the same version, comes out otherwise: ${where}`;
  return {
    findings: "changed",
    problems: [{ severity: "error", code: "E_JOB_FINDINGS", attempt: number, text }],
  };
}

function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? "nothing";
  return text.length > 60 ? `${text.slice(0, 59)}…` : text;
}
