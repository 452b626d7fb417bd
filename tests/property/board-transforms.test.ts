// Laws of fitted transforms.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { View } from "../../src/board/board-schema.js";
import { fitHomography } from "../../src/board/fit-homography.js";
import { placeView } from "../../src/board/place-view.js";
import { applyHomography, invertHomography, type Matrix3 } from "../../src/board/plane-transform.js";
import type { Point } from "../../src/board/polygon.js";
import { boardPoint, framePoint } from "../../src/core/units.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Cameras over a board of 58 × 34 mm: turned any way, tilted up to a weight of 0.8…1.3 over the board. */
const camera = fc
  .record({
    scale: number(2, 9),
    angle: number(0, 2 * Math.PI),
    shear: number(-0.2, 0.2),
    g: number(-3e-3, 5e-3),
    h: number(-1e-3, 3e-3),
  })
  .map(({ scale, angle, shear, g, h }): Matrix3 => {
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    const [a, b] = [scale * cos, scale * (shear * cos - sin)];
    const [d, e] = [scale * sin, scale * (shear * sin + cos)];
    const [x, y] = [320 - 29 * a - 17 * b, 240 - 29 * d - 17 * e];
    return [a + g * 320, b + h * 320, x, d + g * 240, e + h * 240, y, g, h, 1];
  });

/** One point in each corner of the board, so that they fix a view, and any number more. */
const places = fc
  .record({
    corners: fc.array(fc.tuple(number(0, 9), number(0, 9)), { minLength: 4, maxLength: 4 }),
    more: fc.array(fc.tuple(number(0, 58), number(0, 34)), { maxLength: 8 }),
  })
  .map(({ corners, more }): Point[] => [
    ...corners.map(([x, y], i): Point => [i % 2 ? 58 - x : x, i > 1 ? 34 - y : y]),
    ...more,
  ]);

describe("fitHomography", () => {
  it("finds a random homography again from four points and more", () => {
    fc.assert(
      fc.property(camera, places, (matrix, board) => {
        const fit = fitHomography(
          board,
          board.map((point) => applyHomography(matrix, point)),
        );
        // Pixels of 1e3 in double are exact to 1e-13; the worst conditioned set of corners loses a few digits.
        expect(fit.rmsResidual).toBeLessThan(1e-9);
        for (const point of [
          [29, 17],
          [0, 34],
          [58, 0],
        ] as Point[]) {
          const [x, y] = applyHomography(fit.matrix, point);
          const [u, v] = applyHomography(matrix, point);
          expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-8);
        }
      }),
    );
  });

  it("does not depend on the units of either side", () => {
    fc.assert(
      fc.property(camera, places, fc.constantFrom(1e-6, 1e6), (matrix, board, scale) => {
        const pixels = board.map((point, i): Point => {
          const [u, v] = applyHomography(matrix, point);
          return [u + Math.sin(3 * i), v + Math.cos(5 * i)];
        });
        const plain = fitHomography(board, pixels);
        const scaled = fitHomography(
          board.map(([x, y]): Point => [scale * x, scale * y]),
          pixels,
        );
        // Both end where a step gains less than 1e-15 of the cost: then points agree to about the root of that.
        const [x, y] = applyHomography(plain.matrix, [29, 17]);
        const [u, v] = applyHomography(scaled.matrix, [scale * 29, scale * 17]);
        expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-5);
        expect(scaled.rmsResidual).toBeCloseTo(plain.rmsResidual, 7);
      }),
    );
  });

  it("the centre of the unit square goes to the crossing of the quadrilateral's diagonals", () => {
    const square: Point[] = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ];
    const corner = fc.tuple(number(-30, 30), number(-30, 30));
    fc.assert(
      fc.property(fc.tuple(corner, corner, corner, corner), ([p, q, r, s]) => {
        const quad: Point[] = [
          [p[0], p[1]],
          [100 + q[0], q[1]],
          [100 + r[0], 90 + r[1]],
          [s[0], 90 + s[1]],
        ];
        const [a, b, c, d] = quad as [Point, Point, Point, Point];
        const det = (c[0] - a[0]) * (d[1] - b[1]) - (c[1] - a[1]) * (d[0] - b[0]);
        const share = ((b[0] - a[0]) * (d[1] - b[1]) - (b[1] - a[1]) * (d[0] - b[0])) / det;
        const [x, y] = applyHomography(fitHomography(square, quad).matrix, [0.5, 0.5]);
        expect(x).toBeCloseTo(a[0] + share * (c[0] - a[0]), 8);
        expect(y).toBeCloseTo(a[1] + share * (c[1] - a[1]), 8);
      }),
    );
  });

  it("residual of noisy fiducials: σ·√(2 − 8/n), since eight of 2n numbers are fitted", () => {
    const board: Point[] = [];
    for (let j = 0; j < 3; j++) for (let i = 0; i < 4; i++) board.push([3 + 17 * i, 2 + 14 * j]);
    const matrix: Matrix3 = [7, -1.2, 60, 1.1, 6.8, 40, 1e-3, 2e-3, 1];
    const normal = gaussian(90211);
    const sigma = 0.5;
    const rounds = 300;
    let squares = 0;
    for (let round = 0; round < rounds; round++) {
      const pixels = board.map((point): Point => {
        const [u, v] = applyHomography(matrix, point);
        return [u + sigma * normal(), v + sigma * normal()];
      });
      squares += fitHomography(board, pixels).rmsResidual ** 2 / rounds;
    }
    // 300 sums of 16 free squares: relative scatter √(2 / 4800) = 2 %; four of that.
    const expected = sigma * sigma * (2 - 8 / board.length);
    expect(Math.abs(squares / expected - 1)).toBeLessThan(0.08);
  });
});

describe("placeView", () => {
  it("toBoard after toFrame changes nothing, and back", () => {
    fc.assert(
      fc.property(
        camera,
        places,
        fc.integer({ min: 2, max: 12 }),
        fc.tuple(number(0, 58), number(0, 34)),
        fc.boolean(),
        (matrix, board, count, [x, y], below) => {
          const flip = (point: Point): Point => (below ? [58 - point[0], point[1]] : point);
          const chosen = board.slice(0, count);
          // Two fiducials in one place are refused.
          fc.pre(
            chosen.every((a, i) =>
              chosen.every((b, j) => i <= j || Math.hypot(a[0] - b[0], a[1] - b[1]) > 0.1),
            ),
          );
          const view: View = {
            kind: "faultglow/view",
            version: 1,
            side: below ? "bottom" : "top",
            frame: { width: 640, height: 480 },
            fiducials: chosen.map((point) => ({
              board: flip(point) as [number, number],
              pixel: applyHomography(matrix, point) as [number, number],
            })),
          };
          fc.pre(view.fiducials.every(({ pixel: [u, v] }) => u > -200 && u < 840 && v > -150 && v < 630));
          const placed = placeView(view);
          const [u, v] = placed.toFrame(boardPoint(x, y));
          const [backX, backY] = placed.toBoard(framePoint(u, v));
          expect(Math.hypot(backX - x, backY - y)).toBeLessThan(1e-8);
          expect(placed.residualPx).toBeLessThan(1e-8);
        },
      ),
    );
  });

  it("the inverse of the inverse is the matrix", () => {
    fc.assert(
      fc.property(camera, (matrix) => {
        const twice = invertHomography(invertHomography(matrix));
        matrix.forEach((value, i) => {
          expect(twice[i]).toBeCloseTo(value, 8);
        });
      }),
    );
  });
});

/** Normal numbers (Box & Muller 1958) from a seeded generator (Marsaglia 2003, xorshift 13, 17, 5). */
function gaussian(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return ((state >>> 0) + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}
