import { describe, expect, it } from "vitest";
import type { Point } from "../../../../src/board/polygon.js";
import { layLabels } from "../../../../src/page/board/lay-labels.js";

const fit = { scale: 1, x: 100, y: 20, width: 400, height: 260 };
const options = { heightPx: 40, gapPx: 10, low: 20, high: 280 };

describe("layLabels", () => {
  it("sends each place to the nearer edge, at its own height where there is room", () => {
    const laid = layLabels(
      [
        [150, 100],
        [450, 60],
      ],
      fit,
      options,
    );
    expect(laid.map(({ edge, x, y }) => ({ edge, x, y }))).toEqual([
      { edge: "left", x: 90, y: 100 },
      { edge: "right", x: 510, y: 60 },
    ]);
    expect(laid[0]!.line).toEqual([
      [90, 100],
      [100, 100],
      [150, 100],
    ]);
  });

  it("keeps labels a height apart, in the order of their places, so that lines of an edge do not cross", () => {
    const anchors: Point[] = [
      [450, 150],
      [440, 140],
      [430, 145],
      [460, 149],
    ];
    const laid = layLabels(anchors, fit, options).sort((a, b) => a.y - b.y);
    expect(laid.map(({ index }) => index)).toEqual([1, 2, 3, 0]);
    for (let i = 1; i < laid.length; i++)
      expect(laid[i]!.y - laid[i - 1]!.y).toBeGreaterThanOrEqual(40 - 1e-9);
  });

  it("uses the other edge where one is full", () => {
    const anchors = Array.from({ length: 10 }, (_, i): Point => [400 + i, 30 + 20 * i]);
    const laid = layLabels(anchors, fit, options);
    // 260 px hold seven middles 40 px apart.
    expect(laid.filter(({ edge }) => edge === "right").length).toBe(7);
    expect(laid.filter(({ edge }) => edge === "left").map(({ index }) => index)).toEqual([0, 1, 2]);
  });

  it("leaves the last places without a label where both edges are full, wherever they lie", () => {
    const anchors = Array.from({ length: 20 }, (_, i): Point => [i < 2 ? 300 + i : 400 + i, 30 + 10 * i]);
    const laid = layLabels(anchors, fit, options);
    expect(laid.map(({ index }) => index)).toEqual(Array.from({ length: 14 }, (_, i) => i));
  });

  it("has nothing to lay without places", () => {
    expect(layLabels([], fit, options)).toEqual([]);
  });
});
