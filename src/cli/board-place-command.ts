// cli: the words of `faultglow board place` → its options, checked.
import { type Command, Option } from "commander";
import { ToolError } from "../core/errors.js";
import type { CommandOutput } from "./command-output.js";
import { addScaleOptions, checkScaleWords, type ScaleWords } from "./frame-options.js";

/** The options of `board place`, as they were given. */
export interface BoardPlaceWords extends ScaleWords {
  readonly from: readonly string[];
  readonly fromView: string;
  readonly to: readonly string[];
  readonly board: string;
  readonly side?: "top" | "bottom";
  readonly out?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Describe `board place`, below `board`. */
export function addBoardPlace(board: Command, output: CommandOutput): void {
  const command = board
    .command("place")
    .summary("find the view of a new baseline from an earlier one")
    .description(
      "Find how a new baseline sees the board, from an earlier baseline of the same side and its view: moved, turned by " +
        "up to about 20°, from another distance, at another time of day. Exit status 2 if the place is doubtful: then " +
        "fiducials are needed.",
    )
    .requiredOption("--from <F...>", "frames of the earlier baseline")
    .requiredOption("--from-view <F>", "how the earlier baseline sees the board")
    .requiredOption("--to <F...>", "frames of the new baseline, of any size")
    .requiredOption("--board <F>", "board map")
    .addOption(
      new Option(
        "--side <SIDE>",
        "side that the new baseline shows (default: that of the earlier view)",
      ).choices(["top", "bottom"]),
    );
  addScaleOptions(command)
    .option("--out <F>", "write the new view into this file")
    .option("--replace", "overwrite that file if it is there already")
    .option("--json", "print the view and its uncertainty as JSON, and nothing else, on the standard output")
    .option("--quiet", "print errors alone")
    .addHelpText(
      "after",
      "\nExample:\n" +
        "  faultglow board place --from first/off.csv --from-view first/view.json --to second/off.csv \\\n" +
        "      --board board.json --out second/view.json\n",
    )
    .action(async (words: BoardPlaceWords) => {
      for (const name of ["from", "to"] as const) {
        const stray = words[name].find((word) => word.startsWith("--"));
        if (stray === undefined) continue;
        throw new ToolError("E_USAGE", {
          problem: `--${name} needs frames, found the option ${stray}`,
          fix: `Name a file, folder or pattern after --${name}`,
        });
      }
      checkScaleWords(words);
      const { runBoardPlace } = await import("./run-board-place.js");
      await runBoardPlace(words, output);
    });
}
