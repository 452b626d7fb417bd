import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { emissivityOf, FINISH_EMISSIVITY } from "../../../src/board/emissivity.js";
import { placeView } from "../../../src/board/place-view.js";
import { pointInPolygon } from "../../../src/board/polygon.js";
import { createRaster } from "../../../src/core/raster.js";
import { boardPoint, framePoint } from "../../../src/core/units.js";
import { seeBoard, showBody, showPlate } from "../../../src/sources/board-in-frame.js";
import { emissivityMap } from "../../../src/sources/emissivity-map.js";
import { makePlateGrid } from "../../../src/sources/plate-grid.js";
import { shrinkRaster, shrinkView } from "../../../src/sources/shrink-frame.js";
import { SourceModel } from "../../../src/sources/source-model.js";
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
        let sum = 0;
        for (let k = 4 * i; k < 4 * i + 4; k++) sum += seen.weights[k]!;
        // Four single-precision weights.
        expect(Math.abs(sum - (inside ? 1 : 0))).toBeLessThan(3e-7);
      }
    }
  });

  it("a rise that slopes over the board is shown as it is, weakened by the finish", () => {
    const plane = Float64Array.from(grid.cellOf, (cell) => 3 + 0.1 * (cell % grid.columns));
    const shown = showPlate(seen, plane);
    const i = pixelOf(20, 8);
    const at = view.toBoard(framePoint(i % width, Math.floor(i / width)));
    const expected = 3 + (0.1 * (at[0] - grid.x0Mm)) / grid.stepMm;
    // Bare mask for 4 px around: linear reading and a symmetric blur leave a plane as it is; single precision.
    expect(shown[i]! / expected).toBeCloseTo(FINISH_EMISSIVITY["solder-mask"].emissivity, 4);
    expect(shown[0]).toBe(0);
  });

  it("a body of 2 K on a part shows 2 K × its emissivity in the middle and nothing far from it", () => {
    const body = new Float32Array(width * height);
    const u2 = BOARD.regions[1]!;
    for (let i = 0; i < body.length; i++) {
      const mm = view.toBoard(framePoint(i % width, Math.floor(i / width)));
      if (pointInPolygon(u2.polygon, mm)) body[i] = 2;
    }
    const shown = showBody(seen, body);
    expect(shown[pixelOf(26.5, 16)]!).toBeCloseTo(2 * emissivityOf(u2), 3);
    expect(shown[pixelOf(10, 4)]!).toBe(0);
  });
});

describe("SourceModel", () => {
  it("names every part on the board, the far side's without a body in view", () => {
    const model = new SourceModel(MIXED, view, width, height, (region) => boardPoint(...region.polygon[0]!));
    expect(model.candidates.map((c) => c.ref)).toEqual(["SH1", "U1", "U2", "C1", "U9"]);
    expect(model.candidates.find((c) => c.ref === "U9")!.body).toBeNull();
    expect(model.candidates.find((c) => c.ref === "U2")!.body).not.toBeNull();
    expect([model.conductanceWPerK, model.lossWPerM2K]).toEqual([0.008, 20]);
  });

  it("a watt shows the balance of energy: mean rise 1/(h·A), read through the finish", () => {
    const plain: BoardMap = { ...BOARD, regions: BOARD.regions.slice(1, 2) };
    const model = new SourceModel(plain, view, width, height, () => boardPoint(26, 16), {
      opticsSigmaPx: 0.6,
    });
    const [plate] = model.columns(model.candidates[0]!, 20);
    let sum = 0;
    for (let i = 0; i < plate!.length; i++) {
      if (model.seen.emissivity[i]! > 0.5) sum += plate![i]! / model.seen.emissivity[i]!;
    }
    // 1/(20 W/m²K × 40 mm × 24 mm) = 52.08 K over 960 mm² of 2.7² px each. The outline cuts pixels in halves: a
    // rim of 346 px of 7000, where emissivity and blur don't cancel quite: 2 %.
    const mean = sum / (960 * 2.7 ** 2);
    expect(Math.abs(mean / 52.0833 - 1)).toBeLessThan(0.02);
  });

  it("takes away more heat where the board has not warmed through yet, never less than the losses", () => {
    const model = new SourceModel(BOARD, view, width, height, () => boardPoint(1, 1));
    expect(model.sinkWPerM2K(20)).toBeCloseTo(20, 9);
    expect(model.sinkWPerM2K(100)).toBe(20);
    expect(model.sinkWPerM2K(10)).toBeCloseTo(80, 9);
  });

  it("a free place on the board is a candidate without a name, one off the board is none", () => {
    const model = new SourceModel(BOARD, view, width, height, () => boardPoint(1, 1));
    const free = model.freeCandidate(boardPoint(19, 20))!;
    expect(free.ref).toBeNull();
    expect(free.region).toBe(-1);
    expect(free.footprint.shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
    expect(model.freeCandidate(boardPoint(55, 20))).toBeNull();
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
