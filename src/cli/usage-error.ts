// cli: an error of the option parser → an error in our own form, with what to do.
import type { CommanderError } from "commander";
import { ToolError } from "../core/errors.js";

/** Turn an error of the option parser into E_USAGE. Its hint ("Did you mean …?") becomes what to do.
 *  @param argv words of the command; the first one tells whose help to point to.
 *  @param commands names of the commands that there are.
 */
export function usageError(
  error: CommanderError,
  argv: readonly string[],
  commands: readonly string[],
): ToolError {
  const words = error.message.replace(/^error: /, "").trim();
  const hint = /\n\((.*)\)$/s.exec(words)?.[1];
  const problem = (hint === undefined ? words : words.slice(0, words.lastIndexOf("\n"))).replace(/\.$/, "");
  const name = nameOf(argv, commands);
  const listed =
    hint === undefined && problem.startsWith("unknown command") ? `There are ${commands.join(", ")}. ` : "";
  const help = `Run "faultglow${name === undefined ? "" : ` ${name}`} --help" to see the words it takes`;
  return new ToolError("E_USAGE", {
    problem: problem.replace(
      /^command-argument value '(.*)' is invalid for argument '(.*)'\./,
      "there is no $2 '$1'.",
    ),
    fix: hint === undefined ? listed + help : `${hint} ${help}`,
  });
}

/** Words that have commands after them, such as `job new`. */
const WITH_COMMANDS = ["job", "board"];

/** The command as its help is asked for, such as `job reading`. */
function nameOf(argv: readonly string[], commands: readonly string[]): string | undefined {
  const at = argv.findIndex((word) => commands.includes(word));
  const name = argv[at];
  const next = argv[at + 1];
  const isNext = name !== undefined && WITH_COMMANDS.includes(name) && /^[a-z]+$/.test(next ?? "");
  return isNext ? `${name} ${next}` : name;
}
