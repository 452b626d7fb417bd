// cli: the words of `faultglow compare` → its options, checked; the work itself is loaded only when it is asked for.
import { Command, Option } from "commander";
import { ACTION_WORDS } from "../compare/action-words.js";
import { ToolError } from "../core/errors.js";
import type { CommandOutput } from "./command-output.js";
import { isAttemptNumber } from "./is-attempt-number.js";

/** The options of `compare`, as they were given. */
export interface CompareWords {
  readonly job?: string;
  readonly healthy?: readonly string[];
  readonly replaced?: readonly string[];
  readonly lifted?: readonly string[];
  readonly reflowed?: readonly string[];
  readonly cleaned?: readonly string[];
  readonly changed?: readonly string[];
  readonly out?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Describe `compare`. */
export function compareCommand(output: CommandOutput): Command {
  const command = new Command("compare")
    .summary("say what changed between two attempts")
    .description(
      "Compare the findings of two attempts on one board, the earlier one first.\n" +
        "With --healthy, say what is more than good boards of the same map show.\n" +
        "With --job, compare two attempts of a job by their numbers: the rest is known from there.",
    )
    .argument(
      "[F...]",
      "findings.json of the earlier attempt, then of the later one; with --job their numbers",
    )
    .option("--job <DIR>", "folder of a job; F are then numbers of its attempts")
    .option("--healthy <F...>", "findings of good boards of the same map, or a profile.json made from such")
    .option("--out <DIR>", "write comparison.json and comparison.html, or profile.json, into this folder")
    .option("--json", "print the comparison as JSON, and nothing else, on the standard output")
    .option("--quiet", "print the verdict alone, and warnings and errors")
    .addHelpText(
      "after",
      "\nExamples:\n" +
        "  faultglow compare first/findings.json second/findings.json --replaced C6\n" +
        "  faultglow compare first/findings.json second/findings.json --healthy good-*.json --out comparison\n" +
        "  faultglow compare --job meter 1 3\n" +
        "  faultglow compare --healthy good-1.json good-2.json good-3.json --out good\n" +
        "  faultglow compare attempt/findings.json --healthy good/profile.json\n",
    );
  for (const [what, words] of [
    ["replaced", "a part that was replaced between the attempts; may be given again"],
    ["lifted", "a part that was lifted off the board between the attempts; may be given again"],
    ["reflowed", "a part that was reflowed between the attempts; may be given again"],
    ["cleaned", "a part that was cleaned between the attempts; may be given again"],
    ["changed", "a part that something else was done to between the attempts; may be given again"],
  ] as const) {
    command.addOption(
      new Option(`--${what} <REF>`, words).argParser((ref: string, before: string[] | undefined) => [
        ...(before ?? []),
        ref,
      ]),
    );
  }
  command.action(async (files: string[], words: CompareWords) => {
    if (words.job === undefined) checkFiles(files, words);
    else checkNumbers(files, words);
    const { runCompare } = await import("./run-compare.js");
    await runCompare(files, words, output);
  });
  return command;
}

/** Two findings; or one or none with healthy ones beside.
 *  @throws ToolError E_USAGE.
 */
function checkFiles(files: readonly string[], words: CompareWords): void {
  const most = 2;
  if (files.length === most || (files.length < most && words.healthy !== undefined)) return;
  throw new ToolError("E_USAGE", {
    problem:
      files.length > most
        ? `compare takes the findings of two attempts, found ${files.length} files`
        : `compare needs the findings of two attempts, found ${files.length === 0 ? "none" : "one file"}`,
    fix: 'Write "faultglow compare EARLIER.json LATER.json", or give good boards with --healthy after the files',
  });
}

/** Two attempts of a job; all else is in the job.
 *  @throws ToolError E_USAGE.
 */
function checkNumbers(files: readonly string[], words: CompareWords): void {
  const known = ["healthy", ...ACTION_WORDS].filter(
    (name) => words[name as keyof CompareWords] !== undefined,
  );
  if (known.length > 0) {
    throw new ToolError("E_USAGE", {
      problem: `--job came with --${known.join(", --")}, but a job knows its good boards and what was done`,
      fix: "Leave them out, or give two files in place of --job",
    });
  }
  if (files.length === 2 && files.every(isAttemptNumber)) {
    if (files[0] !== files[1]) return;
    throw new ToolError("E_USAGE", {
      problem: `compare --job was given attempt ${files[0]} twice, and nothing can have changed between the two`,
      fix: "Give the numbers of two attempts, the earlier one first; faultglow job show DIR tells them",
    });
  }
  throw new ToolError("E_USAGE", {
    problem: `compare --job needs the numbers of two attempts, found ${files.length === 0 ? "none" : files.join(" ")}`,
    fix: 'Write "faultglow compare --job DIR 1 2"; faultglow job show DIR tells the numbers',
  });
}
