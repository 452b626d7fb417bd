import { describe, expect, it } from "vitest";
import type { BoardMap, View } from "../../../../src/board/board-schema.js";
import {
  fitStage,
  makeStage,
  screenToStage,
  stageToFrame,
  stageToScreen,
} from "../../../../src/page/board/make-stage.js";

const board: BoardMap = {
  kind: "faultglow/board",
  version: 1,
  outline: [
    [0, 0],
    [50, 0],
    [50, 30],
    [0, 30],
  ],
  regions: [],
};
/** 2 px a mm, 10 px from the left and 20 px from the top; from below the board is mirrored. */
const view = (side: View["side"]): View => ({
  kind: "faultglow/view",
  version: 1,
  side,
  frame: { width: 160, height: 120 },
  fiducials:
    side === "top"
      ? [
          { board: [0, 0], pixel: [10, 20] },
          { board: [50, 30], pixel: [110, 80] },
        ]
      : [
          { board: [0, 0], pixel: [110, 20] },
          { board: [50, 30], pixel: [10, 80] },
        ],
});
const FRAME = { width: 160, height: 120 };

describe("makeStage", () => {
  it("is the board with a margin of 4 % of its longer side, in millimetres", () => {
    const stage = makeStage(board, view("top"), FRAME);
    expect(stage).toMatchObject({ unit: "mm", left: -2, top: -2, width: 54, height: 34, isMirrored: false });
    const [x, y] = stageToFrame(stage, [25, 10]);
    expect(x).toBeCloseTo(60, 9);
    expect(y).toBeCloseTo(40, 9);
  });

  it("is the frame itself without a board or a view, outer edges of pixels included", () => {
    for (const stage of [makeStage(null, null, FRAME), makeStage(board, null, FRAME)]) {
      expect(stage).toMatchObject({ unit: "px", left: -0.5, top: -0.5, width: 160, height: 120 });
      expect(stageToFrame(stage, [12, 34])).toEqual([12, 34]);
    }
  });

  it("shows the bottom as it is seen: small x at the right", () => {
    const stage = makeStage(board, view("bottom"), FRAME);
    const fit = fitStage(stage, { x: 0, y: 0, width: 540, height: 340 });
    expect(stageToScreen(stage, fit, [0, 0])[0]).toBeCloseTo(520, 9);
    expect(stageToScreen(stage, fit, [50, 0])[0]).toBeCloseTo(20, 9);
    expect(stageToFrame(stage, [0, 0])[0]).toBeCloseTo(110, 9);
  });
});

describe("fitStage", () => {
  it.each(["top", "bottom"] as const)("and back again is the same place, seen from the %s", (side) => {
    const stage = makeStage(board, view(side), FRAME);
    const fit = fitStage(stage, { x: 7, y: 3, width: 700, height: 300 });
    const [x, y] = screenToStage(stage, fit, stageToScreen(stage, fit, [13.5, 21.25]));
    expect(x).toBeCloseTo(13.5, 9);
    expect(y).toBeCloseTo(21.25, 9);
  });

  it("keeps the shape and stands in the middle of the longer way", () => {
    const stage = makeStage(board, view("top"), FRAME);
    const fit = fitStage(stage, { x: 10, y: 20, width: 1000, height: 340 });
    expect(fit.scale).toBeCloseTo(10, 9);
    expect(fit.x).toBeCloseTo(10 + (1000 - 540) / 2, 9);
    expect(fit.y).toBeCloseTo(20, 9);
  });
});
