// cli: words that ask for help by a word → the same with --help, for whichever command they name.
import type { Command } from "commander";
import { refuseWords } from "./refuse-words.js";

/** The word that asks for help, before the name of a command or behind that of a group. */
const HELP = "help";

/** `help job report` and `job help report` ask for what `job report --help` does. The parser's own word looks at the
 *  first name alone.
 *  @param describe makes the program, of which the commands named are needed.
 *  @returns the words as they are where they ask for no help of a command, or for that of one that there is not: then
 *  they are refused.
 *  @throws ToolError E_USAGE if more words follow than name a command.
 */
export function helpWords(argv: readonly string[], describe: (name: string) => Command): string[] {
  const names = argv[0] === HELP ? argv.slice(1) : argv[1] === HELP ? [argv[0]!, ...argv.slice(2)] : [];
  const [first] = names;
  let command = first === undefined ? undefined : find(describe(first), first);
  // Of a command that holds no others, help is a word like any other.
  if (command === undefined || (argv[0] !== HELP && command.commands.length === 0)) return [...argv];
  const words = [first!];
  for (const name of names.slice(1)) {
    if (name.startsWith("-")) break;
    if (command.commands.length === 0)
      refuseWords(
        `there is no command "${[...words, name].join(" ")}"`,
        `Run "faultglow ${words.join(" ")} --help" to see the words that ${words.join(" ")} takes`,
      );
    words.push(name);
    command = find(command, name);
    if (command === undefined) return words;
  }
  return [...words, "--help"];
}

function find(group: Command, name: string): Command | undefined {
  return group.commands.find((command) => command.name() === name);
}
