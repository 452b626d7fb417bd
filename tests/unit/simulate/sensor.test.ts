import { describe, expect, it } from "vitest";
import { makeRandom } from "../../simulate/random.js";
import { expose, quantise, randomPattern, randomSensor, smoothField } from "../../simulate/sensor.js";

function sd(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

describe("random numbers", () => {
  it("repeat for a text and differ for another", () => {
    const draw = (text: string): number[] => {
      const random = makeRandom(text);
      return Array.from({ length: 5 }, () => random.next());
    };
    expect(draw("a/1")).toEqual(draw("a/1"));
    expect(draw("a/1")).not.toEqual(draw("a/2"));
  });

  // 40 000 draws: the mean of uniform numbers has a standard error of 0.0014, that of normal ones 0.005.
  it("have the moments of their distributions", () => {
    const random = makeRandom("moments");
    const uniform = Array.from({ length: 40000 }, () => random.next());
    const normal = Array.from({ length: 40000 }, () => random.normal());
    expect(Math.abs(uniform.reduce((a, b) => a + b) / 40000 - 0.5)).toBeLessThan(0.006);
    expect(Math.abs(sd(normal) - 1)).toBeLessThan(0.015);
    const beyond2 = normal.filter((value) => Math.abs(value) > 2).length / 40000;
    expect(Math.abs(beyond2 - 0.0455)).toBeLessThan(0.005); // 4.55 % lie beyond 2σ
    const fourth = normal.reduce((sum, value) => sum + value ** 4, 0) / 40000;
    expect(Math.abs(fourth - 3)).toBeLessThan(0.25);
  });
});

describe("sensor", () => {
  const [width, height] = [64, 48];
  const random = makeRandom("sensor test");
  const sensor = randomSensor(random, width, height, 22);
  const ideal = new Float32Array(width * height).fill(22);
  const drift = { offsetK: 0.2, smoothK: () => 0, patternK: null };
  const frames = Array.from({ length: 60 }, () => expose(random, sensor, ideal, drift));
  const bad = new Set(sensor.bad.map((pixel) => pixel.y * width + pixel.x));

  it("has each pixel's noise as asked", () => {
    // Sixty frames give a pixel's σ to 9 %; the median over 3072 pixels is good to a few tenths of a percent.
    const ratios: number[] = [];
    for (let k = 0; k < width * height; k++) {
      if (bad.has(k)) continue;
      ratios.push(sd(frames.map((frame) => frame[k]!)) / sensor.pixelSigmaK[k]!);
    }
    ratios.sort((a, b) => a - b);
    expect(Math.abs(ratios[ratios.length >> 1]! - 1)).toBeLessThan(0.02);
    expect(sensor.sigmaK).toBeGreaterThanOrEqual(0.04);
    expect(sensor.sigmaK).toBeLessThan(0.06);
  });

  it("keeps its pattern from frame to frame, and the offset it is given", () => {
    let sum = 0;
    let count = 0;
    for (let k = 0; k < width * height; k++) {
      if (bad.has(k)) continue;
      const mean = frames.reduce((total, frame) => total + frame[k]!, 0) / frames.length;
      // 6 standard errors of the mean of 60 readings of the noisiest pixel (0.17 K).
      expect(Math.abs(mean - 22.2 - sensor.patternK[k]!)).toBeLessThan(0.13);
      sum += mean - sensor.patternK[k]!;
      count++;
    }
    expect(Math.abs(sum / count - 22.2)).toBeLessThan(0.001);
  });

  it("scales the fixed pattern to its standard deviation, with a part that is common to columns", () => {
    const pattern = randomPattern(makeRandom("pattern"), 80, 60, 0.15);
    expect(Math.abs(sd(Array.from(pattern)) - 0.15)).toBeLessThan(1e-4);
    const columns = Array.from({ length: 80 }, (_, i) => {
      let sum = 0;
      for (let j = 0; j < 60; j++) sum += pattern[j * 80 + i]! / 60;
      return sum;
    });
    // Without a common part the means of 60 pixels would scatter by 0.15/√60 = 0.019 K.
    expect(sd(columns)).toBeGreaterThan(0.035);
  });

  it("drifts smoothly", () => {
    const field = smoothField(makeRandom("smooth"), 0.1);
    const values = Array.from({ length: 1200 }, (_, i) => field((i % 40) / 40, Math.floor(i / 40) / 30));
    expect(sd(values)).toBeGreaterThan(0.02);
    expect(sd(values)).toBeLessThan(0.3);
    expect(Math.abs(field(0.5, 0.4) - field(0.51, 0.4))).toBeLessThan(0.02);
  });

  it("rounds to the levels of a scale and clamps at its ends", () => {
    const data = Float32Array.of(19.9, 20.04, 20.06, 20.31, 99);
    quantise(data, { lowC: 20, stepK: 0.1 });
    expect(Array.from(data, (value) => Number(value.toFixed(4)))).toEqual([20, 20, 20.1, 20.3, 45.5]);
  });
});
