// cli: the sample frames → the whole job on each attempt, held against what was made to heat.
import { readdir } from "node:fs/promises";
import { isAbsolute, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import * as z from "zod";
import { ToolError } from "../core/errors.js";
import { formatProbability } from "../core/format-quantity.js";
import type { Findings } from "../findings/findings-schema.js";
import { readJsonFile } from "../read/read-json-file.js";
import { visibleText } from "../report/visible-text.js";
import { writeReportFiles } from "../report/write-report-files.js";
import type { CommandOutput } from "./command-output.js";
import type { DemoWords } from "./demo-command.js";
import { analyseWords } from "./run-find.js";

/** What attempt.json says: which frames, and what was known at the bench. File names are relative to its folder. */
const attemptSchema = z.object({
  title: z.string(),
  story: z.string(),
  baseline: z.array(z.string()).min(1),
  powered: z.array(z.string()).min(1),
  board: z.string(),
  view: z.string(),
  scale: z.object({ lowC: z.number(), highC: z.number() }).nullable(),
  rateHz: z.number().positive().nullable(),
  afterS: z.number().positive().nullable(),
  volts: z.number().positive().nullable(),
  amps: z.number().positive().nullable(),
});

/** What truth.json says: the parts that were made to heat. */
const truthSchema = z.object({
  sources: z.array(z.object({ ref: z.string(), fault: z.boolean() })).min(1),
});

/** How one attempt came out. */
interface Outcome {
  /** Its folder. */
  readonly attempt: string;
  readonly title: string;
  readonly story: string;
  readonly verdict: string;
  readonly firstSuspect: string | null;
  readonly probability: number | null;
  readonly truth: string;
  readonly right: boolean;
  readonly report: string;
}

/** Run the demo. An answer that is not the true part is a fault of ours: the frames come with the tool.
 *  @throws Error (exit status 1) naming the attempts whose first suspect is not the true part.
 */
export async function runDemo(words: DemoWords, output: CommandOutput): Promise<void> {
  const folder = sampleFolder();
  const names = await attemptFolders(folder);
  const talks = words.json !== true && words.quiet !== true;
  if (talks) {
    await output.result(
      "These frames are invented: computed pictures of a board that does not exist, with one part made to heat.\n",
    );
  }
  const outcomes: Outcome[] = [];
  for (const name of names) {
    const outcome = await runAttempt(join(folder, name), name, words, output);
    outcomes.push(outcome);
    if (talks) await output.result(outcomeText(outcome, output));
  }
  if (words.json === true)
    await output.result(`${JSON.stringify({ invented: true, attempts: outcomes }, null, 2)}\n`);
  const wrong = outcomes.filter((outcome) => !outcome.right).map((outcome) => outcome.attempt);
  if (wrong.length > 0)
    throw new Error(`the demo's first suspect is not the true part in: ${wrong.join(", ")}`);
  if (talks)
    await output.result(
      `\nOpen ${visibleText(outcomes[0]?.report ?? words.out)} to see the first report. How to take frames of your own: faultglow guide taking-frames.\n`,
    );
}

/** The frames beside the tool; named from the working folder where they lie below it, so that reports stay alike. */
function sampleFolder(): string {
  const folder = fileURLToPath(new URL("../../sample-frames", import.meta.url));
  const near = relative(process.cwd(), folder);
  return near === "" || near.startsWith("..") || isAbsolute(near) ? folder : near;
}

/** Attempts are the folders that hold an attempt.json, by name. */
async function attemptFolders(folder: string): Promise<string[]> {
  const names: string[] = [];
  for (const entry of (await readdir(folder, { withFileTypes: true })).sort((a, b) =>
    a.name < b.name ? -1 : 1,
  )) {
    if (!entry.isDirectory()) continue;
    if ((await readdir(join(folder, entry.name))).includes("attempt.json")) names.push(entry.name);
  }
  if (names.length > 0) return names;
  throw new ToolError("E_FRAME_NONE", {
    problem: "expected sample attempts beside the tool, found none",
    fix: "Install the package again: its sample-frames folder is missing or empty",
    place: { file: folder },
  });
}

async function runAttempt(
  folder: string,
  name: string,
  words: DemoWords,
  output: CommandOutput,
): Promise<Outcome> {
  const attempt = attemptSchema.parse((await readJsonFile(join(folder, "attempt.json"))).value);
  const truth = truthSchema.parse((await readJsonFile(join(folder, "truth.json"))).value);
  const inFolder = (file: string): string => join(folder, file);
  const analysis = await analyseWords(
    {
      baseline: attempt.baseline.map(inFolder),
      powered: attempt.powered.map(inFolder),
      board: inFolder(attempt.board),
      view: inFolder(attempt.view),
      ...(attempt.scale === null ? {} : { scale: attempt.scale }),
      ...(attempt.rateHz === null ? {} : { rate: attempt.rateHz }),
      ...(attempt.afterS === null ? {} : { after: attempt.afterS }),
      ...(attempt.volts === null ? {} : { volts: attempt.volts }),
      ...(attempt.amps === null ? {} : { amps: attempt.amps }),
      quiet: words.quiet === true,
    },
    output,
  );
  const subtitle = `Invented sample frames. ${attempt.title}. ${attempt.story}`;
  const files = await writeReportFiles(analysis, join(words.out, name), { subtitle });
  return judge(name, attempt, analysis.findings, truth, files.report);
}

function judge(
  name: string,
  attempt: z.infer<typeof attemptSchema>,
  findings: Findings,
  truth: z.infer<typeof truthSchema>,
  report: string,
): Outcome {
  const faults = truth.sources.filter((source) => source.fault).map((source) => source.ref);
  const first = findings.suspects.find((suspect) => !suspect.normallyWarm);
  return {
    attempt: name,
    title: attempt.title,
    story: attempt.story,
    verdict: findings.verdict,
    firstSuspect: first?.ref ?? null,
    probability: first?.probability ?? null,
    truth: faults.join(", "),
    right: first !== undefined && faults.includes(first.ref),
    report,
  };
}

function outcomeText(outcome: Outcome, output: CommandOutput): string {
  const chance = outcome.probability === null ? "" : ` (${formatProbability(outcome.probability)})`;
  const judgement = outcome.right ? "Right." : output.styles.warn("Wrong.");
  return [
    "",
    output.styles.bold(visibleText(outcome.title)),
    `  ${visibleText(outcome.story)}`,
    `  ${visibleText(outcome.verdict)}`,
    `  First suspect: ${visibleText(outcome.firstSuspect ?? "none")}${chance}. Made to heat: ${visibleText(outcome.truth)}. ${judgement}`,
    `  Report: ${visibleText(outcome.report)}`,
    "",
  ].join("\n");
}
