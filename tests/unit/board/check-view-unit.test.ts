import { describe, expect, it } from "vitest";
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { checkViewUnit } from "../../../src/board/check-view-unit.js";
import { parseBoardMap } from "../../../src/board/parse-board-map.js";
import { parseView } from "../../../src/board/parse-view.js";
import { readText } from "../../structure/project.js";
import { caught } from "../frames/caught.js";

const { board } = parseBoardMap(JSON.parse(readText("sample-frames/board.json")), "board.json");
const { view } = parseView(JSON.parse(readText("sample-frames/attempt-1/view-top.json")), "view.json");
const MIL = 0.0254;

const scaledView = (times: number): View => ({
  ...view,
  fiducials: view.fiducials.map((one) => ({
    ...one,
    board: [one.board[0] * times, one.board[1] * times] as typeof one.board,
  })),
});
const scaledBoard = (times: number): BoardMap => ({
  ...board,
  outline: board.outline.map(([x, y]): [number, number] => [x * times, y * times]),
});

/** Where a fiducial of `around(1, 0.6, 8)` stands in a frame that they fill. */
const pixelAt = ({ board: [x, y] }: View["fiducials"][number], width: number): [number, number] => [
  ((x - 1) / 8) * width,
  ((y - 0.6) / 8) * width,
];

describe("checkViewUnit", () => {
  it("takes a view and a map of one unit", () => {
    expect(() => checkViewUnit(view, board, "view.json")).not.toThrow();
    expect(() => checkViewUnit(scaledView(3), scaledBoard(3), "view.json")).not.toThrow();
  });

  it.each([
    ["the view looks as if it were in inches", scaledView(1 / 25.4), board],
    ["the view looks as if it were in mils", scaledView(1 / MIL), board],
    ["the map looks as if it were in inches", view, scaledBoard(1 / 25.4)],
  ])("says that %s", (words, seen, map) => {
    const error = caught(() => checkViewUnit(seen, map, "view.json"));
    expect(error.code).toBe("E_VIEW_FIT");
    expect(error.message).toContain(words);
    expect(error.message).toContain("in millimetres");
  });

  it("says so of a frame of few pixels, too, which shows no two millimetres", () => {
    const few = (of: View): View => ({
      ...of,
      frame: { width: 80, height: 60 },
      fiducials: of.fiducials.map((one) => ({
        ...one,
        pixel: [one.pixel[0] / 2, one.pixel[1] / 2] as typeof one.pixel,
      })),
    });
    expect(() => checkViewUnit(few(view), board, "view.json")).not.toThrow();
    expect(caught(() => checkViewUnit(few(scaledView(1 / 25.4)), board, "view.json")).code).toBe(
      "E_VIEW_FIT",
    );
    // A board of 150 mm has 5.9 inches: as many millimetres a close-up may show.
    const large = (times: number) => few(scaledView((times * 150) / 58));
    expect(() => checkViewUnit(large(1 / 25.4), scaledBoard(150 / 58), "view.json")).not.toThrow();
  });

  it("takes fiducials around one part, wherever it lies and however small it is", () => {
    const around = (x: number, y: number, size: number): View => ({
      ...view,
      fiducials: view.fiducials.map((one, k) => ({
        ...one,
        board: [x + (k % 2) * size, y + Number(k > 1) * size * 0.6] as typeof one.board,
      })),
    });
    expect(() => checkViewUnit(around(20, 11, 2), board, "view.json")).not.toThrow();
    expect(() => checkViewUnit(around(1, 2, 8), board, "view.json")).not.toThrow();
    // 8 mm by the corner of a board of 200 mm would span it in inches, but a close-up of 0.05 mm a pixel is a frame as
    // others are.
    const close = around(1, 0.6, 8);
    const finer = {
      ...close,
      fiducials: close.fiducials.map((one) => ({ ...one, pixel: pixelAt(one, 160) })),
    };
    const large = scaledBoard(200 / 58);
    expect(() => checkViewUnit(finer, large, "view.json")).not.toThrow();
  });
});
