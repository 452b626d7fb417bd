import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { View } from "../../../src/board/board-schema.js";
import { placeView } from "../../../src/board/place-view.js";
import { applyHomography, composeHomographies, type Matrix3 } from "../../../src/board/plane-transform.js";
import { boardPoint } from "../../../src/core/units.js";
import { placeNewView } from "../../../src/place/place-new-view.js";
import { BOARD, drawBoard, FIRST, moved, viewOf } from "../../unit/place/drawn-board.js";

const SIZE = [120, 92] as const;
// The board of 60 mm at 1.4 px per mm, so that a run is short.
const NEAR: Matrix3 = composeHomographies([0.65, 0, 4, 0, 0.65, 3, 0, 0, 1], FIRST);
const LEVELS = { board: 2.3, parts: [1.2, -1.4, 0.9, -0.8, 0.9] };
const PLACES = [
  [3, 3],
  [57, 4],
  [49, 35],
  [4, 35],
  [30, 20],
] as const;

function apart(view: View, matrix: Matrix3): number {
  const placed = placeView(view);
  return Math.max(
    ...PLACES.map(([x, y]) => {
      const [u, v] = placed.toFrame(boardPoint(x, y));
      const [s, t] = applyHomography(matrix, [x, y]);
      return Math.hypot(u - s, v - t);
    }),
  );
}

const motion = fc.record({
  turnDeg: fc.double({ min: -14, max: 14, noNaN: true }),
  scale: fc.double({ min: 0.88, max: 1.1, noNaN: true }),
  shift: fc.tuple(fc.double({ min: -11, max: 11, noNaN: true }), fc.double({ min: -8, max: 8, noNaN: true })),
});

// The largest of five errors against five times the stated root mean square one: passed by chance once in thousands.
const SIGMAS = 5;

describe("placeNewView", () => {
  it("gives a frame's own view for the frame itself", () => {
    const frame = drawBoard(NEAR, SIZE, LEVELS, "same");
    const found = placeNewView({ frame, view: viewOf(NEAR, ...SIZE) }, frame, BOARD);
    expect(found.trusted, String(found.doubt)).toBe(true);
    // The same numbers in both frames: what is left is by how much the map's edges, sharp and even, differ from those
    // drawn in the frame, of 0.4 px a pixel's own blur.
    expect(apart(found.view!, NEAR)).toBeLessThan(0.15);
  });

  it("leads back: from the second frame with the view that was found, the first frame's view", () => {
    fc.assert(
      fc.property(motion, fc.integer({ min: 1, max: 1000 }), (how, seed) => {
        const first = drawBoard(NEAR, SIZE, LEVELS, `there ${seed}`);
        const truth = composeHomographies(moved(how, [59.5, 45.5]), NEAR);
        const second = drawBoard(truth, SIZE, LEVELS, `back ${seed}`);
        const there = placeNewView({ frame: first, view: viewOf(NEAR, ...SIZE) }, second, BOARD);
        expect(there.trusted, String(there.doubt)).toBe(true);
        expect(apart(there.view!, truth)).toBeLessThan(SIGMAS * there.sigmaPx);
        const back = placeNewView({ frame: second, view: there.view! }, first, BOARD);
        expect(back.trusted, String(back.doubt)).toBe(true);
        expect(apart(back.view!, NEAR)).toBeLessThan(
          SIGMAS * Math.hypot(there.sigmaPx / there.scale, back.sigmaPx),
        );
      }),
      { numRuns: 6, seed: 20260 },
    );
  });

  it("is the same for temperatures on another level and another span", () => {
    const first = drawBoard(NEAR, SIZE, LEVELS, "span");
    const truth = composeHomographies(moved({ turnDeg: 6, scale: 1.04, shift: [4, -3] }, [59.5, 45.5]), NEAR);
    const second = drawBoard(truth, SIZE, LEVELS, "span 2");
    const other = { ...second, data: second.data.map((value) => 5 + 1.3 * value) };
    const place = (later: typeof second) =>
      placeNewView({ frame: first, view: viewOf(NEAR, ...SIZE) }, later, BOARD);
    const [a, b] = [place(second), place(other)];
    const placed = placeView(a.view!);
    // Contrast and level are fitted; what is compared with a fixed noise of 50 mK weighs a little differently.
    for (const [x, y] of PLACES) {
      const [u, v] = placed.toFrame(boardPoint(x, y));
      const [s, t] = placeView(b.view!).toFrame(boardPoint(x, y));
      expect(Math.hypot(u - s, v - t)).toBeLessThan(0.5 * a.sigmaPx);
    }
  });
});
