// cli: the options of `board place` → frames read, the new view found, written and printed.
import { parseBoardMap } from "../board/parse-board-map.js";
import { parseView } from "../board/parse-view.js";
import { meanFrame } from "../clean/mean-frame.js";
import { ToolError } from "../core/errors.js";
import { formatSignificant } from "../core/format-quantity.js";
import { placeNewView } from "../place/place-new-view.js";
import { type Placing, placingSchema } from "../place/placing-schema.js";
import { requireTrusted } from "../place/require-trusted.js";
import { readFrames } from "../read/read-frames.js";
import { readJsonFile } from "../read/read-json-file.js";
import { visibleText } from "../report/visible-text.js";
import type { BoardPlaceWords } from "./board-place-command.js";
import type { CommandOutput } from "./command-output.js";
import { scaleOf } from "./frame-options.js";
import { writeNewFile } from "./write-new-file.js";

/** Find the view of a new baseline; write and print it.
 *  @throws ToolError E_PLACE_SIDE if the frames are said to show different sides, E_PLACE_DOUBT if the place is not
 *  sure, E_OUTPUT if the file can't be written, and what reading and the earlier view can throw.
 */
export async function runBoardPlace(words: BoardPlaceWords, output: CommandOutput): Promise<void> {
  const board = parseBoardMap((await readJsonFile(words.board)).value, words.board);
  const from = parseView((await readJsonFile(words.fromView)).value, words.fromView);
  if (words.side !== undefined && words.side !== from.view.side) {
    throw new ToolError("E_PLACE_SIDE", {
      problem: `the earlier view shows the ${from.view.side}, the new baseline the ${words.side}: the two have nothing in common but the outline`,
      fix: `Give an earlier baseline of the ${words.side} with its view, or write a view with fiducials`,
      place: { file: words.fromView, path: "side" },
    });
  }
  const reading = { scale: scaleOf(words), unit: words.unit };
  const earlier = await readFrames(words.from, reading);
  const later = await readFrames(words.to, reading);
  if (words.quiet !== true) {
    for (const { code, text } of [...board.notes, ...from.notes, ...earlier.notes, ...later.notes]) {
      await output.remark(`${code}: ${visibleText(text)}\n`);
    }
  }
  const found = placeNewView(
    { frame: meanFrame(earlier.frames), view: from.view, viewFile: words.fromView },
    meanFrame(later.frames),
    board.board,
  );
  const view = requireTrusted(found, words.to[0]);
  if (words.out !== undefined) {
    await writeNewFile(words.out, `${JSON.stringify(view, null, 2)}\n`, words.replace === true);
  }
  const { sigmaPx, sigmaMm, rotationDeg, scale, seenShare, innerZ, rivalZ, outlineLikeness } = found;
  const placing: Placing = placingSchema.parse({
    kind: "faultglow/placing",
    version: 1,
    view,
    sigmaPx,
    sigmaMm,
    rotationDeg,
    scale,
    seenShare,
    innerZ,
    rivalZ,
    outlineLikeness,
  });
  if (words.json === true) await output.result(`${JSON.stringify(placing, null, 2)}\n`);
  else if (words.quiet !== true) await output.result(sentence(placing, words.out));
}

function sentence(
  { view, sigmaMm, rotationDeg, scale, seenShare }: Placing,
  out: string | undefined,
): string {
  // A turn that rounds to nothing has no sign.
  const turn = `turned by ${rotationDeg.toFixed(1).replace(/^-(0\.0)$/, "$1")}°`;
  const size = `${formatSignificant(scale, 3)} times the size`;
  const seen = seenShare < 0.98 ? `, ${Math.round(100 * seenShare)} % of its edges in the frame` : "";
  const head =
    `The ${view.side} of the board lies ${turn} and ${size}${seen}; ` +
    `placed to ${formatSignificant(sigmaMm, 2)} mm (standard error over the board, the earlier fiducials' own error not counted).`;
  const tail =
    out === undefined
      ? view.fiducials.map(
          ({ board, pixel }) => `  board ${board.join(", ")} mm is seen at ${pixel.join(", ")} px`,
        )
      : [`View: ${visibleText(out)}`];
  return `${[head, ...tail].join("\n")}\n`;
}
