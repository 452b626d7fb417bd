import { describe, expect, it } from "vitest";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { wideGaussian } from "../../../src/numeric/wide-gaussian.js";
import { makeRandom } from "../../simulate/random.js";

const width = 71;
const height = 53;

const noise = (seed: string) => {
  const random = makeRandom(seed);
  return Float32Array.from({ length: width * height }, () => random.normal());
};

const deviation = (values: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]! ** 2;
  return Math.sqrt(sum / values.length);
};

describe("wideGaussian", () => {
  it.each([2.2, 3.8, 6, 7.6])("of σ %f px nearly is the exact filter", (sigmaPx) => {
    const data = noise(`σ ${sigmaPx}`);
    const near = wideGaussian(data, width, height, sigmaPx);
    const exact = gaussianFilter(data, width, height, sigmaPx);
    const off = deviation(near.map((value, i) => value - exact[i]!)) / deviation(exact);
    // Where the cells are about as wide as the Gaussian its fourth moment is not a Gaussian's: 1 to 3 % of the root
    // mean square of what passes of white noise, which is the hardest case, and more at the border, near which all of
    // so small a picture lies.
    expect(off).toBeLessThan(0.08);
    // Its width is the Gaussian's: what passes has the same power to 5 %, the border included.
    expect(Math.abs(deviation(near) / deviation(exact) - 1)).toBeLessThan(0.05);
  });

  it("keeps a spot where it is, wherever it lies between the cells", () => {
    for (const [x, y] of [
      [30, 25],
      [31, 26],
      [32, 28],
      [33, 27],
    ] as const) {
      const data = new Float32Array(width * height);
      data[y * width + x] = 1;
      let [sum, sumX, sumY, square] = [0, 0, 0, 0];
      for (const [i, value] of wideGaussian(data, width, height, 4.4).entries()) {
        const [dx, dy] = [(i % width) - x, Math.floor(i / width) - y];
        sum += value;
        sumX += value * dx;
        sumY += value * dy;
        square += value * (dx * dx + dy * dy);
      }
      // What the kernel's end cuts off, a thousandth of the weight, sits far out.
      expect(Math.hypot(sumX, sumY) / sum).toBeLessThan(0.01);
      expect(Math.abs(Math.sqrt(square / sum / 2) / 4.4 - 1)).toBeLessThan(0.01);
    }
  });

  it("leaves a constant as it is, borders and holes included, and takes no part of holes", () => {
    const data = new Float32Array(width * height).fill(21.5);
    for (let y = 10; y < 16; y++) for (let x = 20; x < 29; x++) data[y * width + x] = Number.NaN;
    // Single precision at 21.5: 2e-6.
    for (const value of wideGaussian(data, width, height, 5))
      expect(Math.abs(value - 21.5)).toBeLessThan(1e-5);
  });

  it("counts pixels by their weights", () => {
    const data = Float32Array.from({ length: width * height }, (_, i) => (i % width < 30 ? 1 : 4));
    const weights = data.map((value) => (value === 4 ? 0 : 0.3));
    for (const [i, value] of wideGaussian(data, width, height, 3.5, weights).entries()) {
      // Far from all weight there is no number; 3.3 σ and a cell's spline reach 20 px at most.
      if (i % width < 36) expect(value).toBeCloseTo(1, 6);
      if (i % width > 50) expect(value).toBeNaN();
    }
  });

  it("of a picture without a reading gives none", () => {
    const nothing = new Float32Array(width * height).fill(Number.NaN);
    expect(wideGaussian(nothing, width, height, 4).every(Number.isNaN)).toBe(true);
  });
});
