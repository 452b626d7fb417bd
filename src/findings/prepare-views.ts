// findings: frames of an attempt, board and views → each view prepared: the pair brought together, and what stands out.
import type { BoardMap, View } from "../board/board-schema.js";
import { checkViewFrame } from "../board/check-view-frame.js";
import { checkViewUnit } from "../board/check-view-unit.js";
import { isShiny } from "../board/emissivity.js";
import { placeView } from "../board/place-view.js";
import { coverageMask } from "../board/rasterise-polygon.js";
import { ToolError } from "../core/errors.js";
import type { Raster } from "../core/raster.js";
import { detectPatches } from "../hotspots/detect-patches.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { emissivityMap } from "../sources/emissivity-map.js";
import type { AnalyseOptions, AnalysisInput, OnStage } from "./analyse-options.js";
import type { BoardContext } from "./board-context.js";
import type { ViewName } from "./findings-schema.js";
import { namePixels } from "./name-pixels.js";
import { prepareCycle } from "./prepare-cycle.js";
import { checkSizes, preparePair } from "./prepare-pair.js";
import type { PlacedBoard, SeenView } from "./seen-view.js";

/** Prepare the view of an attempt, and the second one where it is given: each with its own alignment, noise and
 *  patches.
 *  @returns the primary view first.
 *  @throws ToolError E_OTHER_VIEW if a second view comes without board or views; E_FRAME_NONE, E_FRAME_SIZE,
 *  E_FRAME_EMPTY, E_VIEW_FRAME, E_VIEW_FIT if a view shows none of the board, those of `placeView` and, with `cycleS`,
 *  of `prepareCycle`, for either view.
 */
export function prepareViews(
  input: AnalysisInput,
  options: AnalyseOptions,
  onStage: OnStage = () => {},
): SeenView[] {
  const other = input.otherSide ?? null;
  if (other !== null) checkOther(input);
  // Slips show before the work begins.
  checkSizes(input.baseline, input.powered);
  if (other !== null) checkSizes(other.baseline, other.powered, "of the other view ");
  const { cycleS = null } = input;
  const first = prepareView(
    "primary",
    { ...input, file: input.viewFile ?? "view" },
    input.board,
    cycleS,
    options,
    onStage,
  );
  if (other === null) return [first];
  const file = other.viewFile ?? "other view";
  return [first, prepareView("other", { ...other, file }, input.board, cycleS, options, onStage)];
}

/** Frames of one view, as they are given. */
interface ViewFrames extends Pick<AnalysisInput, "baseline" | "powered" | "view" | "rateHz" | "afterS"> {
  readonly file: string;
}

function prepareView(
  name: ViewName,
  frames: ViewFrames,
  board: BoardMap | null | undefined,
  cycleS: number | "find" | null,
  options: AnalyseOptions,
  onStage: OnStage,
): SeenView {
  const { baseline, powered, view } = frames;
  const size = baseline[0]!.raster;
  const rateHz = frames.rateHz ?? null;
  const burstRateHz = powered.length > 1 ? rateHz : null;
  const placed = board && view ? placeBoard(board, view, frames.file, size) : null;
  const mirrors = placed === null ? null : new Uint8Array(placed.offBoard.length);
  for (const i of placed?.shiny.keys() ?? []) mirrors![i] = 1;
  const emissivity =
    placed === null ? null : emissivityMap(placed.board, placed.view, size.width, size.height);
  const offBoard = placed?.offBoard ?? null;
  onStage("board");
  const prepared =
    cycleS === null
      ? preparePair(baseline, powered, offBoard, mirrors, emissivity, burstRateHz, options, onStage)
      : prepareCycle(baseline, powered, cycleS, rateHz, offBoard, mirrors, emissivity, options, onStage);
  const afterS = cycleS === null && prepared.burst === undefined ? (frames.afterS ?? null) : null;
  const pair = afterS === null ? prepared : { ...prepared, afterS };
  const detected = detectPatches(pair.layers, pair.smoothRise, pair.threshold);
  onStage("hotspots");
  return { name, baseline, powered, rateHz, burstRateHz, pair, detected, placed };
}

/** A second view says nothing of the first unless both are laid over one board. */
function checkOther({ board, view, otherSide }: AnalysisInput): void {
  const missing = !board
    ? "board map"
    : !view
      ? "view of the first frames"
      : !otherSide!.view
        ? "view of its own"
        : null;
  if (missing === null) return;
  throw new ToolError("E_OTHER_VIEW", {
    problem: `frames of another view came without a ${missing}, so nothing says where both see the same place`,
    fix: "Give a board map, and for each of the two pairs the view that says how its baseline sees the board",
  });
}

function placeBoard(board: BoardMap, given: View, file: string, size: Raster): PlacedBoard {
  checkViewFrame(given, size.width, size.height, file);
  checkViewUnit(given, board, file);
  const context = { board, view: placeView(given, { file }) };
  const offBoard = offBoardMask(context, size);
  if (!offBoard.includes(0)) {
    throw new ToolError("E_VIEW_FIT", {
      problem: "the fiducials put the board wholly outside the frame, or make it smaller than a pixel",
      fix: "Give the view that was made with this map, with the points of both in millimetres, from the same corner",
      place: { file, path: "fiducials" },
    });
  }
  return { ...context, offBoard, shiny: shinyPixels(context, size) };
}

/** Pixels that a blurred, slightly misplaced outline can't reach. */
function offBoardMask({ board, view }: BoardContext, size: Raster): Uint8Array {
  const inside = coverageMask(view, board.outline, size.width, size.height).data;
  const near = gaussianFilter(inside, size.width, size.height, 2);
  const off = new Uint8Array(near.length);
  for (let i = 0; i < off.length; i++) if (near[i]! < 1e-3) off[i] = 1;
  return off;
}

/** Which shiny part lies at which pixel. */
function shinyPixels({ board, view }: BoardContext, size: Raster): Map<number, string> {
  const out = new Map<number, string>();
  for (const region of board.regions) {
    if (region.side !== view.side || !isShiny(region)) continue;
    namePixels(out, view, region.polygon, size, region.ref);
  }
  return out;
}
