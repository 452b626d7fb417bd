import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { normalTail } from "../../../src/numeric/normal-distribution.js";
import type { Column } from "../../../src/sources/column.js";
import { coverageWindow } from "../../../src/sources/coverage-window.js";
import { faceShapes, haloMarginPx, mirrorShapes } from "../../../src/sources/mirror-shapes.js";
import { denseOf } from "./dense-column.js";

const width = 80;
const height = 60;
const view = placeView({
  kind: "faultglow/view",
  version: 1,
  side: "top",
  frame: { width, height },
  fiducials: [
    { board: [0, 0], pixel: [5, 4] },
    { board: [35, 25], pixel: [75, 54] },
  ],
});
/** 2 px per mm: the face spans pixels 25 … 41 by 20 … 30. */
const face = [
  [10, 8],
  [18, 8],
  [18, 13],
  [10, 13],
] as const;
const OPTICS_PX = 1;

const shapes = mirrorShapes(view, face, width, height, OPTICS_PX).map((c) => denseOf(c, width * height));
const [level, softer, halo, alongX, alongY] = shapes as [
  Float64Array,
  Float64Array,
  Float64Array,
  Float64Array,
  Float64Array,
];
const total = (shape: Float64Array) => shape.reduce((a, b) => a + b, 0);
const size = (shape: Float64Array) => shape.reduce((a, b) => a + Math.abs(b), 0);

/** The face blurred by a Gaussian, by the normal integral along either axis. A pixel's own width adds 1/12 px², and a
 *  kernel sampled at whole pixels as much again. */
function blurredFace(sigmaPx: number, x: number, y: number): number {
  const s = Math.sqrt(sigmaPx ** 2 + 1 / 6);
  const along = (at: number, low: number, high: number) =>
    normalTail((low - at) / s) - normalTail((high - at) / s);
  return along(x, 25, 41) * along(y, 20, 30);
}

describe("mirrorShapes", () => {
  it("the level is the face as the optics blur it, and nothing far from it", () => {
    for (let y = 8; y < 44; y++) {
      for (let x = 10; x < 60; x++) {
        // The sum over pixels against the integral: less than 1 %.
        expect(Math.abs(level[y * width + x]! - blurredFace(OPTICS_PX, x, y))).toBeLessThan(0.01);
      }
    }
    expect(level[25 * width + 46]!).toBeLessThan(1e-3);
    expect(total(level)).toBeCloseTo(16 * 10, 0);
  });

  it("softer optics and a halo are the level spread wider, less the level", () => {
    for (const [shape, spreadPx] of [
      [softer, OPTICS_PX],
      [halo, 4],
    ] as const) {
      const wide = Math.hypot(OPTICS_PX, spreadPx);
      for (let y = 10; y < 42; y++) {
        for (let x = 14; x < 56; x++) {
          const expected = blurredFace(wide, x, y) - blurredFace(OPTICS_PX, x, y);
          // As above, twice.
          expect(Math.abs(shape[y * width + x]! - expected)).toBeLessThan(0.02);
        }
      }
    }
  });

  it("the halo takes from the face and gives to what is around it, far beyond the blur", () => {
    expect(halo[25 * width + 33]!).toBeLessThan(0);
    const beside = 25 * width + 46;
    expect(halo[beside]!).toBeGreaterThan(20 * Math.abs(level[beside]!));
    expect(halo[beside]!).toBeGreaterThan(5 * Math.abs(softer[beside]!));
    expect(haloMarginPx(OPTICS_PX)).toBeGreaterThan(3 * 4);
    expect(haloMarginPx(2)).toBeGreaterThan(haloMarginPx(1));
  });

  it("what softer optics, a halo and a shift leave cancels over the whole", () => {
    for (const shape of [softer, halo, alongX, alongY]) {
      expect(size(shape)).toBeGreaterThan(1);
      // The halo's kernel ends at 4 of its widths, the window at 3.5: some thousandths of it are cut off.
      expect(Math.abs(total(shape))).toBeLessThan(0.01 * total(level));
    }
  });

  it("a face laid a little beside its place leaves its differences", () => {
    const moved = face.map(([x, y]) => [x + 0.1, y] as const);
    const [there] = mirrorShapes(view, moved, width, height, OPTICS_PX);
    const beside = denseOf(there!, width * height);
    for (let i = 0; i < beside.length; i++) {
      // Moved by 0.2 px to the right it changes by 0.2 px × 0.4 K/px at the edges. Differences over two pixels are a
      // sixth lower than the slope there: 0.013 K; the curvature adds 0.02 px² × 0.24 K/px².
      expect(Math.abs(beside[i]! - level[i]! + 0.2 * alongX[i]!)).toBeLessThan(0.02);
    }
  });

  it("a larger face may do all that a smaller one may, and more; outside the picture there is none", () => {
    const counts = [0.6, 2, 3.5, 16].map((side) => {
      const half = side / 4;
      const square = [
        [14 - half, 10 - half],
        [14 + half, 10 - half],
        [14 + half, 10 + half],
        [14 - half, 10 + half],
      ] as const;
      return mirrorShapes(view, square, width, height, OPTICS_PX).length;
    });
    expect(counts).toEqual([...counts].sort((a, b) => a - b));
    // Level, softer, halo and two shifts always; two slopes; three curvatures.
    expect([counts[0], counts.at(-1)]).toEqual([5, 10]);
    const away = face.map(([x, y]) => [x + 100, y] as const);
    expect(mirrorShapes(view, away, width, height, OPTICS_PX)).toEqual([]);
  });

  it("every change that slopes or curves evenly over the face is among the shapes", () => {
    // Slopes and curvatures about the middle, in units of half the root of the area: √160/2 px.
    const half = Math.sqrt(160) / 2;
    const of = (f: (u: number, v: number) => number, x: number, y: number) =>
      f((x - 33) / half, (y - 25) / half);
    const forms = [(u: number) => u, (_: number, v: number) => v, (u: number, v: number) => u * v];
    [5, 6, 8].forEach((k, n) => {
      for (let y = 23; y < 28; y++) {
        for (let x = 29; x < 38; x++) {
          // 3 px inside the edge the blur leaves a plane as it is, and a product of two.
          expect(Math.abs(shapes[k]![y * width + x]! - of(forms[n]!, x, y))).toBeLessThan(0.03);
        }
      }
    });
  });
});

describe("faceShapes", () => {
  it("for a later picture the pixels stand behind those of the ones before; the values stay", () => {
    const window = coverageWindow(view, face, width, height, haloMarginPx(OPTICS_PX))!;
    const first = faceShapes(window, width, OPTICS_PX, 0);
    const later = faceShapes(window, width, OPTICS_PX, 777);
    const pixels = (columns: Column[]) => columns.map(({ at }) => [...at!]);
    expect(pixels(later)).toEqual(pixels(first).map((at) => at.map((i) => i + 777)));
    expect(later.map(({ values }) => values)).toEqual(first.map(({ values }) => values));
  });

  it("no coverage: no shapes", () => {
    const empty = { x0: 3, y0: 2, width: 7, height: 5, coverage: new Float32Array(35) };
    expect(faceShapes(empty, width, OPTICS_PX, 0)).toEqual([]);
  });
});
