// cli: a command that only holds others → refused where it stands alone, with the words that may follow.
import type { Command } from "commander";
import { ToolError } from "../core/errors.js";

/** Refuse a command that has others after it and stands alone, or before a word that is none of them: a mistake of
 *  words, not a wish for help that ends in success.
 *  @param group with all its commands: those made later would take over that words too many are let through here.
 *  @param example one of its commands as it is written. */
export function holdsCommands(group: Command, example: string): void {
  group.allowExcessArguments().action(() => {
    const [word] = group.args;
    const names = group.commands.map((command) => command.name()).join(", ");
    throw new ToolError("E_USAGE", {
      problem:
        word === undefined
          ? `${group.name()} needs a command after it: ${names}`
          : `${group.name()} has no command "${word}", it has ${names}`,
      fix: `Write for example "faultglow ${example}"`,
    });
  });
}
