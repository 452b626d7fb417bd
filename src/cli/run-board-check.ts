// cli: a board map file → the list of what is wrong with it, and a line of summary.

import { boardMapSchema } from "../board/board-schema.js";
import { checkBoard } from "../board/check-board.js";
import { boundsOf, signedArea } from "../board/polygon.js";
import { countOf } from "../core/count-of.js";
import { ToolError } from "../core/errors.js";
import { formatSignificant } from "../core/format-quantity.js";
import type { Problem } from "../core/json-problem.js";
import { readJsonFile } from "../read/read-json-file.js";
import { visibleText } from "../report/visible-text.js";
import type { BoardCheckWords } from "./board-command.js";
import type { CommandOutput } from "./command-output.js";

/** Check a board map and print what was found.
 *  @throws ToolError with the code of the first error if the map can't be used, after all problems were printed.
 */
export async function runBoardCheck(
  file: string,
  words: BoardCheckWords,
  output: CommandOutput,
): Promise<void> {
  const { value } = await readJsonFile(file);
  const problems = checkBoard(value);
  const errors = problems.flatMap((problem) => (problem.severity === "error" ? [problem] : []));
  const summary = errors.length === 0 ? summarise(value) : null;
  if (words.json === true) {
    await output.result(
      `${JSON.stringify({ file, usable: errors.length === 0, problems, summary }, null, 2)}\n`,
    );
  } else {
    const shown = words.quiet === true ? errors : problems;
    const lines = shown.map((problem) => problemLine(problem, output));
    if (summary !== null && words.quiet !== true) {
      lines.push(
        `${visibleText(file)} can be used: ${countOf(summary.regions, "region")} (${summary.top} top, ${summary.bottom} bottom), ` +
          `outline ${formatSignificant(summary.widthMm, 3)} × ${formatSignificant(summary.heightMm, 3)} mm, ` +
          `${formatSignificant(summary.areaMm2, 3)} mm².`,
      );
    }
    if (lines.length > 0) await output.result(`${lines.join("\n")}\n`);
  }
  const first = errors[0];
  if (first === undefined) return;
  throw new ToolError(first.code, {
    problem: `the map can't be used: ${countOf(errors.length, "error")}, the first is that ${first.text}`,
    fix: first.fix,
    place: { file, path: first.path === "" ? undefined : first.path },
  });
}

function problemLine(problem: Problem, output: CommandOutput): string {
  const word = problem.severity === "error" ? output.styles.bold("error") : output.styles.warn("mind");
  const place = problem.path === "" ? "" : ` at ${problem.path}`;
  return `${word}${visibleText(`${place}: ${problem.text}${/[.?!]$/.test(problem.text) ? "" : "."} ${problem.fix}.`)}`;
}

function summarise(value: unknown) {
  const board = boardMapSchema.parse(value);
  const bounds = boundsOf(board.outline);
  return {
    regions: board.regions.length,
    top: board.regions.filter((region) => region.side === "top").length,
    bottom: board.regions.filter((region) => region.side === "bottom").length,
    widthMm: bounds.maxX - bounds.minX,
    heightMm: bounds.maxY - bounds.minY,
    areaMm2: Math.abs(signedArea(board.outline)),
  };
}
