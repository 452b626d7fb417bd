// cli: the parser's commands → a plain tree of commands, options and what each takes; completion is made of it.
import type { Argument, Command, Option } from "commander";

/** What completes a value: files, folders, one of some words, or nothing that could be known. */
export type ValueKind = "files" | "folders" | "nothing" | readonly string[];

/** An option of a command. */
export interface OptionNode {
  /** `--long`, with the short form after it where there is one. */
  readonly names: readonly string[];
  readonly says: string;
  /** Null for an option that is a switch. */
  readonly value: ValueKind | null;
  /** True if several values may follow. */
  readonly many: boolean;
}

/** A command, with those under it. */
export interface CommandNode {
  /** Words after `faultglow`, one blank apart; empty for the program itself. */
  readonly path: string;
  readonly name: string;
  readonly says: string;
  readonly options: readonly OptionNode[];
  /** What its words complete to, in order; the last one also for words after it. */
  readonly words: readonly ValueKind[];
  readonly commands: readonly CommandNode[];
}

/** Read the tree off the parser. */
export function commandTree(command: Command, above = ""): CommandNode {
  const path = command.parent === null ? "" : `${above} ${command.name()}`.trim();
  const help = command.createHelp();
  return {
    path,
    name: command.name(),
    says: command.summary() || firstSentence(command.description()),
    options: help.visibleOptions(command).map(optionNode),
    words: command.registeredArguments.map((argument) => kindOf(argument.name(), argument)),
    commands: command.commands.map((one) => commandTree(one, path)),
  };
}

/** All commands of a tree, the program itself first. */
export function flatTree(node: CommandNode): CommandNode[] {
  return [node, ...node.commands.flatMap(flatTree)];
}

function optionNode(option: Option): OptionNode {
  const names = [option.long, option.short].filter((name) => name !== undefined && name !== null);
  const takes = option.required || option.optional;
  const placeholder = /[<[]([A-Z]+)/.exec(option.flags)?.[1] ?? "";
  return {
    names,
    says: option.description,
    value: takes ? kindOf(placeholder, option) : null,
    many: option.variadic,
  };
}

/** What the letter in the help says: F is a file, DIR a folder. */
function kindOf(placeholder: string, { argChoices }: Argument | Option): ValueKind {
  if (argChoices !== undefined) return argChoices;
  if (placeholder === "F") return "files";
  return placeholder === "DIR" ? "folders" : "nothing";
}

function firstSentence(text: string): string {
  return text.split(/\.\s/)[0]!.replace(/\.$/, "");
}
