import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { rasterisePolygon } from "../../../src/board/rasterise-polygon.js";
import { coverageWindow } from "../../../src/sources/coverage-window.js";

const width = 60;
const height = 44;
/** 2 px per mm; board (0, 0) at pixel (6, 3). */
const view = placeView({
  kind: "faultglow/view",
  version: 1,
  side: "top",
  frame: { width, height },
  fiducials: [
    { board: [0, 0], pixel: [6, 3] },
    { board: [25, 20], pixel: [56, 43] },
  ],
});
const box = (x: number, y: number, w: number, h: number) =>
  [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ] as const;

describe("coverageWindow", () => {
  it.each([
    ["inside the frame", box(8.3, 6.2, 5.1, 2.7)],
    ["at the left and upper border", box(-2.4, -1, 4, 1.9)],
    ["at the right and lower border", box(24, 17.5, 9, 6)],
    ["smaller than a pixel", box(11.1, 9.3, 0.2, 0.3)],
  ])("holds every pixel that the polygon covers: %s", (_, polygon) => {
    const window = coverageWindow(view, polygon, width, height, 2.3)!;
    const part = rasterisePolygon(view, polygon, width, height);
    const whole = new Float32Array(width * height);
    window.coverage.forEach((share, k) => {
      const x = window.x0 + (k % window.width);
      const y = window.y0 + Math.floor(k / window.width);
      expect(x >= 0 && x < width && y >= 0 && y < height).toBe(true);
      whole[y * width + x] = share;
    });
    for (let y = 0; y < part.height; y++) {
      for (let x = 0; x < part.width; x++) {
        const i = (part.y0 + y) * width + part.x0 + x;
        expect(whole[i]).toBe(part.coverage[y * part.width + x]);
        whole[i] = 0;
      }
    }
    expect(whole.every((share) => share === 0)).toBe(true);
  });

  it("leaves the margin on every side, rounded up, and cut at the frame's borders", () => {
    const polygon = box(8, 6, 5, 3);
    const bare = coverageWindow(view, polygon, width, height, 0)!;
    const room = coverageWindow(view, polygon, width, height, 2.3)!;
    expect([room.x0, room.y0]).toEqual([bare.x0 - 3, bare.y0 - 3]);
    expect([room.width, room.height]).toEqual([bare.width + 6, bare.height + 6]);
    const most = coverageWindow(view, polygon, width, height, 1000)!;
    expect([most.x0, most.y0, most.width, most.height]).toEqual([0, 0, width, height]);
  });

  it("shares sum to the polygon's area in pixels, whatever the margin", () => {
    for (const margin of [0, 1, 7.5]) {
      const { coverage } = coverageWindow(view, box(8.3, 6.2, 5.1, 2.7), width, height, margin)!;
      // 5.1 × 2.7 mm at 2 px per mm; some 70 single-precision shares.
      expect(coverage.reduce((a, b) => a + b, 0)).toBeCloseTo(5.1 * 2.7 * 4, 4);
    }
  });

  it("nothing of the polygon in the picture: null, even where the margin would reach it", () => {
    expect(coverageWindow(view, box(60, 6, 4, 3), width, height, 0)).toBeNull();
    expect(coverageWindow(view, box(-6.5, 6, 3, 3), width, height, 5)).toBeNull();
  });
});
