import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { FINISH_EMISSIVITY } from "../../../src/board/emissivity.js";
import { placeView } from "../../../src/board/place-view.js";
import { pointInPolygon } from "../../../src/board/polygon.js";
import { createRaster } from "../../../src/core/raster.js";
import { boardPoint, framePoint } from "../../../src/core/units.js";
import { seeBoard, showPlate } from "../../../src/sources/board-in-frame.js";
import { emissivityMap } from "../../../src/sources/emissivity-map.js";
import { makePlateGrid } from "../../../src/sources/plate-grid.js";
import { shrinkRaster, shrinkView } from "../../../src/sources/shrink-frame.js";
import { BOARD, VIEW } from "./relaxed-plate.js";

const { width, height } = VIEW.frame;
const view = placeView(VIEW);
const pixelOf = (x: number, y: number): number => {
  const [px, py] = view.toFrame(boardPoint(x, y));
  return Math.round(py) * width + Math.round(px);
};
const square = (x: number, y: number, side: number): [number, number][] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];
const MIXED: BoardMap = {
  ...BOARD,
  regions: [
    { ref: "SH1", side: "top", kind: "shield", polygon: square(5, 5, 12) },
    { ref: "U1", side: "top", kind: "ic", finish: "moulded", polygon: square(8, 8, 4) },
    { ref: "U2", side: "top", kind: "ic", finish: "bare-die", polygon: square(24, 6, 8) },
    { ref: "C1", side: "top", kind: "passive", emissivity: 0.42, polygon: square(26, 8, 3) },
    { ref: "U9", side: "bottom", kind: "ic", finish: "bare-metal", polygon: square(34, 16, 5) },
  ],
};

describe("emissivityMap", () => {
  const map = emissivityMap(MIXED, view, width, height);

  it("0 off the board, the mask's between the parts, each part's own on it", () => {
    expect(map[0]).toBe(0);
    expect(map[pixelOf(21, 20)]).toBeCloseTo(FINISH_EMISSIVITY["solder-mask"].emissivity, 6);
    expect(map[pixelOf(31, 7)]).toBeCloseTo(FINISH_EMISSIVITY["bare-die"].emissivity, 6);
  });

  it("a small part lies over a large one, a shield over all that it covers", () => {
    expect(map[pixelOf(27.5, 9.5)]).toBeCloseTo(0.42, 6);
    const shield = FINISH_EMISSIVITY["bare-metal"].emissivity;
    expect(map[pixelOf(10, 10)]).toBeCloseTo(shield, 6);
    expect(map[pixelOf(15, 15)]).toBeCloseTo(shield, 6);
  });

  it("what sits on the other side is not seen", () => {
    expect(map[pixelOf(36.5, 18.5)]).toBeCloseTo(FINISH_EMISSIVITY["solder-mask"].emissivity, 6);
  });

  it("nowhere outside 0…1", () => {
    for (const value of map) {
      expect(value).toBeGreaterThanOrEqual(0);
      expect(value).toBeLessThanOrEqual(1);
    }
  });
});

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

describe("shrinkRaster and shrinkView", () => {
  it("averages over blocks, over readings only", () => {
    const raster = createRaster(
      "K",
      5,
      4,
      Float32Array.from({ length: 20 }, (_, i) => i),
    );
    raster.data[0] = Number.NaN;
    for (const i of [2, 3, 7, 8]) raster.data[i] = Number.NaN;
    const small = shrinkRaster(raster, 2);
    expect([small.unit, small.width, small.height]).toEqual(["K", 2, 2]);
    expect([...small.data]).toEqual([
      (1 + 5 + 6) / 3,
      Number.NaN,
      (10 + 11 + 15 + 16) / 4,
      (12 + 13 + 17 + 18) / 4,
    ]);
    expect(shrinkRaster(raster, 1).data).toEqual(raster.data);
  });

  it("the view of the small frame: block centres, there and back, and its matrix says the same", () => {
    const small = shrinkView(view, 3);
    const mm = boardPoint(13.7, 9.1);
    const fine = view.toFrame(mm);
    const coarse = small.toFrame(mm);
    // Block (0, 0) holds pixels 0, 1, 2: its centre is pixel 1.
    expect(coarse[0]).toBeCloseTo((fine[0] - 1) / 3, 9);
    expect(coarse[1]).toBeCloseTo((fine[1] - 1) / 3, 9);
    const back = small.toBoard(coarse);
    expect(back[0]).toBeCloseTo(13.7, 9);
    expect(back[1]).toBeCloseTo(9.1, 9);
    const m = small.matrix;
    const w = m[6]! * mm[0] + m[7]! * mm[1] + m[8]!;
    expect((m[0]! * mm[0] + m[1]! * mm[1] + m[2]!) / w).toBeCloseTo(coarse[0], 9);
    expect((m[3]! * mm[0] + m[4]! * mm[1] + m[5]!) / w).toBeCloseTo(coarse[1], 9);
    expect(small.mmPerPxAt(coarse) / view.mmPerPxAt(fine)).toBeCloseTo(3, 9);
  });
});
