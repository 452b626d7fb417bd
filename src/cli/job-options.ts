// cli: the options that the commands of a job share.
import type { Command } from "commander";
import { ToolError } from "../core/errors.js";
import { isMoment } from "./is-moment.js";

/** Add the options that every command of a job has.
 *  @param quiet what the help says of `--quiet`.
 */
export function addCommon(command: Command, quiet = "print what matters most alone, and errors"): Command {
  return command
    .option("--json", "print the outcome as JSON, and nothing else, on the standard output")
    .option("--quiet", quiet);
}

/** Add the option for what is told later than it was. */
export function addMoment(command: Command): Command {
  return command.option(
    "--at <TIME>",
    "when it was, such as 2031-03-01T14:30:00+01:00 (default: now)",
    momentOption,
  );
}

function momentOption(word: string): string {
  if (isMoment(word)) return word;
  throw new ToolError("E_USAGE", {
    problem: `--at needs a moment with its offset, found "${word}"`,
    fix: "Write it such as 2031-03-01T14:30:00+01:00, or with Z for UTC",
  });
}

/** Make a parser for a date or a moment.
 *  @throws ToolError E_USAGE (from the parser) for anything else.
 */
export function dateOption(flag: string): (word: string) => string {
  return (word) => {
    const whole = /^\d{4}-\d{2}-\d{2}$/.test(word) && isMoment(`${word}T00:00:00Z`);
    if (whole || isMoment(word)) return word;
    throw new ToolError("E_USAGE", {
      problem: `${flag} needs a date or a moment, found "${word}"`,
      fix: "Write it such as 2031-03-01, or 2031-03-01T14:30:00+01:00",
    });
  };
}
