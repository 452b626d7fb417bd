import { expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { normalTail } from "../../../src/numeric/normal-distribution.js";
import { coverageWindow } from "../../../src/sources/coverage-window.js";
import { lensVeil } from "../../../src/sources/lens-veil.js";
import { haloMarginPx } from "../../../src/sources/mirror-shapes.js";
import { denseOf } from "./dense-column.js";

const [width, height] = [90, 60];
const view = placeView({
  kind: "faultglow/view",
  version: 1,
  side: "top",
  frame: { width, height },
  fiducials: [
    { board: [0, 0], pixel: [0, 0] },
    { board: [40, 20], pixel: [80, 40] },
  ],
});
/** Pixels from the first edge to the last, of each face along x and of both along y; the view has 2 px per mm. */
const COLUMNS = [
  [16, 36],
  [56, 72],
] as const;
const ROWS = [20, 40] as const;
const faces = COLUMNS.map(([left, right]) => {
  const [x0, x1, y0, y1] = [left / 2, right / 2, ROWS[0] / 2, ROWS[1] / 2];
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ] as const;
});
const windows = faces.map((face) => coverageWindow(view, face, width, height, haloMarginPx(1))!);

/** −6 K on the one face, 2 K on the other, by halves in the pixels at their edges; heat beside them, which no face
 *  shows. */
function rise(): Float32Array {
  const inside = (at: number, [low, high]: readonly [number, number]) =>
    at < low || at > high ? 0 : at === low || at === high ? 0.5 : 1;
  return Float32Array.from({ length: width * height }, (_, i) => {
    const [x, y] = [i % width, Math.floor(i / width)];
    const shown = inside(y, ROWS) * (-6 * inside(x, COLUMNS[0]) + 2 * inside(x, COLUMNS[1]));
    return shown === 0 ? 0.5 : shown;
  });
}

/** Share of a point that a Gaussian of four pixels takes from a strip, by the normal integral. */
function from(at: number, [low, high]: readonly [number, number]): number {
  return normalTail((low - at) / 4) - normalTail((high - at) / 4);
}

it("one share spreads what all faces show, each by its own change, and takes it from them", () => {
  const veil = denseOf(lensVeil(rise(), width, windows, 0)!, width * height);
  for (const [x, y] of [
    [40, 30],
    [46, 24],
    [52, 30],
    [26, 44],
  ] as const) {
    const expected = from(y, ROWS) * (-6 * from(x, COLUMNS[0]) + 2 * from(x, COLUMNS[1]));
    // The kernel is sampled at whole pixels.
    expect(Math.abs(veil[y * width + x]! - expected)).toBeLessThan(0.02);
  }
  expect(veil[30 * width + 26]!).toBeGreaterThan(0);
  // What is spread is taken: all of it together is nothing.
  expect(Math.abs(veil.reduce((a, b) => a + b, 0))).toBeLessThan(2);
});

it("pixels without a reading show nothing, and without a face there is no veil", () => {
  const torn = rise();
  torn.fill(Number.NaN, 30 * width + 20, 30 * width + 24);
  expect(lensVeil(torn, width, windows, 0)!.values.every(Number.isFinite)).toBe(true);
  expect(lensVeil(torn, width, [], 0)).toBeNull();
});

it("of several pictures it lies on its own", () => {
  const at = lensVeil(rise(), width, windows, 7000)!.at!;
  expect(at[0]).toBeGreaterThanOrEqual(7000);
  expect(at.at(-1)).toBeLessThan(7000 + width * height);
});
