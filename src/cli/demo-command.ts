// cli: the words of `faultglow demo` → its options; the work itself is loaded only when it is asked for.
import { Command } from "commander";
import type { CommandOutput } from "./command-output.js";

/** The options of `demo`, as they were given. */
export interface DemoWords {
  readonly out: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Where the demo's reports go unless told otherwise. */
const DEMO_FOLDER = "faultglow-out";

/** Describe `demo`. */
export function demoCommand(output: CommandOutput): Command {
  return new Command("demo")
    .summary("run the whole job on the frames that come with the tool")
    .description(
      "Run the whole job on the sample frames, compare each answer with the part that was made to heat, " +
        "and write the reports. The frames are invented: a computed board of a device that does not exist.",
    )
    .option("--out <DIR>", "folder for the reports", DEMO_FOLDER)
    .option("--json", "print the outcome as JSON, and nothing else, on the standard output")
    .option("--quiet", "print errors alone")
    .action(async (words: DemoWords) => {
      const { runDemo } = await import("./run-demo.js");
      await runDemo(words, output);
    });
}
