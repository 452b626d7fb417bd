import { afterEach, describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { median, robustSigma } from "../../../src/numeric/median.js";
import { detailNoise } from "../../../src/rise/detail-noise.js";
import { noiseByGradient } from "../../../src/rise/noise-by-gradient.js";
import { makeRandom } from "../../simulate/random.js";
import { bothWays } from "../numeric/both-ways.js";
import { field, height, width } from "./random-field.js";

afterEach(() => useKernels(true));

describe("detailNoise", () => {
  it("puts the noise where the gradient is, if that is wanted, the same by kernels and without", () => {
    const random = makeRandom("detail");
    const rise = createRaster(
      "K",
      width,
      height,
      field("g", () => random.normal()),
    );
    const gradient = field("g", (r) => r.uniform(0, 2));
    const wanted = detailNoise(rise, gradient, 0.1, 0.01);
    const [fast, plain] = bothWays(() => {
      const place = gradient.slice();
      const noise = detailNoise(rise, place, 0.1, 0.01, place);
      expect(noise.data).toBe(place);
      return noise;
    });
    expect(fast).toEqual(wanted);
    expect(plain).toEqual(wanted);
  });
});

describe("noiseByGradient", () => {
  it("where the spread grows with the gradient, so does the noise, in proportion", () => {
    const gradient = field("g", (r) => r.uniform(0, 2));
    const random = makeRandom("spread");
    const contrast = createRaster(
      "K",
      width,
      height,
      gradient.map((g) => (0.02 + 0.1 * g) * random.normal()),
    );
    const { data } = noiseByGradient(contrast, gradient);
    for (let i = 0; i < data.length; i += 37) {
      // 1600 pixels a class: 2.8 % by a median deviation (37 % efficient); a class spans a sixth of the gradient's
      // range of 2 K/px, half of which is 0.008 K; below the first centre it is the first class's.
      const expected = 0.02 + 0.1 * gradient[i]!;
      expect(Math.abs(data[i]! - expected)).toBeLessThan(0.12 * expected + 0.01);
    }
  });

  it("never falls with the gradient", () => {
    const gradient = field("g", (r) => r.uniform(0, 1));
    const random = makeRandom("calm edges");
    // Calm at steep places, by chance or otherwise.
    const contrast = createRaster(
      "K",
      width,
      height,
      gradient.map((g) => (g > 0.5 ? 0.01 : 0.1) * random.normal()),
    );
    const { data } = noiseByGradient(contrast, gradient);
    const order = [...gradient.keys()].sort((a, b) => gradient[a]! - gradient[b]!);
    for (let k = 1; k < order.length; k++) {
      expect(data[order[k]!]!).toBeGreaterThanOrEqual(data[order[k - 1]!]!);
    }
  });

  it("heat over three tenths of every class nearly doubles it, however hot", () => {
    const gradient = field("g", (r) => r.uniform(0, 1));
    const random = makeRandom("heat");
    const calm = createRaster(
      "K",
      width,
      height,
      field("calm", (r) => 0.05 * r.normal()),
    );
    const warmed = createRaster(
      "K",
      width,
      height,
      calm.data.map((v) => (random.chance(0.3) ? v + 5 : v)),
    );
    const ratio =
      median(noiseByGradient(warmed, gradient).data) / median(noiseByGradient(calm, gradient).data);
    // The middle of all is the 71 % point of the rest, 0.57 σ up; 71 % of the rest lie within 1.24 σ of it, where
    // without heat half lie within 0.67 σ: 1.84. Classes of 1600 pixels scatter by some 4 %, and the largest so far
    // counts: up to a tenth more.
    expect(ratio).toBeGreaterThan(1.75);
    expect(ratio).toBeLessThan(2.05);
  });

  it.each([
    [23, 31, 0],
    [29, 17, 3],
    [13, 11, 7],
    [7, 5, 2],
    [3, 3, 5],
  ])(
    "of %i × %i pixels, %i without a reading, with equal gradients among them: by kernels as without",
    (across, down, holes) => {
      const random = makeRandom(`classes ${across}`);
      const size = across * down;
      const contrast = createRaster(
        "K",
        across,
        down,
        Float32Array.from({ length: size }, () => random.normal()),
      );
      for (let k = 0; k < holes; k++) contrast.data[(k * 5) % size] = Number.NaN;
      // In steps: many lie on the limits of classes.
      const gradient = Float32Array.from({ length: size }, () => Math.floor(20 * random.uniform(0, 1)) / 20);
      const [fast, plain] = bothWays(() => noiseByGradient(contrast, gradient, { shiftPx: 0.5 }));
      expect(fast).toEqual(plain);
    },
  );

  it("few pixels, or no gradient at all: one figure for the whole picture", () => {
    const random = makeRandom("small");
    const small = createRaster(
      "K",
      5,
      3,
      Float32Array.from({ length: 15 }, () => 0.1 * random.normal()),
    );
    const flat = noiseByGradient(small, new Float32Array(15));
    expect(new Set(flat.data).size).toBe(1);
    expect(flat.data[0]).toBeCloseTo(robustSigma(small.data), 6);
    const even = createRaster(
      "K",
      width,
      height,
      field("even", (r) => 0.1 * r.normal()),
    );
    const noise = noiseByGradient(even, new Float32Array(width * height));
    // 19 200 pixels: the median deviation is good to 0.8 %; four times that.
    expect(Math.abs(noise.data[0]! / 0.1 - 1)).toBeLessThan(0.035);
    expect(new Set(noise.data).size).toBe(1);
  });
});
