import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { borderGain, raiseTowardsBorder } from "../../../src/rise/border-noise.js";
import { localContrast } from "../../../src/rise/local-contrast.js";
import { makeRandom } from "../../simulate/random.js";

const flat = (width: number, height: number, value = 1) => {
  const noise = createRaster("K", width, height);
  noise.data.fill(value);
  return noise;
};

describe("raiseTowardsBorder", () => {
  it("leaves what no border reaches, and raises edges by a third and corners by two", () => {
    const noise = flat(120, 90);
    raiseTowardsBorder(noise, borderGain(120, 90, 2, 4));
    const at = (x: number, y: number) => noise.data[y * 120 + x]!;
    expect(at(60, 45)).toBe(1);
    expect(at(20, 45)).toBe(1);
    // Half of a Gaussian has √2 of the noise; what it has in common with the half of the wider one takes a little off.
    expect(at(0, 45)).toBeGreaterThan(1.25);
    expect(at(0, 45)).toBeLessThan(1.45);
    expect(at(0, 0)).toBeGreaterThan(1.5);
    expect([at(119, 45), at(60, 0), at(60, 89)].map((v) => v.toFixed(5))).toEqual(
      [at(0, 45), at(0, 45), at(0, 45)].map((v) => v.toFixed(5)),
    );
    expect(Math.min(...noise.data)).toBe(1);
  });

  it("takes a frame smaller than the kernels as it is", () => {
    const noise = flat(9, 8, 0.5);
    raiseTowardsBorder(noise, borderGain(9, 8, 3.8, 7.6));
    expect(noise.data[0]).toBeGreaterThan(noise.data[4 * 9 + 4]!);
    expect(Math.max(...noise.data)).toBeLessThan(1.5);
    expect(Math.min(...noise.data)).toBe(0.5);
  });

  it("makes white noise as significant at the border as in the middle", () => {
    const [width, height, frames] = [96, 72, 60];
    const random = makeRandom("noise at the border");
    const sums = { edge: [0, 0], middle: [0, 0] };
    for (let k = 0; k < frames; k++) {
      const rise = createRaster("K", width, height);
      for (let i = 0; i < rise.data.length; i++) rise.data[i] = 0.05 * random.normal();
      for (const { contrast, noise } of localContrast(rise, new Float32Array(rise.data.length))) {
        for (let y = 0; y < height; y++) {
          for (let x = 0; x < width; x++) {
            const away = Math.min(x, y, width - 1 - x, height - 1 - y);
            if (away > 0 && away < 30) continue;
            const sum = away === 0 ? sums.edge : sums.middle;
            sum[0]! += (contrast.data[y * width + x]! / noise.data[y * width + x]!) ** 2;
            sum[1]!++;
          }
        }
      }
    }
    const rms = ([square, count]: number[]) => Math.sqrt(square! / count!);
    // Some 300 independent values at the edge and as many in the middle a frame: good to a percent.
    expect(rms(sums.edge) / rms(sums.middle)).toBeGreaterThan(0.95);
    expect(rms(sums.edge) / rms(sums.middle)).toBeLessThan(1.05);
  });
});
