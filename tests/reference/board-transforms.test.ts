// Published and independently computed plane transforms.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { fitAffine } from "../../src/board/fit-affine.js";
import { fitHomography } from "../../src/board/fit-homography.js";
import { fitSimilarity } from "../../src/board/fit-similarity.js";
import { applyHomography, type PlaneFit } from "../../src/board/plane-transform.js";
import type { Point } from "../../src/board/polygon.js";
import { fitSidedSimilarity } from "../../src/board/solve-fiducials.js";

/** Of a similarity; NaN of one that mirrors. */
const scaleOf = ({ matrix }: PlaneFit): number =>
  Math.sqrt(matrix[0]! * matrix[4]! - matrix[1]! * matrix[3]!);

function expectAll(actual: readonly number[], expected: readonly number[], digits: number) {
  expect(actual.length).toBe(expected.length);
  expected.forEach((value, i) => {
    expect(actual[i], `element ${i}`).toBeCloseTo(value, digits);
  });
}

describe("Umeyama 1991, IEEE TPAMI 13:376, doi 10.1109/34.88573: the paper's own example", () => {
  const from: Point[] = [
    [0, 0],
    [1, 0],
    [0, 2],
  ];
  const to: Point[] = [
    [0, 0],
    [-1, 0],
    [0, 2],
  ];

  it("without reflection: turn, scale, shift", () => {
    const fit = fitSimilarity(from, to);
    // sR = [[0.6, 0.4], [-0.4, 0.6]], t = (-0.8, 0.4), c = 0.721110255: exact fractions, so 12 digits.
    expectAll(fit.matrix, [0.6, 0.4, -0.8, -0.4, 0.6, 0.4, 0, 0, 1], 12);
    expect(scaleOf(fit)).toBeCloseTo(0.721110255, 9);
  });

  it("its residual is 1.6 in all and 0.5333 in the mean; the 0.053 in print is a slip", () => {
    const { residuals, rmsResidual } = fitSimilarity(from, to);
    const sum = residuals.reduce((total, r) => total + r * r, 0);
    expect(sum).toBeCloseTo(1.6, 12);
    expect(rmsResidual ** 2).toBeCloseTo(0.533333333333, 11);
    expect(rmsResidual).toBeCloseTo(0.730297, 6);
    expectAll(residuals, [Math.hypot(0.8, 0.4), 0.8, 0.4], 12);
  });

  it("with reflection the points fit exactly, mirrored", () => {
    const fit = fitSidedSimilarity(from, to, "bottom");
    expectAll(fit.matrix, [-1, 0, 0, 0, 1, 0, 0, 0, 1], 12);
    expect(fit.rmsResidual).toBeLessThan(1e-12);
  });
});

describe("similarity and affine, worked by hand (recomputed with numpy)", () => {
  it("scale 2, 30°, shift (3, -4)", () => {
    const from: Point[] = [
      [10, 0],
      [10, 5],
      [0, 5],
    ];
    const to: Point[] = [
      [20.320508075688775, 6],
      [15.320508075688775, 14.660254037844386],
      [-2, 4.660254037844387],
    ];
    const fit = fitSimilarity(from, to);
    expect(scaleOf(fit)).toBeCloseTo(2, 12);
    const cos = Math.sqrt(3);
    expectAll(fit.matrix, [cos, -1, 3, 1, cos, -4, 0, 0, 1], 11);
    expect(fit.rmsResidual).toBeLessThan(1e-12);
  });

  it("three points fix an affine transform", () => {
    const fit = fitAffine(
      [
        [0, 0],
        [10, 0],
        [0, 10],
      ],
      [
        [5, 7],
        [25, 12],
        [2, 27],
      ],
    );
    expectAll(fit.matrix, [2, -0.3, 5, 0.5, 2, 7, 0, 0, 1], 12);
    expectAll(applyHomography(fit.matrix, [3, 4]), [9.8, 16.5], 12);
  });
});

describe("homography of the unit square: Hartley & Zisserman, Multiple View Geometry, 2nd ed., §4.1 (from memory)", () => {
  const square: Point[] = [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ];
  const cases: { quad: Point[]; matrix: number[]; centre: Point; digits: number }[] = [
    {
      quad: [
        [0, 0],
        [2, 0],
        [1.5, 1],
        [0.5, 1],
      ],
      matrix: [2, 1, 0, 0, 2, 0, 0, 1, 1],
      centre: [1, 2 / 3],
      digits: 12,
    },
    {
      quad: [
        [10, 20],
        [110, 30],
        [100, 130],
        [5, 110],
      ],
      // Given to nine digits.
      matrix: [88.0927835, -4.79381443, 10, 6.75257732, 94.5360825, 20, -0.108247423, 0.0412371134, 1],
      centre: [53.44, 73.0933333333],
      digits: 6,
    },
    {
      quad: [
        [1, 0],
        [3, 1],
        [4, 4],
        [0, 3],
      ],
      matrix: [28 / 11, -1, 1, 13 / 11, 15 / 11, 0, 2 / 11, -6 / 11, 1],
      centre: [13 / 6, 14 / 9],
      digits: 12,
    },
  ];
  for (const { quad, matrix, centre, digits } of cases) {
    it(`onto ${JSON.stringify(quad)}`, () => {
      const fit = fitHomography(square, quad);
      expectAll(fit.matrix, matrix, digits);
      expectAll(applyHomography(fit.matrix, [0.5, 0.5]), centre, Math.min(digits, 9));
      expect(fit.rmsResidual).toBeLessThan(1e-9);
    });
  }
});

describe("noisy homographies: OpenCV findHomography, method 0", () => {
  const file = new URL("data/homography-opencv.json", import.meta.url);
  const reference = JSON.parse(readFileSync(file, "utf8")) as {
    tool: string;
    cases: { board: Point[]; pixel: Point[]; matrix: number[]; rmsPx: number; sigmaPx: number }[];
  };
  for (const { board, pixel, matrix, rmsPx, sigmaPx } of reference.cases) {
    it(`${board.length} pairs with ${sigmaPx} px of noise`, () => {
      const fit = fitHomography(board, pixel);
      // OpenCV ends after ten steps or a relative change of 1.2e-7 (from memory); near a minimum the residual
      // is then the same to 1e-7 and ours must not be larger, while points agree to about the root of that.
      expect(fit.rmsResidual).toBeCloseTo(rmsPx, 6);
      expect(fit.rmsResidual).toBeLessThanOrEqual(rmsPx * (1 + 1e-9));
      for (const point of board) {
        const [x, y] = applyHomography(fit.matrix, point);
        const [u, v] = applyHomography(matrix, point);
        expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-3);
      }
    });
  }
});
