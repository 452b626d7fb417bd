import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { createRaster } from "../../../src/core/raster.js";
import { boardPoint, framePoint } from "../../../src/core/units.js";
import { growRaster, shrinkRaster, shrinkView } from "../../../src/sources/shrink-frame.js";

describe("shrinkRaster", () => {
  it("averages readings over blocks and leaves out what does not fill one", () => {
    const raster = createRaster(
      "K",
      5,
      4,
      Float32Array.from({ length: 20 }, (_, i) => i),
    );
    raster.data[6] = Number.NaN;
    const small = shrinkRaster(raster, 2);
    expect([small.width, small.height]).toEqual([2, 2]);
    // Block (0, 0) holds 0, 1 and 5; 6 has no reading.
    expect([...small.data]).toEqual([2, 5, 13, 15]);
  });

  it("a block without any reading has none", () => {
    const raster = createRaster("K", 4, 2, new Float32Array(8).fill(Number.NaN));
    raster.data[3] = 7;
    expect([...shrinkRaster(raster, 2).data]).toEqual([Number.NaN, 7]);
  });

  it("a factor of 1 changes nothing", () => {
    const raster = createRaster("K", 3, 2);
    expect(shrinkRaster(raster, 1)).toBe(raster);
  });
});

describe("growRaster", () => {
  it.each([1, 2, 3])(
    "brings a slope back that was shrunk by %i, and goes on beyond the outer blocks as they are",
    (factor) => {
      const [width, height] = [23, 14];
      const slope = Float32Array.from(
        { length: width * height },
        (_, i) => 2 + 0.25 * (i % width) - 0.5 * Math.floor(i / width),
      );
      const raster = createRaster("K", width, height, slope);
      const small = shrinkRaster(raster, factor);
      const back = growRaster(small, factor, width, height);
      expect([back.unit, back.width, back.height]).toEqual(["K", width, height]);
      const last = [
        factor * small.width - (factor + 1) / 2,
        factor * small.height - (factor + 1) / 2,
      ] as const;
      const held = (at: number, most: number): number => Math.min(most, Math.max((factor - 1) / 2, at));
      back.data.forEach((value, i) => {
        const [x, y] = [held(i % width, last[0]), held(Math.floor(i / width), last[1])];
        // Values below 8 in single precision, some roundings.
        expect(value).toBeCloseTo(2 + 0.25 * x - 0.5 * y, 5);
      });
    },
  );
});

describe("shrinkView", () => {
  const view = placeView({
    kind: "faultglow/view",
    version: 1,
    side: "top",
    frame: { width: 160, height: 120 },
    fiducials: [
      { board: [0, 0], pixel: [12, 17] },
      { board: [50, 0], pixel: [140, 22] },
      { board: [50, 30], pixel: [136, 101] },
      { board: [0, 30], pixel: [9, 96] },
    ],
  });

  it.each([2, 3])("a point of the board lies in the block that holds its pixel (factor %i)", (factor) => {
    const small = shrinkView(view, factor);
    for (const point of [boardPoint(0, 0), boardPoint(31, 7), boardPoint(48, 29)]) {
      const [x, y] = view.toFrame(point);
      const [u, v] = small.toFrame(point);
      // The centre of block k is at pixel k·factor + (factor − 1)/2.
      expect(u * factor + (factor - 1) / 2).toBeCloseTo(x, 9);
      expect(v * factor + (factor - 1) / 2).toBeCloseTo(y, 9);
      const [bx, by] = small.toBoard(framePoint(u, v));
      expect(bx).toBeCloseTo(point[0], 9);
      expect(by).toBeCloseTo(point[1], 9);
      // The matrix says the same as the functions.
      const m = small.matrix;
      const w = m[6]! * point[0] + m[7]! * point[1] + m[8]!;
      expect((m[0]! * point[0] + m[1]! * point[1] + m[2]!) / w).toBeCloseTo(u, 9);
      expect((m[3]! * point[0] + m[4]! * point[1] + m[5]!) / w).toBeCloseTo(v, 9);
    }
    const at = boardPoint(31, 7);
    expect(small.mmPerPxAt(small.toFrame(at)) / view.mmPerPxAt(view.toFrame(at))).toBeCloseTo(factor, 9);
  });
});
