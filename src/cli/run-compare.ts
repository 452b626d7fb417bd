// cli: the options of `compare` → findings read, compared, printed and written.

import { ACTION_WORDS } from "../compare/action-words.js";
import { compareFindings } from "../compare/compare-findings.js";
import type { Action, Comparison } from "../compare/comparison-schema.js";
import { exceedProfile } from "../compare/exceed-profile.js";
import { makeProfile } from "../compare/make-profile.js";
import { parseProfile } from "../compare/parse-profile.js";
import type { Profile } from "../compare/profile-schema.js";
import { countOf } from "../core/count-of.js";
import { ToolError } from "../core/errors.js";
import type { Note } from "../core/notes.js";
import { TOOL_VERSION } from "../core/tool-version.js";
import type { Findings } from "../findings/findings-schema.js";
import { parseFindings } from "../findings/parse-findings.js";
import { readJsonFile } from "../read/read-json-file.js";
import { jsonPieces } from "../report/json-pieces.js";
import { COMPARISON_FORM, EXCESS_FORM, PROFILE_FORM } from "../report/result-forms.js";
import { visibleText } from "../report/visible-text.js";
import { writeComparisonFiles } from "../report/write-comparison-files.js";
import { writeOutputFiles } from "../report/write-output-files.js";
import { compareTwo } from "../store/compare-attempts.js";
import { openJob } from "../store/open-job.js";
import type { CommandOutput } from "./command-output.js";
import type { CompareWords } from "./compare-command.js";
import { isAttemptNumber } from "./is-attempt-number.js";
import { printComparison, printExcess, printProfile } from "./print-comparison.js";
import { printVerdict } from "./print-verdict.js";

/** Run `compare`: two attempts, one attempt against healthy ones, or healthy ones alone.
 *  @param files the earlier and the later attempt, one attempt, or none; of a job, numbers of its attempts.
 */
export async function runCompare(
  files: readonly string[],
  words: CompareWords,
  output: CommandOutput,
): Promise<void> {
  if (words.job !== undefined) return tellComparison(await compareInJob(words.job, files), words, output);
  const attempts: { findings: Findings; notes: Note[] }[] = [];
  for (const file of files) {
    const { value } = await readJsonFile(file).catch((error: unknown) => {
      throw files.every(isAttemptNumber) ? jobMissing(files, error) : error;
    });
    attempts.push(parseFindings(value, file));
  }
  const healthy = words.healthy === undefined ? null : await readHealthy(words.healthy);
  const notes = [...attempts.flatMap((attempt) => attempt.notes), ...(healthy?.notes ?? [])];
  const [first, second] = attempts;
  if (first === undefined) await tellProfile(healthy!.profile, words, output);
  else if (second === undefined) {
    await tellExcess(first.findings, files[0]!, healthy!.profile, notes, words, output);
  } else {
    const comparison = compareFindings(first.findings, second.findings, {
      actions: actionsOf(words),
      healthy: healthy?.profile ?? null,
      beforeFile: files[0]!,
      afterFile: files[1]!,
      notes,
    });
    await tellComparison(comparison, words, output);
  }
}

/** Numbers of attempts, and no word of the job; files of such names would have been read. */
function jobMissing(files: readonly string[], error: unknown): unknown {
  if (!(error instanceof ToolError) || error.code !== "E_JSON_READ") return error;
  return new ToolError("E_USAGE", {
    problem: `there is no file ${files[0]}, and nothing says of which job ${files.join(" and ")} would be attempts`,
    fix: `Write "faultglow compare --job DIR ${files.join(" ")}", or give the findings.json of each attempt`,
  });
}

/** Two attempts of a job, by their numbers.
 *  @throws ToolError E_USAGE if the job has no such attempt; those of `openJob` and `compareTwo`.
 */
async function compareInJob(folder: string, numbers: readonly string[]): Promise<Comparison> {
  const job = await openJob(folder);
  const [before, after] = numbers.map((word) => {
    const attempt = job.attempts.find((one) => one.attempt.number === Number(word));
    if (attempt !== undefined) return attempt;
    const known = job.attempts.map((one) => one.attempt.number).join(", ");
    throw new ToolError("E_USAGE", {
      problem: `the job has no attempt ${word}`,
      fix: known === "" ? "Add attempts with faultglow job attempt" : `It has ${known}`,
      place: { file: folder },
    });
  });
  return compareTwo(job, before!, after!, TOOL_VERSION);
}

async function tellComparison(
  comparison: Comparison,
  words: CompareWords,
  output: CommandOutput,
): Promise<void> {
  if (words.out !== undefined) {
    const written = await writeComparisonFiles(comparison, words.out);
    if (words.quiet !== true) await output.remark(`Comparison: ${visibleText(written.page)}\n`);
  }
  const json = [...jsonPieces(comparison, COMPARISON_FORM, "comparison")];
  await tell(json, comparison, printComparison(comparison, output.styles), words, output);
}

async function tellProfile(profile: Profile, words: CompareWords, output: CommandOutput): Promise<void> {
  const json = [...jsonPieces(profile, PROFILE_FORM, "profile")];
  await write(words, "profile.json", json, output);
  const verdict = `Profile of ${countOf(profile.attempts, "healthy attempt")}, ${countOf(profile.parts.length, "part")}.`;
  await tell(json, { verdict, notes: profile.notes }, printProfile(profile, output.styles), words, output);
}

async function tellExcess(
  findings: Findings,
  file: string,
  profile: Profile,
  notes: readonly Note[],
  words: CompareWords,
  output: CommandOutput,
): Promise<void> {
  const plain = exceedProfile(findings, profile, { file });
  const excess = { ...plain, notes: [...notes, ...plain.notes] };
  const json = [...jsonPieces(excess, EXCESS_FORM, "comparison with the healthy profile")];
  await write(words, "excess.json", json, output);
  await tell(json, excess, printExcess(excess, output.styles), words, output);
}

async function write(
  words: CompareWords,
  name: string,
  json: readonly string[],
  output: CommandOutput,
): Promise<void> {
  if (words.out === undefined) return;
  const [path] = await writeOutputFiles(words.out, [[name, json]]);
  if (words.quiet !== true) await output.remark(`Written: ${visibleText(path!)}\n`);
}

/** The result as JSON, as the verdict alone, or for a person. */
async function tell(
  json: readonly string[],
  short: Parameters<typeof printVerdict>[0],
  text: string,
  words: CompareWords,
  output: CommandOutput,
): Promise<void> {
  if (words.json === true) await output.result(json);
  else if (words.quiet === true) await printVerdict(short, output);
  else await output.result(text);
}

function actionsOf(words: CompareWords): Action[] {
  return ACTION_WORDS.flatMap((what) => (words[what] ?? []).map((ref): Action => ({ what, ref })));
}

/** One profile, or findings that make one. */
async function readHealthy(files: readonly string[]): Promise<{ profile: Profile; notes: Note[] }> {
  const read: { file: string; value: unknown }[] = [];
  for (const file of files) read.push({ file, value: (await readJsonFile(file)).value });
  const made = read.find(({ value }) => kindOf(value) === "faultglow/profile");
  if (made === undefined) {
    const healthy = read.map(({ file, value }) => parseFindings(value, file));
    const profile = makeProfile(
      healthy.map(({ findings }) => findings),
      files,
    );
    return { profile, notes: healthy.flatMap(({ notes }) => notes) };
  }
  if (read.length > 1) {
    throw new ToolError("E_USAGE", {
      problem: "--healthy takes one profile, or findings of good boards, found a profile among other files",
      fix: "Give the profile alone, or the findings that it was made from together with the others",
      place: { file: made.file },
    });
  }
  return parseProfile(made.value, made.file);
}

function kindOf(value: unknown): unknown {
  return typeof value === "object" && value !== null ? (value as { kind?: unknown }).kind : undefined;
}
