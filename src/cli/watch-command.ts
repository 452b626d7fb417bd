// cli: the words of `faultglow watch` → its options, checked; the work itself is loaded only when it is asked for.
import { Command } from "commander";
import { ToolError } from "../core/errors.js";
import { addConditionOptions, type ConditionWords } from "./attempt-words.js";
import type { CommandOutput } from "./command-output.js";
import { addFrameOptions, checkFrameWords, type FrameWords } from "./frame-options.js";
import { numberOption } from "./number-option.js";

/** The options of `watch`, as they were given. */
export interface WatchWords extends Omit<FrameWords, "baseline" | "powered">, ConditionWords {
  readonly job: string;
  readonly baselineNames?: string;
  readonly poweredNames?: string;
  readonly order?: boolean;
  readonly gap?: number;
  readonly settle?: number;
  readonly patience?: number;
  readonly older?: boolean;
  readonly once?: boolean;
  /** False with --no-report. */
  readonly report: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Options of an attempt that hold for all attempts of a watch. */
const SHARED = [
  "--scale",
  "--gain",
  "--offset",
  "--unit",
  "--rate",
  "--after",
  "--cycle",
  "--board",
  "--view",
  "--volts",
  "--amps",
  "--false-alarms",
];

/** Describe `watch`. */
export function watchCommand(output: CommandOutput): Command {
  const command = new Command("watch")
    .summary("turn frames that drop into a folder into attempts of a job")
    .description(
      "Watch a folder that a camera's computer writes frames to, and add them to a job as attempts: a baseline, then " +
        "powered frames, which are analysed with the latest baseline of their size. Ends with Ctrl-C; a later run goes on " +
        "where it ended. Files are copied into the job; those in the folder stay as they are.",
    )
    .argument("<DIR>", "folder to watch, with the folders in it")
    .requiredOption("--job <DIR>", "folder of the job")
    .option(
      "--baseline-names <PATTERN>",
      "names of baseline frames, such as 'off*' or 'off/*'; without patterns, words in the names tell (off, baseline; on, powered, burst)",
    )
    .option(
      "--powered-names <PATTERN>",
      "names of powered frames; with one pattern, all others have the other role",
    )
    .option("--order", "tell roles by order alone: a baseline, then powered frames, then a baseline again")
    .option(
      "--gap <S>",
      "seconds without a frame after which a group is complete (default: 5)",
      numberOption("--gap", { what: "seconds", above: 0, atMost: 3600 }),
    )
    .option(
      "--settle <S>",
      "seconds for which a file must stay the same to be whole (default: 1)",
      numberOption("--settle", { what: "seconds", above: 0, atMost: 600 }),
    )
    .option(
      "--patience <S>",
      "seconds after which a file that can't be read is set aside (default: 10)",
      numberOption("--patience", { what: "seconds", above: 0, atMost: 3600 }),
    )
    .option("--older", "take frames too that are older than the job")
    .option("--once", "end when what is there has been taken");
  for (const option of addFrameOptions(new Command(), "attempt").options) {
    if (SHARED.includes(option.long ?? "")) command.addOption(option);
  }
  addConditionOptions(command)
    .option("--no-report", "leave the report of the job as it is")
    .option(
      "--json",
      "print a line of JSON for each thing that happens, and nothing else, on the standard output",
    )
    .option("--quiet", "print verdicts alone, and warnings and errors")
    .addHelpText(
      "after",
      "\nExamples:\n" +
        "  faultglow watch camera/ --job meter --after 20 --volts 0.9 --amps 0.21\n" +
        "  faultglow watch camera/ --job meter --baseline-names 'off*' --powered-names 'on*' --view view.json\n" +
        "  faultglow watch camera/ --job meter --order --older --once\n",
    )
    .action(async (folder: string, words: WatchWords) => {
      checkWords(words);
      const { runWatch } = await import("./run-watch.js");
      await runWatch(folder, words, output);
    });
  return command;
}

function checkWords(words: WatchWords): void {
  checkFrameWords({ ...words, baseline: [], powered: [] }, "attempt");
  if (words.order !== true || (words.baselineNames === undefined && words.poweredNames === undefined)) return;
  throw new ToolError("E_USAGE", {
    problem: "--order came with patterns of names, but roles are told by one of them",
    fix: "Keep one of the two",
  });
}
