import { describe, expect, it } from "vitest";
import type { Point } from "../../../src/board/polygon.js";
import {
  coverageMask,
  framePixel,
  polygonToFrame,
  rasterisePolygon,
} from "../../../src/board/rasterise-polygon.js";

// One millimetre is one pixel, so that the numbers can be followed by eye.
const SAME = { matrix: [1, 0, 0, 0, 1, 0, 0, 0, 1] };
const sum = (values: Float32Array) => values.reduce((total, value) => total + value, 0);

describe("rasterisePolygon", () => {
  it("gives shares of pixels whose centres are whole numbers", () => {
    const polygon: Point[] = [
      [0.5, 1],
      [3, 1],
      [3, 2.75],
      [0.5, 2.75],
    ];
    const { x0, y0, width, height, coverage } = rasterisePolygon(SAME, polygon, 7, 5);
    expect([x0, y0, width, height]).toEqual([1, 1, 3, 3]);
    expect([...coverage]).toEqual([0.5, 0.5, 0.25, 1, 1, 0.5, 0.25, 0.25, 0.125]);
  });

  it("is the same for both senses of turning", () => {
    const polygon: Point[] = [
      [0.7, 0.2],
      [5.1, 1.3],
      [2.2, 1.9],
      [3.6, 4.4],
    ];
    const one = rasterisePolygon(SAME, polygon, 9, 6);
    const other = rasterisePolygon(SAME, [...polygon].reverse(), 9, 6);
    one.coverage.forEach((share, i) => {
      expect(other.coverage[i]).toBeCloseTo(share, 6);
    });
  });

  it("cuts at all four sides of the frame", () => {
    const polygon: Point[] = [
      [-20, 2],
      [3, -31],
      [40, 3],
      [5, 29],
    ];
    const { x0, y0, width, height, coverage } = rasterisePolygon(SAME, polygon, 6, 4);
    expect([x0, y0, width, height]).toEqual([0, 0, 6, 4]);
    expect([...coverage]).toEqual(new Array(24).fill(1));
    // A half plane whose edge runs from far left to far right through the frame.
    const half = rasterisePolygon(
      SAME,
      [
        [-99, 1.5],
        [99, 1.5],
        [99, 77],
        [-99, 77],
      ],
      6,
      4,
    );
    expect([half.x0, half.y0, half.width, half.height]).toEqual([0, 2, 6, 2]);
    expect(sum(half.coverage)).toBe(12);
  });

  it("is empty where nothing is in the frame", () => {
    const away = rasterisePolygon(
      SAME,
      [
        [-9, 1],
        [-2, 1],
        [-3, 3],
      ],
      6,
      4,
    );
    expect([away.width, away.height, away.coverage.length]).toEqual([0, 0, 0]);
  });

  it("leaves out what lies behind the horizon", () => {
    // w = 1 − x/10: the horizon is at x = 10 mm.
    const view = { matrix: [1, 0, 0, 0, 1, 0, -0.1, 0, 1] };
    const across = polygonToFrame(view, [
      [0, -1],
      [15, -1],
      [15, 2],
      [0, 2],
    ]);
    expect(Math.min(...across.map(([x]) => x))).toBe(0);
    expect(Math.max(...across.map(([x]) => x))).toBeGreaterThan(1e4);
    expect(
      polygonToFrame(view, [
        [12, 0],
        [15, 1],
        [13, 4],
      ]),
    ).toEqual([]);
    const { width, coverage } = rasterisePolygon(
      view,
      [
        [0, -1],
        [15, -1],
        [15, 2],
        [0, 2],
      ],
      30,
      9,
    );
    expect(width).toBe(30);
    // Row 0, x 1…29: between y = −0.5 and 0.5 all is on the near side of both long edges, which run apart.
    expect([...coverage.slice(1, 30)]).toEqual(new Array(29).fill(1));
  });
});

describe("coverageMask", () => {
  it("covers the whole frame, 1 on the polygon and 0 off it", () => {
    const outline: [number, number][] = [
      [1.5, 0.5],
      [4, 0.5],
      [4, 2.5],
      [1.5, 2.5],
    ];
    const mask = coverageMask(SAME, outline, 6, 4);
    expect([mask.width, mask.height]).toEqual([6, 4]);
    expect([...mask.data]).toEqual([
      0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 0.5, 0, 0, 0, 1, 1, 0.5, 0, 0, 0, 0, 0, 0, 0,
    ]);
    const part = rasterisePolygon(SAME, outline, 6, 4);
    part.coverage.forEach((share, k) => {
      expect(mask.data[framePixel(part, k, 6)]).toBe(share);
    });
  });
});
