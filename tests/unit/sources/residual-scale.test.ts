import { describe, expect, it } from "vitest";
import { residualScale } from "../../../src/sources/residual-scale.js";
import { makeRandom } from "../../simulate/random.js";

const width = 120;
const height = 90;
const picture = { width, height, offset: 0 };
const random = makeRandom("residuals");
const white = Float32Array.from({ length: width * height }, () => 0.05 * random.normal());
const stated = new Float32Array(width * height).fill(0.05 ** 2);

/** Pictures' pixels one after the other. */
const joined = (...parts: readonly Float32Array[]): Float32Array =>
  Float32Array.from(parts.flatMap((part) => [...part]));

describe("residualScale", () => {
  it("about 1 for white noise of the stated variance", () => {
    const scale = residualScale(white, stated, [picture]);
    // 300 blocks, each a χ² of one degree of freedom (relative spread √2): 8 %, and never below 1.
    expect(scale).toBeGreaterThanOrEqual(1);
    expect(scale).toBeLessThan(1.25);
  });

  it("as many times more as the variance is larger than stated", () => {
    const loud = white.map((v) => 3 * v);
    expect(residualScale(loud, stated, [picture])).toBeGreaterThan(9 * 0.75);
    expect(residualScale(loud, stated, [picture])).toBeLessThan(9 * 1.25);
  });

  it("larger where neighbours err together, though each pixel's variance is as stated", () => {
    const blocky = Float32Array.from(white, (_, i) => {
      const block = Math.floor(Math.floor(i / width) / 3) * width + Math.floor((i % width) / 3);
      return white[block % white.length]!;
    });
    // Nine equal neighbours: a block's sum has nine times the variance.
    expect(residualScale(blocky, stated, [picture])).toBeGreaterThan(5);
  });

  it("one strong spot that is not yet explained hardly raises it", () => {
    const spot = Float32Array.from(white, (v, i) => {
      const r2 = ((i % width) - 60) ** 2 + (Math.floor(i / width) - 45) ** 2;
      // 3 px wide: above the noise over 450 of the 10 800 pixels, in fewer than a tenth of the blocks.
      return v + 20 * Math.exp(-r2 / 18);
    });
    expect(residualScale(spot, stated, [picture]) / residualScale(white, stated, [picture])).toBeLessThan(
      1.5,
    );
  });

  it("too little to tell, or no reading: 1", () => {
    expect(
      residualScale(white.slice(0, 60), stated.slice(0, 60), [{ width: 10, height: 6, offset: 0 }]),
    ).toBe(1);
    expect(
      residualScale(
        white.map(() => Number.NaN),
        stated,
        [picture],
      ),
    ).toBe(1);
    expect(residualScale(white, stated, [])).toBe(1);
  });
});

describe("residualScale over several pictures", () => {
  const loud = white.map((v) => 4 * v);

  it("blocks lie in each picture on its own: a picture tells the same behind another one's pixels", () => {
    // 62 × 90 px: no multiple of a block, so that blocks laid over the joined pixels would cut across rows.
    const narrow = { width: 62, height: 90 };
    const part = loud.slice(0, 62 * 90);
    const variance = stated.slice(0, 62 * 90);
    const alone = residualScale(part, variance, [{ ...narrow, offset: 0 }]);
    const wild = white.map((v) => 100 * v);
    const behind = residualScale(joined(wild, part), joined(stated, variance), [
      { ...narrow, offset: wild.length },
    ]);
    expect(alone).toBeGreaterThan(10);
    expect(behind).toBe(alone);
  });

  it("all pictures count: one that errs more raises the scale, to below its own", () => {
    const pictures = [picture, { ...picture, offset: white.length }];
    const quiet = residualScale(joined(white, white), joined(stated, stated), pictures);
    const half = residualScale(joined(white, loud), joined(stated, stated), pictures);
    // Twice the same blocks: the tenth that is left out falls between the same two values.
    expect(quiet).toBeCloseTo(residualScale(white, stated, [picture]), 1);
    expect(half).toBeGreaterThan(2 * quiet);
    expect(half).toBeLessThan(residualScale(loud, stated, [picture]));
  });
});
