import { describe, expect, it } from "vitest";
import { makeStage } from "../../../../src/page/board/make-stage.js";
import { resampleView } from "../../../../src/page/board/resample-view.js";

const FRAME = { width: 6, height: 4 };
/** A plane: bilinear between its pixels is exact. */
const plane = Float32Array.from({ length: 24 }, (_, i) => 3 * (i % 6) - 5 * Math.floor(i / 6) + 1);
const at = (x: number, y: number): number => 3 * x - 5 * y + 1;

describe("resampleView", () => {
  it("gives every pixel back where the grid is that of the frame", () => {
    const grid = resampleView(makeStage(null, null, FRAME), FRAME, [plane], 6);
    expect([grid.width, grid.height]).toEqual([6, 4]);
    expect([...grid.layers[0]!]).toEqual([...plane]);
  });

  it("is exact on a plane between the pixels' centres, at twice the pitch", () => {
    const grid = resampleView(makeStage(null, null, FRAME), FRAME, [plane], 12);
    expect([grid.width, grid.height]).toEqual([12, 8]);
    for (let row = 1; row < 7; row++) {
      for (let column = 1; column < 11; column++) {
        expect(grid.layers[0]![row * 12 + column]).toBeCloseTo(at(column / 2 - 0.25, row / 2 - 0.25), 5);
      }
    }
  });

  it("has no reading outside the frame", () => {
    const stage = { ...makeStage(null, null, FRAME), left: -3.5, width: 9 };
    const grid = resampleView(stage, FRAME, [plane], 9);
    expect([...grid.layers[0]!.subarray(0, 3)]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
    expect(grid.layers[0]![3]).toBe(plane[0]);
  });

  it("turns a mirrored plane round", () => {
    const stage = { ...makeStage(null, null, FRAME), isMirrored: true };
    const grid = resampleView(stage, FRAME, [plane], 6);
    expect([...grid.layers[0]!.subarray(0, 6)]).toEqual([...plane.subarray(0, 6)].reverse());
  });
});
