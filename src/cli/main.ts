// cli: the words of the command → its work, what it prints, and the exit status.
import { Command, CommanderError, type Option } from "commander";
import { ToolError } from "../core/errors.js";
import { TOOL_VERSION } from "../core/tool-version.js";
import { visibleText } from "../report/visible-text.js";
import { benchCommand } from "./bench-command.js";
import { boardCommand } from "./board-command.js";
import { type CommandOutput, openOutput, type Surroundings } from "./command-output.js";
import { compareCommand } from "./compare-command.js";
import { completionCommand } from "./completion-command.js";
import { demoCommand } from "./demo-command.js";
import { doctorCommand } from "./doctor-command.js";
import { findCommand } from "./find-command.js";
import { guideCommand } from "./guide-command.js";
import { helpWords } from "./help-words.js";
import { jobCommand } from "./job-command.js";
import { ownStream } from "./own-streams.js";
import { refuseBlank } from "./refuse-blank.js";
import { usageError } from "./usage-error.js";
import { watchCommand } from "./watch-command.js";

/** Exit statuses: what other programs rely on. */
const EXIT = Object.freeze({ analysed: 0, fault: 1, unusable: 2 });

/** Letters of a line of help that goes to no terminal; the library's own number. */
const HELP_WIDTH = 80;

/** What describes each command to the parser, by the command's name. */
const COMMANDS: ReadonlyMap<string, (output: CommandOutput) => Command> = new Map([
  ["find", findCommand],
  ["compare", compareCommand],
  ["board", boardCommand],
  ["job", jobCommand],
  ["watch", watchCommand],
  ["bench", benchCommand],
  ["demo", demoCommand],
  ["guide", guideCommand],
  ["doctor", doctorCommand],
  ["completion", completionCommand],
]);
/** It is made of all of them. */
const OF_ALL = "completion";

const FIRST_USE = `
First use:
  faultglow doctor                                    is this machine fit?
  faultglow demo                                      the whole job on invented frames
  faultglow guide taking-frames                       how to take frames of your own
  faultglow find --baseline off.csv --powered on.csv  what heats in them
  faultglow bench                                     the same and more on a page, by dropping files
`;

/** Run the command.
 *  @param argv words after the program's name.
 *  @param surroundings streams and environment; the process's own unless a test gives others.
 *  @returns exit status: 0 analysed, 1 a fault of ours, 2 the input or the words can't be used.
 */
export async function main(argv: string[], surroundings: Surroundings = ownSurroundings()): Promise<number> {
  const output = openOutput(surroundings);
  const printed: string[] = [];
  const describe = (names: Iterable<string>): Command =>
    describeProgram(names, output, printed, surroundings.out.isTTY === true);
  try {
    if (argv.length === 0) printed.push(describe(COMMANDS.keys()).helpInformation(), FIRST_USE);
    else await parse(describe, argv);
    if (printed.length > 0) await output.result(printed.join(""));
    return EXIT.analysed;
  } catch (error) {
    return report(error, output);
  }
}

/** Run what the words ask for. A wish for help or for the version ends here like any command that went well. Of the
 *  commands the one that is named is described, for all of them take a millisecond; what is wrong with the words may
 *  have to do with any.
 */
async function parse(describe: (names: Iterable<string>) => Command, said: string[]): Promise<void> {
  const argv = helpWords(said, (one) => describe(COMMANDS.has(one) ? [one] : []));
  const [name] = argv;
  const isOne = name !== undefined && COMMANDS.has(name) && name !== OF_ALL;
  try {
    await describe(isOne ? [name] : COMMANDS.keys()).parseAsync(argv, { from: "user" });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.exitCode === 0) return;
    throw usageError(error, argv, describe(COMMANDS.keys()));
  }
}

function describeProgram(
  names: Iterable<string>,
  output: CommandOutput,
  printed: string[],
  toTerminal: boolean,
): Command {
  const program = new Command("faultglow")
    .description("Says which named part of a circuit board is the source of heat, from thermal frames.")
    .version(TOOL_VERSION, "--version", "print the version")
    .helpCommand("help [command...]", "say how a command is used")
    .addHelpText("after", FIRST_USE.trimEnd());
  for (const name of names) program.addCommand(COMMANDS.get(name)!(output));
  const prepare = (command: Command): void => {
    // Errors are thrown and worded here, in one form; help is kept back, so that it leaves by the same way as results.
    command.exitOverride().configureOutput({
      writeOut: (text) => printed.push(text),
      writeErr: () => {},
      // Node makes a stream where it is asked whether that is a terminal.
      ...(toTerminal ? {} : { getOutHelpWidth: () => HELP_WIDTH, getOutHasColors: () => false }),
    });
    command
      .helpOption("-h, --help", "say how this is used")
      .configureHelp({ optionDescription: describeOption });
    command.commands.forEach(prepare);
  };
  prepare(program);
  program.hook("preAction", (_, command) => refuseBlank(command));
  return program;
}

/** What the help says of an option: what can't be left out is marked; its words and its default stand at the end. */
function describeOption({ argChoices, defaultValue, description, mandatory }: Option): string {
  const [, text, written] = /^(.*?)(?: \(default: ([^)]*)\))?$/s.exec(description)!;
  const standard = written ?? (typeof defaultValue === "string" ? defaultValue : undefined);
  const more = [...(argChoices === undefined ? [] : [argChoices.join(", ")])];
  if (standard !== undefined) more.push(`default: ${standard}`);
  return `${mandatory ? "needed: " : ""}${text}${more.length === 0 ? "" : ` (${more.join("; ")})`}`;
}

async function report(error: unknown, output: CommandOutput): Promise<number> {
  if (error instanceof ToolError) {
    await output.remark(`${visibleText(error.message)}\n`);
    return EXIT.unusable;
  }
  const missing = missingPackage(error);
  if (missing !== null) return report(missing, output);
  if ((error as NodeJS.ErrnoException | null)?.syscall === "uv_cwd") return report(goneFolder(), output);
  const stack = error instanceof Error ? (error.stack ?? error.message) : String(error);
  await output.remark(
    `${stack.split("\n").map(visibleText).join("\n")}\n\n` +
      `This is a fault of faultglow ${TOOL_VERSION}, not of your input. Please report it to where you have the tool from, ` +
      "with the lines above and the words of the command.\n",
  );
  return EXIT.fault;
}

/** Begins what Node says of a module that is not there: a package by its name, a file by its way. */
const MISSING = /^Cannot find (?:module|package) '(?![./\\]|[a-z]:|file:)/i;
/** Begins what sharp says where its part in machine code is not there, or is for another kind of machine. */
const SHARP = 'Could not load the "sharp" module';

/** A package that is not there, or is there for another kind of machine, is no fault of the tool; that one of its own
 *  files is not there is.
 */
function missingPackage(error: unknown): ToolError | null {
  if (!(error instanceof Error)) return null;
  const { code } = error as NodeJS.ErrnoException;
  const isNone = code === "MODULE_NOT_FOUND" || code === "ERR_MODULE_NOT_FOUND";
  const line = error.message.trim().split("\n")[0] ?? "";
  if (!(isNone && MISSING.test(line)) && !line.startsWith(SHARP)) return null;
  return new ToolError("E_MACHINE", {
    problem: `a package that this needs does not work here: ${line}`,
    fix: "Run faultglow doctor, which says what is wrong and what to do",
  });
}

/** The system is asked where the command stands only when a name has to be made whole, which is in many places. */
function goneFolder(): ToolError {
  return new ToolError("E_USAGE", {
    problem: "the folder you are in is not there any more",
    fix: "Change into one that is there and do it again",
  });
}

function ownSurroundings(): Surroundings {
  return { out: ownStream(1), err: ownStream(2), env: process.env };
}
