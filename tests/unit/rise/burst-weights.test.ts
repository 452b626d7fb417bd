import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { radians } from "../../../src/core/units.js";
import { median } from "../../../src/numeric/median.js";
import { burstWeights, contrastToNoise, earlyWeights } from "../../../src/rise/burst-weights.js";
import { temporalComponent } from "../../../src/rise/temporal-component.js";
import { weighFrames } from "../../../src/rise/weigh-frames.js";
import { gaussianSourceRise } from "../../simulate/gaussian-source-rise.js";
import { makeRandom } from "../../simulate/random.js";

const heights = (values: number[], sigma = 0) => ({ heights: Float64Array.from(values), sigma });
const sum = (values: Float64Array) => values.reduce((a, b) => a + b, 0);

describe("burstWeights", () => {
  it("without noise in the baseline: in proportion to the heat, lightly smoothed", () => {
    const weights = burstWeights(heights([1, 2, 3, 4]), Number.POSITIVE_INFINITY);
    [0.125, 0.2, 0.3, 0.375].forEach((share, k) => {
      expect(weights[k]).toBeCloseTo(share, 12);
    });
  });

  it("with a noisy baseline: late frames more, and no other weights do better", () => {
    const growth = heights(Array.from({ length: 14 }, (_, k) => Math.log1p(k / 3) + 0.2));
    const random = makeRandom("weights");
    for (const baselineFrames of [1, 3, 8]) {
      const weights = burstWeights(growth, baselineFrames);
      expect(sum(weights)).toBeCloseTo(1, 12);
      expect(Math.min(...weights)).toBeGreaterThanOrEqual(0);
      const best = contrastToNoise(weights, growth.heights, 1 / baselineFrames);
      for (let trial = 0; trial < 300; trial++) {
        const raw = Float64Array.from({ length: 14 }, (_, k) =>
          trial < 14 ? Number(k === trial) : random.next() * (trial % 2 === 0 ? 1 : weights[k]!),
        );
        const other = raw.map((value) => value / sum(raw));
        // The ends of the course are smoothed, which costs a thousandth at most.
        expect(contrastToNoise(other, growth.heights, 1 / baselineFrames)).toBeLessThan(best * 1.001);
      }
    }
    const [one, many] = [1, 8].map((n) => burstWeights(growth, n));
    expect(one![13]).toBeGreaterThan(many![13]!);
  });

  it.each([
    ["noise alone", heights([1.1, 0.9, 1.05, 0.95, 1, 1], 0.1)],
    ["heat that fades", heights([4, 3, 2, 1], 0.01)],
    ["two frames", heights([1, 2])],
  ])("%s: equal weights", (_, growth) => {
    const count = growth.heights.length;
    expect([...burstWeights(growth, 2)]).toEqual(new Array(count).fill(1 / count));
  });

  it("the early ones: the given share of the frames from the first heat on, none where nothing grows", () => {
    const growth = heights([0, 0, 0.02, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    const early = earlyWeights(growth, 1 / 4)!;
    expect([...early.keys()].filter((k) => early[k]! > 0)).toEqual([3, 4, 5]);
    expect(sum(early)).toBeCloseTo(1, 12);
    expect(earlyWeights(heights([1.1, 0.9, 1.05, 0.95, 1], 0.1), 1 / 2)).toBeNull();
  });
});

/** Frames of a spot that grows, over a common offset that wanders, in units of one frame's noise. */
function burst(seed: string, peak: number, scaleS: number, baselineFrames: number) {
  const random = makeRandom(seed);
  const [width, height, count] = [72, 54, 16];
  const at = (k: number) => gaussianSourceRise(1, 1, 1, Math.sqrt(2 * scaleS), (k + 0.5) / 2);
  const shown = Array.from({ length: count }, (_, k) => (peak * at(k)) / at(count - 1));
  const spot = Float32Array.from({ length: width * height }, (_, i) =>
    Math.exp(-(((i % width) - 33.3) ** 2 + (Math.floor(i / width) - 21.8) ** 2) / (2 * 2.25 ** 2)),
  );
  const baseline = spot.map(() => random.normal() / Math.sqrt(baselineFrames));
  const frames = shown.map((top) => {
    const offset = 0.5 * random.normal();
    const data = spot.map((share) => offset + top * share + random.normal());
    return createRaster("degC", width, height, data);
  });
  const offsets = frames.map((frame) => median(frame.data));
  const bad = new Uint8Array(width * height);
  const look = (shares: Float64Array) => {
    const mean = weighFrames(frames, shares, offsets);
    const rise = createRaster(
      "K",
      width,
      height,
      mean.data.map((value, i) => value - baseline[i]!),
    );
    return temporalComponent(
      { frames, shares, mean, bad, pixelSigmaK: 1 },
      {
        rise,
        gradient: new Float32Array(width * height),
        shiftPx: 0.1,
        transform: { dxPx: 0, dyPx: 0, angleRad: radians(0) },
      },
    );
  };
  return { shown, growth: look(new Float64Array(count).fill(1 / count)) };
}

describe("weights from the frames themselves (seeded bursts, growth ln(1 + 2αt/s²))", () => {
  // Peaks from 2.5 to 40 σ of a pixel of one frame, fast and slow growth, one baseline frame and several.
  const cases = [2.5, 6, 40].flatMap((peak) =>
    [0.2, 2, 20].flatMap((scaleS) => [1, 4].map((baselineFrames) => ({ peak, scaleS, baselineFrames }))),
  );
  it.each(cases)(
    "peak $peak σ, τ $scaleS s, $baselineFrames baseline frames: no single frame and no plain mean is better",
    ({ peak, scaleS, baselineFrames }) => {
      const beta = 1 / baselineFrames;
      const equal = new Float64Array(16).fill(1 / 16);
      let seen = 0;
      for (let trial = 0; trial < 6; trial++) {
        const { shown, growth } = burst(`${peak}/${scaleS}/${trial}`, peak, scaleS, baselineFrames);
        if (growth === null) continue;
        seen++;
        const weights = burstWeights(growth, baselineFrames);
        const ratio = contrastToNoise(weights, shown, beta);
        expect(ratio).toBeGreaterThanOrEqual(contrastToNoise(equal, shown, beta));
        for (const top of shown) expect(ratio).toBeGreaterThan(top / Math.sqrt(1 + beta));
      }
      // A spot of 2.5 σ that grows late may not stand out of the plain mean; the chain then looks at the last frames.
      if (peak > 5) expect(seen).toBe(6);
    },
  );

  it("noise alone: no growth, or weights that are nearly equal", () => {
    let square = 0;
    for (let trial = 0; trial < 30; trial++) {
      const { growth } = burst(`noise ${trial}`, 0, 1, 2);
      const weights = growth === null ? new Float64Array(16).fill(1 / 16) : burstWeights(growth, 2);
      for (const weight of weights) square += (16 * weight - 1) ** 2 / 16 / 30;
    }
    // Measured 0.06; a burst whose heat grows has 1 and more.
    expect(Math.sqrt(square)).toBeLessThan(0.35);
  });
});
