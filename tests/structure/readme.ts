// The README's parts that follow from the code: tables of codes, and what the tutorial's commands print.
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ERROR_CODES } from "../../src/core/errors.js";
import { NOTE_CODES } from "../../src/core/notes.js";
import { HOTSPOT_FLAGS } from "../../src/findings/findings-schema.js";
import { type CliRun, runCli } from "../cli/run-cli.js";
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

/** A command of the tutorial, and what the README says that it prints. */
export interface TutorialStep {
  /** The words after `faultglow`. */
  readonly words: readonly string[];
  /** What stands in the block of text that follows; null where none does. */
  readonly shown: string | null;
  /** Place of that text in the README. */
  readonly start: number;
  readonly end: number;
}

const STEP = /```sh\nnpx faultglow((?: |\\\n)[^`]*?)\n```\n(?:\n```text\n([^`]*?)\n```\n)?/g;

/** Find the commands of the README: blocks of one command, each with the text that it prints, if any, after it. */
export function tutorialSteps(readme: string): TutorialStep[] {
  return [...readme.matchAll(STEP)].map((match) => {
    const shown = match[2] ?? null;
    const end = match.index + match[0].length - "\n```\n".length;
    return { words: shellWords(match[1]!), shown, start: end - (shown?.length ?? 0), end };
  });
}

/** Split a command as a shell would: blanks part words, single quotes keep them, a backslash joins lines. */
function shellWords(text: string): string[] {
  const words = text.replaceAll("\\\n", " ").match(/'[^']*'|[^\s']+/g) ?? [];
  return words.map((word) => word.replace(/^'(.*)'$/, "$1"));
}

/** Run a command of the tutorial in a new folder that holds the sample frames and nothing else. */
export async function runStep(step: TutorialStep): Promise<CliRun> {
  const folder = mkdtempSync(join(tmpdir(), "faultglow-readme-"));
  try {
    symlinkSync(join(PROJECT, "sample-frames"), join(folder, "sample-frames"));
    return await runCli(step.words, { cwd: folder });
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** What a terminal shows of a run: remarks come before the result, as they are written first. */
export function shownText(run: CliRun): string {
  return (run.err + run.out).replace(/\n+$/, "");
}
