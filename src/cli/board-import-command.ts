// cli: the words of `faultglow board import` and `board export` → their options, checked.
import { type Command, Option } from "commander";
import type { Point } from "../board/polygon.js";
import { ToolError } from "../core/errors.js";
import type { ImportOptions, LengthUnit, RectangleSize } from "../import/import-options.js";
import type { CommandOutput } from "./command-output.js";

/** The options of `board import`, as they were given. */
export interface BoardImportWords {
  readonly outline?: string;
  readonly origin?: Point;
  readonly unit?: LengthUnit;
  readonly y?: ImportOptions["yAxis"];
  readonly turn?: ImportOptions["turn"];
  readonly bottomX?: ImportOptions["bottomX"];
  readonly chipCodes?: ImportOptions["chipCodes"];
  readonly size?: Readonly<Record<string, RectangleSize>>;
  readonly defaultSize?: RectangleSize;
  readonly out?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** The options of `board export`, as they were given. */
export interface BoardExportWords {
  readonly out?: string;
  readonly replace?: boolean;
}

/** Describe `board import` and `board export`, below `board`. */
export function addBoardImport(board: Command, output: CommandOutput): void {
  board
    .command("import")
    .summary("make a board map of a centroid table or an SVG drawing")
    .description(
      "Make a board map of a centroid table (designator, x, y, rotation, side, package of each part; CSV or text) or " +
        "of an SVG drawing whose shapes have the parts' names as ids.",
    )
    .argument("<F>", "the table or drawing")
    .option(
      "--outline <O>",
      "the board's edge: a size WxH in mm; a board map or drawing that has it; or in a drawing the id of its shape",
    )
    .option(
      "--origin <X,Y>",
      "tables: where the outline's lower left corner lies in the table's coordinates, mm (default: 0,0)",
      originOption,
    )
    .addOption(
      new Option("--unit <U>", "unit of the file's numbers, before what the file says").choices([
        "mm",
        "mil",
        "inch",
        "um",
        "px",
      ]),
    )
    .addOption(new Option("--y <WAY>", "tables: which way y grows (default: up)").choices(["up", "down"]))
    .addOption(
      new Option(
        "--turn <WAY>",
        "tables: which way angles grow, seen from the top (default: anticlockwise)",
      ).choices(["anticlockwise", "clockwise"]),
    )
    .addOption(
      new Option(
        "--bottom-x <HOW>",
        "x of the bottom side: the same as for the top, its negative, or mirrored in the outline (default: same)",
      ).choices(["same", "negated", "mirrored"]),
    )
    .addOption(
      new Option(
        "--chip-codes <C>",
        "tables: what sizes such as 0402 are, which mean something else in either (default: imperial)",
      ).choices(["imperial", "metric"]),
    )
    .option(
      "--size <NAME=WxH>",
      "tables: body of a package in mm at no rotation; give it once for each package",
      sizeOption,
    )
    .option(
      "--default-size <WxH>",
      "tables: body of packages of unknown size in mm; without it they are an error",
      (word: string) => rectangleOption("--default-size", word),
    )
    .option("--out <F>", "write the board map into this file")
    .option("--replace", "overwrite that file if it is there already")
    .option("--json", "print the board map, and nothing else, on the standard output")
    .option("--quiet", "print warnings and errors alone")
    .addHelpText(
      "after",
      "\nExamples:\n" +
        "  faultglow board import centroids.csv --outline 58x34 --out board.json\n" +
        "  faultglow board import centroids.csv --outline 58x34 --origin 2.5,-1 --bottom-x mirrored \\\n" +
        "      --size 'MYCHIP=4x2.5' --default-size 1x0.5 --out board.json\n" +
        "  faultglow board import drawing.svg --outline edge --unit mm --out board.json\n",
    )
    .action(async (file: string, words: BoardImportWords) => {
      const { runBoardImport } = await import("./run-board-import.js");
      await runBoardImport(file, words, output);
    });
  board
    .command("export")
    .summary("draw a board map as SVG")
    .description("Draw a board map as SVG. `board import` makes the same map of the drawing.")
    .argument("<F>", "board map, JSON")
    .option("--out <F>", "write the drawing into this file; without it, it is printed")
    .option("--replace", "overwrite that file if it is there already")
    .action(async (file: string, words: BoardExportWords) => {
      const { runBoardExport } = await import("./run-board-export.js");
      await runBoardExport(file, words, output);
    });
}

const NUMBER = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)`;

function originOption(word: string): Point {
  const match = new RegExp(`^(${NUMBER}),(${NUMBER})$`).exec(word.trim());
  if (match !== null) return [Number(match[1]), Number(match[2])];
  throw new ToolError("E_USAGE", {
    problem: `--origin needs two numbers in mm with a comma between them, found "${word}"`,
    fix: "Write it such as --origin 2.5,-1",
  });
}

function rectangleOption(flag: string, word: string): RectangleSize {
  const match = /^(\d+\.?\d*|\.\d+)x(\d+\.?\d*|\.\d+)$/i.exec(word.trim());
  const [widthMm, heightMm] = [Number(match?.[1]), Number(match?.[2])];
  if (widthMm > 0 && heightMm > 0) return { widthMm, heightMm };
  throw new ToolError("E_USAGE", {
    problem: `${flag} needs a width and a height above 0 in mm, found "${word}"`,
    fix: `Write it such as ${flag === "--size" ? '--size "MYCHIP=4x2.5"' : `${flag} 4x2.5`}`,
  });
}

function sizeOption(
  word: string,
  before: Readonly<Record<string, RectangleSize>> = {},
): Readonly<Record<string, RectangleSize>> {
  const at = word.lastIndexOf("=");
  if (at > 0) return { ...before, [word.slice(0, at)]: rectangleOption("--size", word.slice(at + 1)) };
  throw new ToolError("E_USAGE", {
    problem: `--size needs the name of a package, = and its size in mm, found "${word}"`,
    fix: 'Write it such as --size "MYCHIP=4x2.5"',
  });
}
