import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { radians } from "../../../src/core/units.js";
import { quantile } from "../../../src/numeric/median.js";
import { normalTail } from "../../../src/numeric/normal-distribution.js";
import { riseVariance, sharePixelNoise } from "../../../src/rise/pixel-noise.js";
import { shrinkVariances } from "../../../src/rise/shrink-variances.js";
import { temporalNoise } from "../../../src/rise/temporal-noise.js";
import { makeRandom, type Random } from "../../simulate/random.js";

/** Sum of n squared unit normals ÷ n. */
function meanSquare(random: Random, n: number): number {
  let sum = 0;
  for (let k = 0; k < n; k++) sum += random.normal() ** 2;
  return sum / n;
}

describe("shrinkVariances", () => {
  it("pixels that are all alike get the common variance", () => {
    const random = makeRandom("alike");
    const own = Float32Array.from({ length: 20_000 }, () => 4e-4 * meanSquare(random, 9));
    const { variances, priorFreedom, priorVariance } = shrinkVariances(own, 9);
    expect(priorVariance / 4e-4).toBeCloseTo(1, 1);
    // A spread of 9 % and more would be seen: 2/0.09² ≈ 250 degrees of freedom.
    expect(priorFreedom).toBeGreaterThan(250);
    expect(quantile(variances, 0.9) / quantile(variances, 0.1)).toBeLessThan(1.2);
  });

  it("finds how many degrees of freedom the ordinary pixel is worth: variances drawn as s₀²·d₀/χ²", () => {
    const random = makeRandom("spread");
    const [freedom, prior] = [10, 24];
    const truth = Float64Array.from({ length: 30_000 }, () => 2.5e-3 / meanSquare(random, prior));
    const own = Float32Array.from(truth, (v) => v * meanSquare(random, freedom));
    const { variances, priorFreedom, priorVariance } = shrinkVariances(own, freedom);
    // Quartiles of 30,000 are good to a few per cent, and d₀ to some three times that.
    expect(priorFreedom / prior).toBeGreaterThan(0.8);
    expect(priorFreedom / prior).toBeLessThan(1.25);
    expect(priorVariance / 2.5e-3).toBeCloseTo(1, 1);
    const error = (of: ArrayLike<number>) =>
      Math.sqrt(truth.reduce((sum, v, i) => sum + Math.log(of[i]! / v) ** 2, 0) / truth.length);
    // The posterior's spread of ln σ² is √ψ′((24 + 10)/2) = 0.246; of a pixel's own √ψ′(5) = 0.470; of the common one
    // √ψ′(12) = 0.295.
    expect(error(variances)).toBeLessThan(0.26);
    expect(error(own)).toBeGreaterThan(0.45);
    expect(error(truth.map(() => priorVariance))).toBeGreaterThan(0.28);
  });

  it("the formula: (d₀s₀² + d·s²)/(d₀ + d), and a pixel far noisier than the rest keeps its own", () => {
    const random = makeRandom("formula");
    const own = Float32Array.from({ length: 8000 }, () => meanSquare(random, 16) / meanSquare(random, 8));
    own[17] = 1.3;
    own[4321] = 400;
    own[99] = Number.NaN;
    const { variances, priorFreedom: d0, priorVariance: s2 } = shrinkVariances(own, 8);
    expect(variances[17]).toBeCloseTo((d0 * s2 + 8 * 1.3) / (d0 + 8), 5);
    expect(variances[4321]).toBe(400);
    expect(variances[99]).toBeNaN();
  });
});

const [width, height] = [60, 44];
const size = width * height;

/** A stack of frames with their own noise per pixel, on a scene with a course of its own per pixel. */
function stack(
  random: Random,
  count: number,
  sigma: ArrayLike<number>,
  course: (i: number, k: number) => number,
) {
  return Array.from({ length: count }, (_, k) =>
    createRaster(
      "degC",
      width,
      height,
      Float32Array.from(
        { length: size },
        (_, i) => 22 + (i % 7) + course(i, k) + sigma[i]! * random.normal(),
      ),
    ),
  );
}

describe("temporalNoise", () => {
  it("heat that grows, a slope and offsets of whole frames are no noise", () => {
    const random = makeRandom("courses");
    const sigma = new Float64Array(size).fill(0.05);
    const growth = Float64Array.from({ length: 20 }, (_, k) => Math.log1p(k / 2));
    const offsetsK = growth.map((_, k) => 0.3 * Math.sin(k));
    const frames = stack(
      random,
      20,
      sigma,
      (i, k) => offsetsK[k]! + (i % 5) * growth[k]! + 0.02 * (i % 3) * k,
    );
    const noise = temporalNoise([{ frames, offsetsK, courses: [growth] }], 0)!;
    expect(noise.freedom).toBe(17);
    // 2640 pixels × 17 degrees of freedom: the common value is good to 0.4 %, single ones are drawn to it.
    expect(quantile(noise.sigma.data, 0.5)).toBeCloseTo(0.05, 3);
    expect(quantile(noise.sigma.data, 0.99)).toBeLessThan(0.06);
    const without = temporalNoise([{ frames, offsetsK }], 0)!;
    expect(quantile(without.sigma.data, 0.9)).toBeGreaterThan(0.1);
  });

  it("a noisy pixel is told from a lucky one", () => {
    const random = makeRandom("noisy");
    const sigma = Float64Array.from({ length: size }, (_, i) =>
      i === 777 ? 0.3 : 0.04 * Math.exp(0.1 * random.normal()),
    );
    const group = { frames: stack(random, 16, sigma, () => 0), offsetsK: new Float64Array(16) };
    const found = temporalNoise([group], 0)!.sigma.data;
    // Its own 14 degrees of freedom: ±19 %, here at three of these.
    expect(found[777]! / 0.3).toBeGreaterThan(0.5);
    const error = Math.sqrt(
      sigma.reduce((sum, s, i) => sum + (i === 777 ? 0 : Math.log(found[i]! / s) ** 2), 0) / size,
    );
    // Taking all for alike would err by 0.10, each for itself by 0.19.
    expect(error).toBeLessThan(0.095);
  });

  it("both roles together; too few frames of both: null", () => {
    const random = makeRandom("roles");
    const sigma = new Float64Array(size).fill(0.05);
    const group = (n: number, level: number) => ({
      frames: stack(random, n, sigma, () => level),
      offsetsK: new Float64Array(n),
    });
    expect(temporalNoise([group(4, 0), group(5, 3)], 0)!.freedom).toBe(5);
    expect(temporalNoise([group(3, 0), group(3, 3)], 0)).toBeNull();
    expect(temporalNoise([group(1, 0), group(1, 3)], 0)).toBeNull();
    expect(temporalNoise([], 0)).toBeNull();
  });

  it("levels of the file are a noise that identical readings hide", () => {
    const same = Array.from({ length: 8 }, () => createRaster("degC", width, height));
    const noise = temporalNoise([{ frames: same, offsetsK: new Float64Array(8) }], 0.03)!;
    // A median of χ² lies 12 % below its mean at 6 degrees of freedom, which is put right though nothing scatters here.
    expect(noise.sigma.data[5]).toBeGreaterThanOrEqual(0.03);
    expect(noise.sigma.data[5]).toBeLessThan(0.033);
  });
});

describe("noise of the rise, pixel by pixel", () => {
  const still = { dxPx: 0, dyPx: 0, angleRad: radians(0) };

  it("adds the powered mean's where its content came from to the baseline's where it is", () => {
    const sigma = createRaster("K", 5, 4, new Float32Array(20).fill(0.1));
    sigma.data[1 * 5 + 3] = 0.3;
    const bad = new Uint8Array(20);
    const moved = riseVariance(sigma, bad, { ...still, dxPx: 2 }, 0.5, 0.25);
    // What lies at x = 1 in the baseline was read at x = 3 in the powered frame.
    expect(moved[1 * 5 + 1]).toBeCloseTo(0.5 * 0.09 + 0.25 * 0.01, 6);
    expect(moved[1 * 5 + 3]).toBeCloseTo(0.5 * 0.01 + 0.25 * 0.09, 6);
    bad[1 * 5 + 3] = 1;
    expect(riseVariance(sigma, bad, still, 0.5, 0.25)[8]).toBeCloseTo(0.75 * 0.01, 6);
  });

  it("exchanges the sensor's part of a noise and leaves the rest", () => {
    const noise = createRaster("K", 3, 1, Float32Array.of(0.05, 0.13, 0.025));
    const variance = Float32Array.of(0.0025, 0.01, 0.01);
    // The ordinary pixel has 0.01: 0.05 is what the sensor alone leaves after smoothing, in proportion to its variance.
    const shared = sharePixelNoise(noise, variance, 0, 1).data;
    expect(shared[0]).toBeCloseTo(0.025, 6);
    expect(shared[1]).toBeCloseTo(0.13, 6);
    const edges = createRaster("K", 3, 1, Float32Array.of(0.13, 0.13, 0.13));
    // 0.13² = 0.01 + 0.0069 of edges; with 0.0025 in place of 0.01: 0.0094.
    expect(sharePixelNoise(edges, variance, 0, 1).data[0]).toBeCloseTo(Math.sqrt(0.0094), 6);
  });

  it("is not told by one frame that is given many times", () => {
    const frame = createRaster(
      "degC",
      5,
      4,
      Float32Array.from({ length: 20 }, (_, i) => 20 + 0.37 * i),
    );
    const frames = new Array<typeof frame>(8).fill(frame);
    expect(temporalNoise([{ frames, offsetsK: new Float64Array(8) }], 0)).toBeNull();
    // Levels have a width all the same; the middle of χ² with six degrees of freedom lies below their mean (Wilson &
    // Hilferty).
    const known = temporalNoise([{ frames, offsetsK: new Float64Array(8) }], 0.02);
    const expected = 0.02 / Math.sqrt((1 - 2 / (9 * 6)) ** 3);
    for (const sigma of known!.sigma.data) expect(sigma).toBeCloseTo(expected, 6);
  });

  it("differences divided by it are Gaussian to beyond 4 σ, where one σ for all pixels is not", () => {
    const random = makeRandom("tails");
    // A spread of a sixth, and one pixel in a hundred twice as noisy.
    const sigma = Float64Array.from(
      { length: size },
      () => Math.exp(0.17 * random.normal()) * (random.chance(0.01) ? 2 : 1),
    );
    let [own, common, total] = [0, 0, 0];
    for (let draw = 0; draw < 40; draw++) {
      const frames = stack(random, 20, sigma, () => 0);
      const found = temporalNoise([{ frames, offsetsK: new Float64Array(20) }], 0)!.sigma.data;
      const usual = quantile(found, 0.5);
      for (let i = 0; i < size; i++) {
        const value = Math.abs(sigma[i]! * random.normal());
        total++;
        if (value > 4 * found[i]!) own++;
        if (value > 4 * usual) common++;
      }
    }
    const expected = 2 * normalTail(4) * total;
    expect(common / expected).toBeGreaterThan(10);
    // Student's t with 18 degrees of freedom and as many again from the other pixels has 3 times the Gaussian rate.
    expect(own / expected).toBeLessThan(4.5);
  });
});
