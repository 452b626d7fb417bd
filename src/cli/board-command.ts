// cli: the words of `faultglow board …` → its options; the work itself is loaded only when it is asked for.
import { Command } from "commander";
import { addBoardImport } from "./board-import-command.js";
import { addBoardPlace } from "./board-place-command.js";
import { holdsCommands } from "./command-group.js";
import type { CommandOutput } from "./command-output.js";

/** The options of `board check`, as they were given. */
export interface BoardCheckWords {
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Describe `board` and its subcommands. */
export function boardCommand(output: CommandOutput): Command {
  const board = new Command("board")
    .summary("check, import and export a board map, and place it in a new baseline")
    .description("Work on board maps.");
  board
    .command("check")
    .summary("say what is wrong with a board map")
    .description(
      "List everything that is wrong or doubtful in a board map. Exit status 2 if it can't be used.",
    )
    .argument("<F>", "board map, JSON")
    .option("--json", "print the list as JSON, and nothing else, on the standard output")
    .option("--quiet", "print errors alone")
    .action(async (file: string, words: BoardCheckWords) => {
      const { runBoardCheck } = await import("./run-board-check.js");
      await runBoardCheck(file, words, output);
    });
  addBoardImport(board, output);
  addBoardPlace(board, output);
  holdsCommands(board, "board check FILE");
  board.addHelpText(
    "after",
    "\nExamples:\n" +
      "  faultglow board import centroids.csv --outline 58x34 --out board.json\n" +
      "  faultglow board check board.json\n",
  );
  return board;
}
