import { describe, expect, it } from "vitest";
import { FINISH_EMISSIVITY } from "../../../src/board/emissivity.js";
import { placeView } from "../../../src/board/place-view.js";
import { pointInPolygon } from "../../../src/board/polygon.js";
import { boardPoint, framePoint } from "../../../src/core/units.js";
import { seeBoard, showPlate } from "../../../src/sources/board-in-frame.js";
import { emissivityMap } from "../../../src/sources/emissivity-map.js";
import { makePlateGrid } from "../../../src/sources/plate-grid.js";
import { BOARD, VIEW } from "./relaxed-plate.js";

const { width, height } = VIEW.frame;
const view = placeView(VIEW);
const pixelOf = (x: number, y: number): number => {
  const [px, py] = view.toFrame(boardPoint(x, y));
  return Math.round(py) * width + Math.round(px);
};

describe("seeBoard", () => {
  const grid = makePlateGrid(BOARD.outline);
  const emissivity = emissivityMap(BOARD, view, width, height);
  const seen = seeBoard(BOARD, view, grid, emissivity, width, height, 1);

  it("a pixel is on the board where its centre is, and reads cells with weights that sum to 1", () => {
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const i = y * width + x;
        const inside = pointInPolygon(BOARD.outline, view.toBoard(framePoint(x, y)));
        expect(seen.onBoard[i] === 1).toBe(inside);
        expect(seen.pixels.includes(i)).toBe(inside);
        let sum = 0;
        for (let k = 4 * i; k < 4 * i + 4; k++) sum += seen.weights[k]!;
        // Four single-precision weights.
        expect(Math.abs(sum - (inside ? 1 : 0))).toBeLessThan(3e-7);
      }
    }
  });

  it("a pixel shows the board by half at a straight outline, and wholly four sigma within it", () => {
    // The left edge of the board, half way down.
    const y =
      0.5 * (Math.min(...BOARD.outline.map((p) => p[1])) + Math.max(...BOARD.outline.map((p) => p[1])));
    const x = Math.min(...BOARD.outline.map((p) => p[0]));
    const edge = view.toFrame(boardPoint(x, y));
    const at = (px: number) => seen.covered[Math.round(edge[1]) * width + px]!;
    const [left, right] = [Math.floor(edge[0]), Math.floor(edge[0]) + 1];
    const share = edge[0] - left;
    // Between two pixels of a blurred step of 1 px: linear to a few hundredths.
    expect(Math.abs((1 - share) * at(left) + share * at(right) - 0.5)).toBeLessThan(0.03);
    expect(at(right + 5)).toBeCloseTo(1, 4);
    expect(at(left - 5)).toBeCloseTo(0, 4);
  });

  it("a rise that slopes over the board is shown as it is, weakened by the finish", () => {
    const plane = Float64Array.from(grid.cellOf, (cell) => 3 + 0.1 * (cell % grid.columns));
    const shown = new Float32Array(width * height + 5);
    showPlate(seen, plane, shown, 5);
    const i = pixelOf(20, 8);
    const at = view.toBoard(framePoint(i % width, Math.floor(i / width)));
    const expected = 3 + (0.1 * (at[0] - grid.x0Mm)) / grid.stepMm;
    // Bare mask for 4 px around: linear reading and a symmetric blur leave a plane as it is; single precision.
    // It stands from the offset on.
    expect(shown[5 + seen.pixels.indexOf(i)]! / expected).toBeCloseTo(
      FINISH_EMISSIVITY["solder-mask"].emissivity,
      4,
    );
    expect([...shown.slice(0, 5)]).toEqual([0, 0, 0, 0, 0]);
    expect(shown.findLastIndex((value) => value !== 0)).toBe(4 + seen.pixels.length);
  });
});
