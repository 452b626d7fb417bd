import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { median, robustSigma } from "../../../src/numeric/median.js";
import {
  CONTRAST_DEFAULTS,
  localContrast,
  reselsOf,
  smallestPeak,
} from "../../../src/rise/local-contrast.js";
import { noiseByGradient } from "../../../src/rise/noise-by-gradient.js";
import { sceneGradient } from "../../../src/rise/scene-gradient.js";
import { makeRandom } from "../../simulate/random.js";

const width = 160;
const height = 120;

function field(
  seed: string,
  valueAt: (random: ReturnType<typeof makeRandom>, x: number, y: number) => number,
) {
  const random = makeRandom(seed);
  return Float32Array.from({ length: width * height }, (_, i) =>
    valueAt(random, i % width, Math.floor(i / width)),
  );
}

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
      // many for the fine one; the spread of the coarsest is known to some 10 %, and the noise, which may not fall
      // with the gradient, is the running maximum of 12 such figures: up to a quarter high.
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
          expect(Math.abs(contrast.data[y * width + x]!)).toBeLessThan(1e-4);
        }
      }
    }
    for (const { contrast } of localContrast(spot, gradient)) {
      const peak = contrast.data.indexOf(Math.max(...contrast.data));
      expect([peak % width, Math.floor(peak / width)]).toEqual([71, 44]);
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

  it("heat over a third of every class hardly raises it", () => {
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
    // With 30 % at the far side the median deviation sits at the 71 % point of the rest's: between 1 and 2 σ.
    expect(ratio).toBeGreaterThan(1);
    expect(ratio).toBeLessThan(2.2);
  });

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

describe("sceneGradient", () => {
  it("a plane has its slope everywhere but on the border and around a missing reading", () => {
    const scene = createRaster("degC", 30, 20);
    for (let i = 0; i < 600; i++) scene.data[i] = 20 + 0.3 * (i % 30) - 0.4 * Math.floor(i / 30);
    const steep = sceneGradient(scene);
    for (let x = 0; x < 30; x++) expect(steep[x]).toBe(0);
    for (let y = 0; y < 20; y++) expect(steep[y * 30 + 29]).toBe(0);
    // Away from the border (4 σ of the smoothing) a plane goes through a filter unchanged: 3-4-5.
    for (let y = 6; y < 14; y++) {
      for (let x = 6; x < 24; x++) expect(steep[y * 30 + x]).toBeCloseTo(0.5, 4);
    }
    scene.data[10 * 30 + 15] = Number.NaN;
    const holed = sceneGradient(scene);
    expect(holed[10 * 30 + 14]).toBe(0);
    expect(holed.every((g) => Number.isFinite(g) && g >= 0)).toBe(true);
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
