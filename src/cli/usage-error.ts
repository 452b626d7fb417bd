// cli: an error of the option parser → an error in our own form, with what to do.
import type { Argument, Command, CommanderError, Option } from "commander";
import { ToolError } from "../core/errors.js";

/** Turn an error of the option parser into E_USAGE. Its hint ("Did you mean …?") becomes what to do. Where something is
 *  missing, how the command is written stands there, and a mistyped option, which is why it is missing, is named.
 *  @param argv words of the command.
 *  @param program the commands that there are.
 */
export function usageError(error: CommanderError, argv: readonly string[], program: Command): ToolError {
  const { command, path, rest } = commandOf(argv, program);
  const help = `Run "faultglow${path} --help" to see the words it takes`;
  if (MISSING.includes(error.code)) {
    const [mistyped] = command.parseOptions(rest).unknown;
    const found = mistyped?.startsWith("-") ? `and there is no option ${mistyped}` : "which is not there";
    return new ToolError("E_USAGE", {
      problem: `${path.trim()} needs ${missingWord(error, command)}, ${found}`,
      fix: `Write "faultglow${path}${neededWords(command)}". ${help}`,
    });
  }
  const words = error.message.replace(/^error: /, "").trim();
  const hint = /\n\((.*)\)$/s.exec(words)?.[1];
  const said = (hint === undefined ? words : words.slice(0, words.lastIndexOf("\n"))).replace(/\.$/, "");
  // The parser says nothing of its own where help is asked for of a command that there is not.
  const problem =
    error.code === "commander.help" ? `unknown command '${argv[argv.indexOf("help") + 1]}'` : said;
  const unknown = /^unknown command '(.*)'/.exec(problem)?.[1];
  const likely = unknown === undefined ? [] : inGroups(unknown, program);
  const spelt = hint === undefined ? (unknown === undefined ? "" : listOf(program)) : `${hint} `;
  return new ToolError("E_USAGE", {
    problem: problem.replace(
      /^command-argument value '(.*)' is invalid for argument '(.*)'\./,
      "there is no $2 '$1'.",
    ),
    fix: `${likely.length === 0 ? spelt : `Did you mean ${likely.join(" or ")}? `}${help}`,
  });
}

/** What the parser calls it when something that can't be left out is not there. */
const MISSING = ["commander.missingMandatoryOptionValue", "commander.missingArgument"];

const listOf = (program: Command): string =>
  `There are ${program.commands.map((command) => command.name()).join(", ")}. `;

/** Commands of groups that are called so: `report` is one of `job`. */
function inGroups(word: string, { commands }: Command): string[] {
  return commands
    .filter((group) => group.commands.some((one) => one.name() === word))
    .map((group) => `"faultglow ${group.name()} ${word}"`);
}

/** The command that the words ask for, such as `job reading`, with the words after it. */
function commandOf(
  argv: readonly string[],
  program: Command,
): { command: Command; path: string; rest: string[] } {
  let command = program;
  let path = "";
  let at = -1;
  for (;;) {
    const next = argv.findIndex(
      (word, index) => index > at && command.commands.some((one) => one.name() === word),
    );
    if (next < 0 || (command !== program && next !== at + 1))
      return { command, path, rest: argv.slice(at + 1) };
    command = command.commands.find((one) => one.name() === argv[next])!;
    path += ` ${command.name()}`;
    at = next;
  }
}

/** What is missing, with what the help says of it. */
function missingWord({ message }: CommanderError, { registeredArguments, options }: Command): string {
  const name = /'(.*)'/s.exec(message)?.[1] ?? "";
  const says = [...options, ...registeredArguments].find((one) =>
    "flags" in one ? one.flags === name : one.name() === name,
  );
  return `${name}${says === undefined ? "" : ` (${says.description})`}`;
}

/** The words that a command can't do without, as they are written. */
function neededWords({ registeredArguments, options }: Command): string {
  const words = registeredArguments.filter(({ required }: Argument) => required);
  const needed = options.filter(({ mandatory }: Option) => mandatory);
  return [
    ...words.map((word) => ` ${word.name()}${word.variadic ? "..." : ""}`),
    ...needed.map(({ flags }) => ` ${flags.replace(/[<>]/g, "")}`),
  ].join("");
}
