import { afterEach, describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { median, robustSigma } from "../../../src/numeric/median.js";
import {
  CONTRAST_DEFAULTS,
  contrastGain2,
  localContrast,
  reselsOf,
  smallestPeak,
} from "../../../src/rise/local-contrast.js";
import { bothWays } from "../numeric/both-ways.js";
import { field, height, width } from "./random-field.js";

afterEach(() => useKernels(true));

describe("localContrast", () => {
  it("white noise: each size states the noise that a difference of Gaussians lets through", () => {
    const rise = createRaster(
      "K",
      width,
      height,
      field("white", (r) => 0.05 * r.normal()),
    );
    const layers = localContrast(
      rise,
      field("gradient", (r) => r.next()),
    );
    expect(layers.map((l) => l.sigmaPx)).toEqual([...CONTRAST_DEFAULTS.scalesPx]);
    for (const { sigmaPx: s, contrast, noise } of layers) {
      // ∬(G_s − G_2s)² = 1/(4πs²) + 1/(16πs²) − 2/(2π(s² + 4s²)): products of Gaussians integrate to Gaussians.
      const gain = Math.sqrt(1 / (4 * Math.PI) + 1 / (16 * Math.PI) - 1 / (5 * Math.PI)) / s;
      // About (width·height)/(4π(2s)²) ≥ 27 (s = 3.8) to 230 independent places for the wide part, eight times as
      // many for the fine one; the spread of the coarsest is known to some 10 %, and so is the noise, the nearest 12
      // such figures that don't fall with the gradient.
      const limit = s < 2 ? 0.1 : s < 3 ? 0.15 : 0.3;
      expect(Math.abs(robustSigma(contrast.data) / (0.05 * gain) - 1), `size ${s}`).toBeLessThan(limit);
      expect(Math.abs(median(noise.data) / (0.05 * gain) - 1), `noise at size ${s}`).toBeLessThan(limit);
    }
  });

  it("a level and a slope have no contrast; a spot has, where it is", () => {
    const plane = createRaster(
      "K",
      width,
      height,
      field("", (_, x, y) => 1 + 0.02 * x - 0.01 * y),
    );
    const spot = createRaster(
      "K",
      width,
      height,
      field("", (_, x, y) => Math.exp(-((x - 71) ** 2 + (y - 44) ** 2) / (2 * 2.2 ** 2))),
    );
    const gradient = new Float32Array(width * height);
    for (const { contrast, sigmaPx } of localContrast(plane, gradient)) {
      const reach = Math.ceil(8 * sigmaPx) + 1;
      for (let y = reach; y < height - reach; y += 7) {
        for (let x = reach; x < width - reach; x += 5) {
          // Single precision at 4 K, summed over some hundred pixels.
          expect(Math.abs(contrast.data[y * width + x]!)).toBeLessThan(1e-4);
        }
      }
    }
    for (const { contrast } of localContrast(spot, gradient)) {
      const peak = contrast.data.indexOf(Math.max(...contrast.data));
      expect([peak % width, Math.floor(peak / width)]).toEqual([71, 44]);
    }
  });

  it("is the narrow Gaussian less the one of twice its width, and nothing where there is no reading", () => {
    const rise = createRaster(
      "K",
      width,
      height,
      field("holes", (r, x, y) => 0.3 * r.normal() + 2 * Math.exp(-((x - 50) ** 2 + (y - 61) ** 2) / 60)),
    );
    const hole = 33 * width + 57;
    rise.data[hole] = Number.NaN;
    const before = Float32Array.from(rise.data);
    for (const { sigmaPx, contrast } of localContrast(rise, new Float32Array(width * height))) {
      const [fine, wide] = [sigmaPx, 2 * sigmaPx].map((s) => gaussianFilter(rise.data, width, height, s));
      expect(contrast.data[hole]).toBeNaN();
      for (let y = 12; y < height - 12; y += 3) {
        for (let x = 12; x < width - 12; x += 5) {
          const i = y * width + x;
          if (i === hole) continue;
          // The wide one is computed on cells: some per cent of what it passes of the noise, 0.3/(2√π·2σ), four times
          // that; and of the spot, whose curvature the cells follow to 1 %.
          const limit = 0.03 + 0.05 / sigmaPx;
          expect(Math.abs(contrast.data[i]! - (fine![i]! - wide![i]!)), `${sigmaPx} ${x} ${y}`).toBeLessThan(
            limit,
          );
        }
      }
    }
    expect(rise.data).toEqual(before);
  });

  it("gives the same bits with the kernels and by the plain code, and so does what is made of them", () => {
    const rise = createRaster(
      "K",
      width,
      height,
      field("both", (r, x) => (r.chance(0.02) || x > 150 ? Number.NaN : (x < 60 ? 0.02 : 0.4) * r.normal())),
    );
    const gradient = field("both slopes", (r, x) => (x < 60 ? 0.1 : 1.1) * r.next());
    const finest = field("both finest", (r) => r.normal());
    for (const [options, given] of [
      [{}, finest],
      [{ shiftPx: 0.03 }, null],
      [{ leastPixelK: 0.3, scalesPx: [2.6] }, null],
    ] as const) {
      const [fast, plain] = bothWays(() => {
        const layers = localContrast(rise, gradient, options, given);
        return { layers, peakK: smallestPeak(layers, 5) };
      });
      expect(plain).toStrictEqual(fast);
      expect(fast.layers[0]!.contrast.data.some((value) => value > 0)).toBe(true);
    }
  });

  it("takes what is at hand of the first size, and of no other", () => {
    const rise = createRaster(
      "K",
      width,
      height,
      field("finest", (r) => r.normal()),
    );
    const gradient = new Float32Array(width * height);
    const made = localContrast(rise, gradient);
    const given = localContrast(rise, gradient, {}, new Float32Array(width * height).fill(7));
    const same = localContrast(rise, gradient, {}, gaussianFilter(rise.data, width, height, 1.3));
    expect(same.map(({ contrast }) => contrast.data)).toEqual(made.map(({ contrast }) => contrast.data));
    expect(given.slice(1).map(({ contrast }) => contrast.data)).toEqual(
      made.slice(1).map(({ contrast }) => contrast.data),
    );
    // 7 less the surroundings, which are a few tenths at most.
    expect(Math.min(...given[0]!.contrast.data)).toBeGreaterThan(6);
  });

  it("a still picture has the noise that its levels leave, at each size its share of it", () => {
    const still = createRaster("K", width, height);
    const layers = localContrast(
      still,
      field("slopes", (r) => r.next()),
      { leastPixelK: 0.2 },
    );
    for (const { sigmaPx: s, noise } of layers) {
      // ∬(G_s − G_2s)², as above; 0.45 of the narrow one's stands for its 0.4500.
      const gain = Math.sqrt(1 / (4 * Math.PI) + 1 / (16 * Math.PI) - 1 / (5 * Math.PI)) / s;
      expect(Math.sqrt(contrastGain2(s))).toBeCloseTo(gain, 6);
      // Beyond the last class it grows with the gradient.
      expect(Math.min(...noise.data) / (0.2 * gain)).toBeCloseTo(1, 4);
    }
  });

  it("edges may show no more than the shift that can be left", () => {
    // Left half flat, right half steep and unquiet.
    const rise = createRaster(
      "K",
      width,
      height,
      field("edges", (r, x) => (x < width / 2 ? 0.02 : 0.5) * r.normal()),
    );
    const gradient = field("", (_, x) => (x < width / 2 ? 0.1 : 1.1));
    const at = 60 * width + 140;
    const [free, held] = [Number.POSITIVE_INFINITY, 0.01].map((shiftPx) =>
      localContrast(rise, gradient, { shiftPx }),
    );
    for (const [k, { noise }] of held!.entries()) {
      const flat = noise.data[60 * width + 20]!;
      // A gradient that is 1 K/px steeper, at 0.01 px.
      expect(noise.data[at]! - flat).toBeLessThan(0.0101);
      expect(noise.data[at]! - flat).toBeGreaterThan(0.005);
      expect(free![k]!.noise.data[at]!).toBeGreaterThan(2 * noise.data[at]!);
    }
  });

  it("resels: a size twice as large has a quarter of them, and sizes add up", () => {
    const layer = (sigmaPx: number) => ({
      sigmaPx,
      contrast: createRaster("K", 2, 1),
      noise: createRaster("K", 2, 1),
    });
    const [one, two] = [layer(1.5), layer(3)];
    expect(reselsOf([one], 5000) / reselsOf([two], 5000)).toBeCloseTo(4, 12);
    expect(reselsOf([one, two], 5000)).toBeCloseTo(reselsOf([one], 5000) + reselsOf([two], 5000), 9);
    // By hand: 5000 · 0.825/2.25/(4 · 0.693147).
    expect(reselsOf([one], 5000)).toBeCloseTo(661.23, 1);
    expect(reselsOf([], 5000)).toBe(0);
  });

  it("resels: the curvature of the contrast's autocorrelation is measured in white noise", () => {
    // For a Gaussian of FWHM the variance of the slope along an axis is 4 ln 2/FWHM² of the field's variance, so that
    // resels per pixel are the (geometric mean) slope variance ÷ variance ÷ (4 ln 2).
    const rise = createRaster(
      "K",
      width,
      height,
      field("curvature", (r) => r.normal()),
    );
    const [layer] = localContrast(rise, new Float32Array(width * height), { scalesPx: [2.5] });
    let variance = 0;
    let slope = 0;
    const { data } = layer!.contrast;
    for (let y = 15; y < height - 15; y++) {
      for (let x = 15; x < width - 15; x++) {
        const i = y * width + x;
        variance += data[i]! ** 2;
        slope +=
          (((data[i + 1]! - data[i - 1]!) / 2) ** 2 + ((data[i + width]! - data[i - width]!) / 2) ** 2) / 2;
      }
    }
    const resels = (width * height * slope) / variance / (4 * Math.LN2);
    // Some 13 000 pixels of 2.5 px smoothness hold about 500 independent slopes, 4 % of their variance; a central
    // difference sees 1 − (1/2.5)²/6 or so of the true slope.
    expect(Math.abs(reselsOf([layer!], width * height) / resels - 1)).toBeLessThan(0.15);
  });
});

describe("smallestPeak", () => {
  it("is the peak of a spot of 1.5 px whose contrast just reaches the significance at the size that shows it best", () => {
    const noise = (k: number) => createRaster("K", width, height, new Float32Array(width * height).fill(k));
    const layers = [
      { sigmaPx: 1, contrast: noise(0), noise: noise(0.021) },
      { sigmaPx: 2.5, contrast: noise(0), noise: noise(0.013) },
      { sigmaPx: 6, contrast: noise(0), noise: noise(0.012) },
    ];
    const peakK = smallestPeak(layers, 5);
    // Such a spot, made and smoothed pixel by pixel.
    const at = 60 * width + 80;
    const spot = field(
      "none",
      (_, x, y) => peakK * Math.exp(-((x - 80) ** 2 + (y - 60) ** 2) / (2 * 1.5 ** 2)),
    );
    const reached = layers.map(({ sigmaPx, noise: { data } }) => {
      const [fine, wide] = [sigmaPx, 2 * sigmaPx].map((s) => gaussianFilter(spot, width, height, s)[at]!);
      return (fine! - wide!) / data[at]!;
    });
    // Pixels sample a Gaussian of 1 px, and the filter cuts it off: 2 %.
    expect(Math.abs(Math.max(...reached) / 5 - 1)).toBeLessThan(0.02);
  });
});
