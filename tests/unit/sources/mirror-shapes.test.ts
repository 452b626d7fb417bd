import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { mirrorShapes } from "../../../src/sources/mirror-shapes.js";

const view = placeView({
  kind: "faultglow/view",
  version: 1,
  side: "top",
  frame: { width: 80, height: 60 },
  fiducials: [
    { board: [0, 0], pixel: [5, 4] },
    { board: [35, 25], pixel: [75, 54] },
  ],
});
const face = [
  [10, 8],
  [18, 8],
  [18, 13],
  [10, 13],
] as const;

describe("mirrorShapes", () => {
  it("the level covers the face and ends within the blur around it", () => {
    const [level] = mirrorShapes(view, face, 80, 60, 1);
    // 2 px per mm: the face spans pixels 25 … 41 by 20 … 30.
    expect(level![25 * 80 + 33]).toBeCloseTo(1, 3);
    expect(level![25 * 80 + 46]!).toBeLessThan(1e-3);
    const sum = level!.reduce((a, b) => a + b, 0);
    expect(sum).toBeCloseTo(16 * 10, 0);
  });

  it("what the softer optics spread and what a shift leaves cancel over the whole", () => {
    const [level, softer, alongX, alongY] = mirrorShapes(view, face, 80, 60, 1);
    for (const shape of [softer!, alongX!, alongY!]) {
      const total = shape.reduce((a, b) => a + b, 0);
      const size = shape.reduce((a, b) => a + Math.abs(b), 0);
      expect(size).toBeGreaterThan(1);
      expect(Math.abs(total)).toBeLessThan(1e-3 * level!.reduce((a, b) => a + b, 0));
    }
  });

  it("a large face may slope and curve, one of a few pixels may not; outside the picture there is none", () => {
    expect(mirrorShapes(view, face, 80, 60, 1)).toHaveLength(9);
    const small = face.map(([x, y]) => [10 + (x - 10) / 8, 8 + (y - 8) / 5] as const);
    expect(mirrorShapes(view, small, 80, 60, 1)).toHaveLength(4);
    const away = face.map(([x, y]) => [x + 100, y] as const);
    expect(mirrorShapes(view, away, 80, 60, 1)).toEqual([]);
  });
});
