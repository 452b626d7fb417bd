// Smoothing, resampling and labels against SciPy, Pillow and scikit-image, and against published values.
import { describe, expect, it } from "vitest";
import { gaussianFilter, gaussianKernel, whiteNoiseGain } from "../../src/numeric/gaussian-filter.js";
import { labelComponents } from "../../src/numeric/label-components.js";
import { type AffineMatrix, type WarpOrder, warpRaster } from "../../src/numeric/warp.js";
import { largestDistance, referenceCases, withNaN } from "./numeric-reference-data.js";

// The results are single precision near 25: half a step of it is 1e-6; the committed answers have 7 digits, half a
// step of those is 0.5e-5 near 25 at worst. Together below 1e-5.
const SINGLE_NEAR_25 = 1e-5;

interface GaussianCase {
  sigmaPx: number;
  width: number;
  height: number;
  data: (number | null)[];
  normalised: (number | null)[];
  plain?: (number | null)[];
}

describe("gaussianFilter against scipy.ndimage", () => {
  const cases = referenceCases<GaussianCase[]>("gaussian");

  it.each(cases)("sigma $sigmaPx: normalised by the filtered mask, border and holes included", (item) => {
    const { width, height, sigmaPx } = item;
    const data = withNaN(item.data);
    const found = gaussianFilter(data, width, height, sigmaPx, { fillHoles: true });
    expect(largestDistance(found, withNaN(item.normalised))).toBeLessThan(SINGLE_NEAR_25);
  });

  it.each(cases.filter((item) => item.plain !== undefined))(
    "sigma $sigmaPx: gaussian_filter itself, away from the border",
    (item) => {
      const { width, height, sigmaPx } = item;
      const found = gaussianFilter(withNaN(item.data), width, height, sigmaPx);
      const expected = withNaN(item.plain ?? []);
      const radius = Math.floor(4 * sigmaPx + 0.5);
      let compared = 0;
      for (let y = radius; y < height - radius; y++) {
        for (let x = radius; x < width - radius; x++, compared++) {
          expect(Math.abs(found[y * width + x]! - expected[y * width + x]!)).toBeLessThan(SINGLE_NEAR_25);
        }
      }
      expect(compared).toBe((width - 2 * radius) * (height - 2 * radius));
      expect(compared).toBeGreaterThan(50);
    },
  );
});

describe("white-noise gain of the sampled Gaussian", () => {
  // Σg² of the line = standard deviation in two dimensions; values recomputed with NumPy for kernels of ±6 and ±4
  // sigma, 9 digits printed. Radius: floor(truncate·sigma + ½).
  it.each([
    [0.5, 0.641357149],
    [0.7, 0.409287231],
    [1.0, 0.28212397],
    [1.5, 0.188063195],
    [2.0, 0.141047396],
    [3.0, 0.0940315974],
  ])("sigma %f px, kernel of ±6 sigma: %f", (sigmaPx, gain) => {
    expect(Math.abs(whiteNoiseGain(sigmaPx, 6) / gain - 1)).toBeLessThan(5e-9);
  });

  it.each([
    [0.5, 0.411339032],
    [0.7, 0.1675161],
    [1.0, 0.0795948852],
    [1.5, 0.035369221],
    [2.0, 0.0198957672],
    [3.0, 0.00884294619],
  ])("sigma %f px, kernel of ±4 sigma: variance %f", (sigmaPx, variance) => {
    expect(Math.abs(whiteNoiseGain(sigmaPx) ** 2 / variance - 1)).toBeLessThan(5e-9);
  });

  it("[1 2 1]/4 on both axes keeps 0.375 of the standard deviation: the filter's own response gives the same", () => {
    // A Gaussian with e^(−1/2σ²) = ½ is the binomial kernel at radius 1. Textbook value (1+4+1)/16.
    const sigma = Math.sqrt(1 / (2 * Math.LN2));
    expect(Array.from(gaussianKernel(sigma, 1))).toEqual([
      expect.closeTo(0.25, 14),
      expect.closeTo(0.5, 14),
      expect.closeTo(0.25, 14),
    ]);
    const impulse = new Float64Array(9 * 7);
    impulse[3 * 9 + 4] = 1;
    const response = gaussianFilter(impulse, 9, 7, sigma, { truncate: 1 / sigma });
    const energy = response.reduce((sum, value) => sum + value * value, 0);
    expect(Math.sqrt(energy)).toBeCloseTo(0.375, 7);
    expect(whiteNoiseGain(sigma, 1 / sigma)).toBeCloseTo(0.375, 14);
  });
});

interface WarpCase {
  order: WarpOrder;
  matrix: AffineMatrix;
  width: number;
  height: number;
  data: (number | null)[];
  expected: (number | null)[];
}

describe("warpRaster against SciPy (map_coordinates, mode mirror) and Pillow (cubic of a = −1/2)", () => {
  it.each(referenceCases<WarpCase[]>("warp"))("$order, matrix $matrix", (item) => {
    const { width, height, order, matrix } = item;
    const found = warpRaster(withNaN(item.data), width, height, matrix, { order });
    // Pillow works in single precision throughout: a few steps of 2e-6 more.
    expect(largestDistance(found, withNaN(item.expected))).toBeLessThan(
      order === "cubic" ? 2 * SINGLE_NEAR_25 : SINGLE_NEAR_25,
    );
  });
});

interface LabelCase {
  connectivity: 4 | 8;
  width: number;
  height: number;
  count: number;
  mask: string;
  labels: number[];
}

describe("labelComponents", () => {
  it.each(referenceCases<LabelCase[]>("labels"))(
    "as scikit-image and scipy.ndimage: $width×$height, $connectivity-connected",
    (item) => {
      const mask = Uint8Array.from(item.mask, Number);
      const found = labelComponents(mask, item.width, item.height, item.connectivity);
      expect(found.count).toBe(item.count);
      expect(Array.from(found.labels)).toEqual(item.labels);
    },
  );

  // Rosenfeld & Pfaltz 1966, J. ACM 13:471, is the method; the example was counted with scikit-image.
  const example = ["110001", "100101", "001000", "010011", "100010"];

  it.each([
    [4, [3, 2, 1, 1, 1, 3, 1]],
    [8, [3, 2, 4, 3]],
  ] as const)("example of 6×5 pixels, %i-connected: sizes in reading order %j", (connectivity, sizes) => {
    // The second row has a lone pixel at column 3 that touches by a corner only.
    const mask = Uint8Array.from(example.join(""), Number);
    const { labels, count } = labelComponents(mask, 6, 5, connectivity);
    const found = Array.from({ length: count }, (_, i) => labels.filter((label) => label === i + 1).length);
    expect(found).toEqual(sizes);
  });

  it("a U is one component: the two arms are merged where they meet", () => {
    expect(labelComponents(Uint8Array.of(1, 0, 1, 1, 0, 1, 1, 1, 1), 3, 3, 4)).toEqual({
      labels: Int32Array.of(1, 0, 1, 1, 0, 1, 1, 1, 1),
      count: 1,
    });
  });

  it("a checkerboard of 8×8 has 32 components by sides and 1 by corners", () => {
    const board = Uint8Array.from({ length: 64 }, (_, i) => ((i >> 3) + i) % 2);
    expect(labelComponents(board, 8, 8, 4).count).toBe(32);
    expect(labelComponents(board, 8, 8, 8).count).toBe(1);
  });
});
