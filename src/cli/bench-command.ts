// cli: the words of `faultglow bench` → its options; the work itself is loaded only when it is asked for.
import { Command } from "commander";
import { ToolError } from "../core/errors.js";
import type { CommandOutput } from "./command-output.js";

/** The options of `bench`, as they were given. */
export interface BenchWords {
  readonly jobs?: string;
  readonly port?: number;
  readonly json?: boolean;
}

/** Describe `bench`. */
export function benchCommand(output: CommandOutput): Command {
  return new Command("bench")
    .summary("serve the page to drop frames on, on this machine alone")
    .description(
      "Serve the page: drop frames, draw the board, read the answer. It can be reached from this machine alone, by the " +
        "address that is printed. Jobs are folders; the command line can work on them at the same time. Ctrl-C ends it.",
    )
    .option("--jobs <DIR>", "folder of the jobs (default: faultglow-jobs in your home folder)")
    .option(
      "--port <N>",
      "port to listen at; 0 for any that is free (default: 4977 or one of the next nine)",
      portOption,
    )
    .option("--json", "print the address as a line of JSON, and nothing else, on the standard output")
    .addHelpText(
      "after",
      "\nExamples:\n" +
        "  faultglow bench\n" +
        "  faultglow bench --jobs repairs                      jobs in a folder of their own\n" +
        "  faultglow bench --port 0 --json                     any free port; the address for a script\n",
    )
    .action(async (words: BenchWords) => {
      const { runBench } = await import("./run-bench.js");
      await runBench(words, output);
    });
}

/** Read a port from a word. @throws ToolError E_USAGE. */
export function portOption(word: string): number {
  const port = /^\d{1,5}$/.test(word) ? Number(word) : Number.NaN;
  if (port <= 65_535) return port;
  throw new ToolError("E_USAGE", {
    problem: `--port needs a whole number from 0 to 65535, found "${word}"`,
    fix: "Leave it out, and the first of 4977 to 4986 that is free is taken",
  });
}
