// cli: the words of a command, parsed → an error for one with nothing in it.
import type { Command } from "commander";
import { refuseWords } from "./refuse-words.js";

/** Refuse blank words: a shell makes one of a variable that holds nothing, and as a folder it would mean the one the
 *  user is in, as a part one without a name.
 *  @throws ToolError E_USAGE
 */
export function refuseBlank(command: Command): void {
  const { registeredArguments } = command;
  let path = "";
  for (let at = command; at.parent !== null; at = at.parent) path = `${at.name()} ${path}`;
  command.args.forEach((word, i) => {
    const argument = registeredArguments[Math.min(i, registeredArguments.length - 1)];
    if (argument !== undefined) refuseOne(`${path}${argument.name()}`, word);
  });
  for (const option of command.options) {
    const value: unknown = command.getOptionValue(option.attributeName());
    for (const word of Array.isArray(value) ? value : [value]) refuseOne(option.long ?? option.flags, word);
  }
}

function refuseOne(name: string, word: unknown): void {
  if (typeof word !== "string" || /\S/.test(word)) return;
  refuseWords(
    `${name} is blank`,
    "Give it at least one character that can be seen, in quotes where it holds blanks; a variable of the shell that holds nothing is blank, too",
  );
}
