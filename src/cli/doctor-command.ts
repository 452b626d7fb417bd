// cli: the words of `faultglow doctor` → its options; the work itself is loaded only when it is asked for.
import { Command } from "commander";
import { portOption } from "./bench-command.js";
import type { CommandOutput } from "./command-output.js";

/** The options of `doctor`, as they were given. */
export interface DoctorWords {
  readonly jobs?: string;
  readonly port?: number;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Describe `doctor`. */
export function doctorCommand(output: CommandOutput): Command {
  return new Command("doctor")
    .summary("say whether this machine is fit for the work, and what to do")
    .description(
      "Look at what faultglow needs of this machine: Node, its own files, reading and writing of pictures, room and " +
        "permission on the disk, memory, a browser and a port for the bench. Each line says ok, look or not ok, and what " +
        "to do. Nothing is changed. Exit status 2 if something needed is not ok.",
    )
    .option("--jobs <DIR>", "folder of the jobs (default: faultglow-jobs in your home folder)")
    .option(
      "--port <N>",
      "port that the bench is to listen at (default: 4977 or one of the next nine)",
      portOption,
    )
    .option("--json", "print the list as JSON, and nothing else, on the standard output")
    .option("--quiet", "print what is not ok alone")
    .action(async (words: DoctorWords) => {
      const { runDoctor } = await import("./run-doctor.js");
      await runDoctor(words, output);
    });
}
