// The README's parts that follow from the code: tables of codes, and what the tutorial's commands print.
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ERROR_CODES } from "../../src/core/errors.js";
import { NOTE_CODES } from "../../src/core/notes.js";
import { HOTSPOT_FLAGS } from "../../src/findings/hotspot-flags.js";
import { runCli } from "../cli/run-cli.js";
import { PROJECT } from "./project.js";

/** Tables of the README by heading, as the code has them. */
export function codeTables(): Map<string, string> {
  return new Map([
    [
      "## Errors",
      table(
        ["code", "what it says"],
        Object.entries(ERROR_CODES).map(([code, meaning]) => [`\`${code}\``, meaning]),
      ),
    ],
    [
      "## Notes",
      table(
        ["code", "severity", "what it says"],
        Object.entries(NOTE_CODES).map(([code, { severity, meaning }]) => [`\`${code}\``, severity, meaning]),
      ),
    ],
    [
      "## Flags of hotspots",
      table(
        ["flag", "what it says"],
        Object.entries(HOTSPOT_FLAGS).map(([flag, meaning]) => [`\`${flag}\``, meaning]),
      ),
    ],
  ]);
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [line(head), line(head.map(() => "---")), ...rows.map((row) => line(row))].join("\n");
}

/** Put a table in the place of the one under a heading. */
export function replaceTable(readme: string, heading: string, text: string): string {
  const at = readme.indexOf(`\n${heading}\n`);
  if (at < 0) throw new Error(`the README has no "${heading}"`);
  const start = readme.indexOf("\n| ", at) + 1;
  const end = /\n(?!\|)/.exec(readme.slice(start))!.index + start;
  return readme.slice(0, start) + text + readme.slice(end);
}

/** A block of commands of the tutorial, and what the README says that they print. */
export interface TutorialStep {
  /** The words after `faultglow`, of one command after the other. */
  readonly commands: readonly (readonly string[])[];
  /** What stands in the block of text that follows; null where none does. */
  readonly shown: string | null;
  /** Place of that text in the README. */
  readonly start: number;
  readonly end: number;
}

const STEP = /```sh\n(npx faultglow [^`]*?)\n```\n(?:\n```text\n([^`]*?)\n```\n)?/g;

/** Find the commands of the README: blocks that begin with `npx faultglow`, each with the text that it prints, if
 *  any. */
export function tutorialSteps(readme: string): TutorialStep[] {
  return [...readme.matchAll(STEP)].map((match) => {
    const lines = match[1]!.replaceAll("\\\n", " ").split("\n");
    const other = lines.find((line) => !line.startsWith("npx faultglow "));
    if (other !== undefined)
      throw new Error(`the README has a line among its commands that is none: ${other}`);
    const shown = match[2] ?? null;
    const end = match.index + match[0].length - "\n```\n".length;
    const commands = lines.map((line) => shellWords(line.slice("npx faultglow ".length)));
    return { commands, shown, start: end - (shown?.length ?? 0), end };
  });
}

/** Split a command as a shell would: blanks part words, quotes keep them together. */
export function shellWords(text: string): string[] {
  const words = text.match(/'[^']*'|"[^"]*"|[^\s'"]+/g) ?? [];
  return words.map((word) => word.replace(/^(['"])(.*)\1$/, "$2"));
}

/** What came of a block of commands. */
export interface StepRun {
  /** Exit status of its last command; those before it went well. */
  readonly status: number | null;
  /** What a terminal shows, as it may stand in the README. */
  readonly shown: string;
}

/** Run the tutorial from its first command to its last, in one new folder that holds the sample frames and nothing
 *  else: later commands work on what earlier ones wrote. A block ends at its first command that fails.
 *  @returns one entry for each step. */
export async function runTutorial(steps: readonly TutorialStep[]): Promise<StepRun[]> {
  const folder = mkdtempSync(join(tmpdir(), "faultglow-readme-"));
  try {
    symlinkSync(join(PROJECT, "sample-frames"), join(folder, "sample-frames"));
    const runs: StepRun[] = [];
    for (const { commands } of steps) runs.push(await runStep(commands, folder));
    return runs;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function runStep(commands: TutorialStep["commands"], cwd: string): Promise<StepRun> {
  let status: number | null = 0;
  let text = "";
  for (const words of commands) {
    const run = await runCli(words, { cwd });
    // Remarks come before the result, as they are written first.
    text += run.err + run.out;
    status = run.status;
    if (status !== 0) break;
  }
  return { status, shown: withExamples(text.replace(/\n+$/, "")) };
}

/** Put examples in the place of what is another in every run: the job's number, the seal, and when it was. */
function withExamples(text: string): string {
  return text
    .replace(/\b[0-9a-f]{64}\b/g, "e5a16f31f22a7c6edce196ca1b45c1bf555d7910bb574dc368779fb822c8661f")
    .replace(/\b[0-9a-f]{16}\b/g, "393dced145c51e97")
    .replace(/\b20\d\d-\d\d-\d\d \d\d:\d\d\b/g, "2031-03-01 14:30");
}
