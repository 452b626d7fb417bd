// cli: the words of `faultglow find` → its options, checked; the work itself is loaded only when it is asked for.
import { Command } from "commander";
import type { CommandOutput } from "./command-output.js";
import { addFrameOptions, checkFrameWords, type FrameWords } from "./frame-options.js";

/** The options of `find`, as they were given. */
export interface FindWords extends FrameWords {
  readonly out?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly timings?: boolean;
}

/** Describe `find`. */
export function findCommand(output: CommandOutput): Command {
  const command = new Command("find")
    .summary("say which part is the source of heat")
    .description(
      "Compare frames taken before power-on with frames taken under power, and rank what heats.\n" +
        "F is a file, a folder or a pattern such as 'off-*.csv': CSV and text matrices, 16-bit or 8-bit grey PNG, grey TIFF.",
    );
  addFrameOptions(command, "find")
    .option(
      "--out <DIR>",
      "write report.html, findings.json and overlay.png into this folder; with another view overlay-other.png too",
    )
    .option("--json", "print the findings as JSON, and nothing else, on the standard output")
    .option("--quiet", "print the verdict alone, and warnings and errors")
    .option("--timings", "print how long each part of the run took, on the standard error")
    .addHelpText(
      "after",
      "\nExamples:\n" +
        "  faultglow find --baseline off.csv --powered on.csv\n" +
        "  faultglow find --baseline off.csv --powered on.csv --board board.json --view view.json \\\n" +
        "      --after 20 --volts 0.9 --amps 0.21 --out report\n" +
        "  faultglow find --baseline off/ --powered 'burst-*.png' --scale 15:45 --rate 9 \\\n" +
        "      --board board.json --view view.json --volts 1.0 --amps 0.4 --out report\n" +
        "  faultglow find --baseline top-off.csv --powered top-on.csv --board board.json --view top.json \\\n" +
        "      --other-baseline bottom-off.csv --other-powered bottom-on.csv --other-view bottom.json\n",
    );
  command.action(async (words: FindWords) => {
    checkFrameWords(words, "find");
    // Before all else that the work needs, which takes as long to load as the engine to make good code of half the
    // kernels.
    const { readyKernels } = await import("../numeric/kernels.js");
    readyKernels();
    const { runFind } = await import("./run-find.js");
    await runFind(words, output);
  });
  return command;
}
