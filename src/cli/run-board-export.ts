// cli: a board map → an SVG drawing of it, written or printed.

import { parseBoardMap } from "../board/parse-board-map.js";
import { countOf } from "../core/count-of.js";
import { boardToSvg } from "../import/board-to-svg.js";
import { readJsonFile } from "../read/read-json-file.js";
import { visibleText } from "../report/visible-text.js";
import type { BoardExportWords } from "./board-import-command.js";
import type { CommandOutput } from "./command-output.js";
import { writeNewFile } from "./write-new-file.js";

/** Draw a board map as SVG and write or print it.
 *  @throws ToolError for a map that can't be used; E_OUTPUT if the drawing can't be written or is there already. */
export async function runBoardExport(
  file: string,
  words: BoardExportWords,
  output: CommandOutput,
): Promise<void> {
  const { board, notes } = parseBoardMap((await readJsonFile(file)).value, file);
  const text = boardToSvg(board);
  for (const { code, text: sentence } of notes) await output.remark(`${code}: ${visibleText(sentence)}\n`);
  if (words.out === undefined) {
    await output.result(text);
    return;
  }
  await writeNewFile(words.out, text, words.replace === true);
  await output.result(`${visibleText(words.out)} shows ${countOf(board.regions.length, "part")}.\n`);
}
