// cli: a centroid table or an SVG drawing → a board map, written or printed, with what was guessed.

import { extname } from "node:path";
import { parseBoardMap } from "../board/parse-board-map.js";
import { boundsOf, type Point, signedArea } from "../board/polygon.js";
import { countOf } from "../core/count-of.js";
import { ToolError } from "../core/errors.js";
import { formatSignificant } from "../core/format-quantity.js";
import { importBoard, isDrawing } from "../import/import-board.js";
import { IMPORT_LIMITS, type ImportedBoard, type ImportOptions } from "../import/import-options.js";
import { readGiven } from "../read/read-given.js";
import { readJsonFile } from "../read/read-json-file.js";
import { readReason } from "../read/read-reason.js";
import { visibleText } from "../report/visible-text.js";
import type { BoardImportWords } from "./board-import-command.js";
import type { CommandOutput } from "./command-output.js";
import { writeNewFile } from "./write-new-file.js";

/** Import a board map and write or print it.
 *  @throws ToolError what the import throws; E_IMPORT_READ if the file can't be read; E_OUTPUT if the map can't be
 *    written or is there already; E_USAGE for options that the kind of file does not have. */
export async function runBoardImport(
  file: string,
  words: BoardImportWords,
  output: CommandOutput,
): Promise<void> {
  const bytes = await readImport(file);
  const options: ImportOptions = {
    unit: words.unit,
    outline: words.outline === undefined ? undefined : await outlineOf(words.outline, bytes),
    originMm: words.origin,
    yAxis: words.y,
    turn: words.turn,
    bottomX: words.bottomX,
    chipCodes: words.chipCodes,
    sizes: words.size,
    defaultSize: words.defaultSize,
  };
  refuseUnused(words, bytes);
  const imported = importBoard(bytes, file, options);
  const text = `${JSON.stringify(imported.board, null, 2)}\n`;
  if (words.out !== undefined) await writeNewFile(words.out, text, words.replace === true);
  for (const { severity, code, text: sentence } of imported.notes) {
    if (words.quiet === true && severity !== "warning") continue;
    await output.remark(`${code}: ${visibleText(sentence)}\n`);
  }
  if (words.json === true) await output.result(text);
  else if (words.quiet !== true) await output.result(`${summary(file, imported, words.out)}\n`);
}

async function readImport(file: string): Promise<Uint8Array> {
  try {
    return await readGiven(file, IMPORT_LIMITS.bytes);
  } catch (error) {
    throw new ToolError("E_IMPORT_READ", {
      problem: `the file can't be read: ${readReason(error)}`,
      fix: "Check the name and the folder you are in",
      place: { file },
    });
  }
}

const SIZE = /^(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)$/i;

/** WxH, else for a drawing an id, and for a table a file that has an outline: a board map or a drawing. */
async function outlineOf(word: string, bytes: Uint8Array): Promise<ImportOptions["outline"]> {
  const size = SIZE.exec(word);
  if (size !== null) return { widthMm: Number(size[1]), heightMm: Number(size[2]) };
  const file = extname(word).toLowerCase();
  if (file === ".json") return (await outlineOfMap(word)).map(([x, y]): Point => [x, y]);
  if (isDrawing(new TextDecoder().decode(bytes.subarray(0, 4096)))) return word;
  if (file === ".svg") return importBoard(await readImport(word), word).board.outline;
  throw new ToolError("E_USAGE", {
    problem: `--outline needs a size such as 58x34 in mm, or a board map (.json) or drawing (.svg), found "${word}"`,
    fix: "Give the board's width and height, or a file that has its outline",
  });
}

async function outlineOfMap(file: string): Promise<readonly Point[]> {
  return parseBoardMap((await readJsonFile(file)).value, file).board.outline;
}

/** Options that only tables have. */
function refuseUnused(words: BoardImportWords, bytes: Uint8Array): void {
  if (!isDrawing(new TextDecoder().decode(bytes.subarray(0, 4096)))) return;
  const given = (
    [
      ["--origin", words.origin],
      ["--y", words.y],
      ["--turn", words.turn],
      ["--chip-codes", words.chipCodes],
      ["--size", words.size],
      ["--default-size", words.defaultSize],
    ] as const
  ).find(([, value]) => value !== undefined);
  if (given === undefined) return;
  throw new ToolError("E_USAGE", {
    problem: `${given[0]} is for centroid tables, but the file is a drawing`,
    fix: `Leave ${given[0]} away`,
  });
}

function summary(file: string, { board, from }: ImportedBoard, out: string | undefined): string {
  const { minX, minY, maxX, maxY } = boundsOf(board.outline);
  const top = board.regions.filter((region) => region.side === "top").length;
  const size = [maxX - minX, maxY - minY].map((mm) => formatSignificant(mm, 3)).join(" × ");
  const found =
    `${countOf(board.regions.length, "part")} (${top} top, ${board.regions.length - top} bottom) ` +
    `from the ${from === "svg" ? "drawing" : "table"} ${visibleText(file)}, outline ${size} mm, ` +
    `${formatSignificant(Math.abs(signedArea(board.outline)), 3)} mm²`;
  return out === undefined
    ? `${found}. Nothing was written: add --out board.json.`
    : `${visibleText(out)} holds ${found}.`;
}
