import { afterEach, describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { removeDrift } from "../../../src/rise/remove-drift.js";
import { makeRandom } from "../../simulate/random.js";
import { bothWays } from "../numeric/both-ways.js";

afterEach(() => useKernels(true));

const width = 120;
const height = 90;

/** Noise of 50 mK on a common offset, with heat over the given share of the frame. */
function driftedRise(offsetK: number, warmShare: number, warmK: number, seed: string) {
  const random = makeRandom(seed);
  const warmRows = Math.round(warmShare * height);
  return createRaster(
    "K",
    width,
    height,
    Float32Array.from({ length: width * height }, (_, i) => {
      const warm = Math.floor(i / width) < warmRows ? warmK * random.uniform(0.2, 1) : 0;
      return offsetK + warm + 0.05 * random.normal();
    }),
  );
}

describe("removeDrift", () => {
  it.each([
    [0.4, 0, 0],
    [-0.7, 0.1, 3],
    [0.25, 0.3, 5],
    [-0.1, 0.45, 2],
  ])("offset %f K with %f of the frame up to %f K warmer: the offset is found", (offsetK, share, warmK) => {
    const found = removeDrift(driftedRise(offsetK, share, warmK, `${offsetK}`), null);
    // Clipping at 2 σ on the warm side alone leaves the median of a cut bell: 0.03 σ low at most, 1.5 mK; beside it
    // the statistical error of a median over 6000 pixels, 1.2533 × 50 mK/√6000 = 0.8 mK.
    expect(Math.abs(found.offsetK - offsetK)).toBeLessThan(0.005);
    expect(found.reference).toBe("whole frame");
    expect(found.offsetSigmaK).toBeGreaterThan(0);
    expect(found.offsetSigmaK).toBeLessThan(0.005);
  });

  it("gives the same bits with the kernels and by the plain code, whatever has no reading", () => {
    const rise = driftedRise(0.3, 0.2, 3, "both");
    for (let i = 0; i < rise.data.length; i += 7) rise.data[i] = Number.NaN;
    const board = Uint8Array.from(rise.data, (_, i) => (i % width < 70 ? 1 : 0));
    for (const onBoard of [null, board]) {
      const [fast, plain] = bothWays(() => removeDrift(rise, onBoard));
      expect(plain).toStrictEqual(fast);
      expect(Math.abs(fast.offsetK - 0.3)).toBeLessThan(0.02);
    }
  });

  it("what is off the board carries the offset, even where the whole board is warm", () => {
    const rise = driftedRise(0.3, 0.8, 4, "warm board");
    const offBoard = new Uint8Array(width * height);
    offBoard.fill(1, Math.round(0.85 * height) * width);
    const found = removeDrift(rise, offBoard);
    expect(found.reference).toBe("off-board");
    // As above, from a seventh of the pixels: 2.6 times the statistical error.
    expect(Math.abs(found.offsetK - 0.3)).toBeLessThan(0.01);
  });

  it("too little off the board: the whole frame is used and said so", () => {
    const offBoard = new Uint8Array(width * height);
    offBoard.fill(1, 0, 20);
    expect(removeDrift(driftedRise(0.3, 0.1, 4, "few"), offBoard).reference).toBe("whole frame");
  });

  it("takes off exactly what it says, and leaves holes and the input alone", () => {
    const rise = driftedRise(0.2, 0.2, 3, "exact");
    rise.data[345] = Number.NaN;
    const before = Float32Array.from(rise.data);
    const found = removeDrift(rise, null);
    expect(rise.data).toEqual(before);
    const expected = before.map((v) => v - found.offsetK);
    expect(found.rise.data).toEqual(expected);
  });

  it("a further offset of the camera moves the answer by as much and leaves the rise", () => {
    const rise = driftedRise(0.2, 0.2, 3, "further");
    const further = createRaster(
      "K",
      width,
      height,
      rise.data.map((v) => v + 0.5),
    );
    const [first, second] = [removeDrift(rise, null), removeDrift(further, null)];
    // Single precision at 4 K: 2e-7.
    expect(second.offsetK - first.offsetK).toBeCloseTo(0.5, 6);
    first.rise.data.forEach((value, i) => {
      expect(Math.abs(value - second.rise.data[i]!)).toBeLessThan(2e-6);
    });
  });

  describe("the level of a few numbers, by hand", () => {
    const row = (values: readonly number[]) => createRaster("K", values.length, 1, Float32Array.from(values));
    const steps = (count: number, step: number) => Array.from({ length: count }, (_, i) => i * step);
    const hot = (count: number) => new Array<number>(count).fill(100);

    it.each([
      // Below 15, itself included, lie 0 … 15: their middle is 7.5, so that the spread of the cold side is 7.5.
      ["31 numbers: the middle one", steps(31, 1), 15, 7.5, 31],
      // Below 14.5 lie 0 … 14.
      ["30 numbers: between the two in the middle", steps(30, 1), 14.5, 7.5, 30],
      // All 50: 24.5 ± 1.4826 · 12.5, so that the limit is 61.6 and the 17 hot ones go; of the 33: 16 and 8.
      ["17 of 50 are hot: they are clipped", [...hot(17), ...steps(33, 1)], 16, 8, 33],
      ["16 are left: they are taken", [...hot(4), ...steps(16, 1)], 7.5, 4, 16],
      // 9 is the middle of 19; below it lie 0 … 9.
      ["15 would be left: too few to be told from the others", [...hot(4), ...steps(15, 1)], 9, 4.5, 19],
      ["all alike", new Array<number>(20).fill(0.5), 0.5, 0, 20],
    ])("%s", (_, values, level, coldSpread, kept) => {
      const found = removeDrift(row(values), null);
      expect(found.offsetK).toBe(level);
      // A half-normal's median is 0.6745 σ (normal tables); a median scatters by √(π/2) of a mean.
      expect(found.offsetSigmaK).toBeCloseTo((1.2533 * 1.482602218505602 * coldSpread) / Math.sqrt(kept), 6);
    });

    it("clips again and again, until nothing more goes", () => {
      // Cold 0 … 39, and a tail that hides its own end: at first 65 of 100 are within the limit, in the end 40.
      const values = [...steps(40, 0.1), ...steps(60, 1).map((v) => 6 + v)];
      const after = [0, 1, 12].map((rounds) => removeDrift(row(values), null, { rounds }).offsetK);
      const middle = (kept: readonly number[]): number => {
        const sorted = [...kept].sort((a, b) => a - b);
        return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
      };
      // The same by whole lists instead of by counts.
      const wanted = [0, 1, 12].map((rounds) => {
        let kept = values.map(Math.fround);
        for (let round = 0; round < rounds; round++) {
          const level = middle(kept);
          const spread = 1.4826 * (level - middle(kept.filter((v) => v <= level)));
          const next = kept.filter((v) => v <= level + 2 * spread);
          if (next.length < 16) break;
          kept = next;
        }
        return middle(kept);
      });
      expect(after).toEqual(wanted);
      expect(after[0]).toBeGreaterThan(after[1]!);
      expect(after[1]).toBeGreaterThan(after[2]!);
    });

    it("clips at as many spreads as it is told", () => {
      const values = [...steps(40, 1), ...steps(20, 1).map((v) => 60 + v)];
      const [tight, loose] = [1, 5].map((clipSigma) => removeDrift(row(values), null, { clipSigma }).offsetK);
      expect(loose).toBe(29.5);
      expect(tight).toBeLessThan(20);
    });

    it("counts readings alone: a hole or an infinite one is none", () => {
      const values = [...steps(31, 1), Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
      const found = removeDrift(row(values), null);
      expect(found.offsetK).toBe(15);
      expect([...found.rise.data.slice(29)]).toEqual([
        14,
        15,
        Number.NaN,
        Number.POSITIVE_INFINITY,
        Number.NEGATIVE_INFINITY,
      ]);
      const none = removeDrift(row(new Array<number>(20).fill(Number.NaN)), null);
      expect(none.offsetK).toBeNaN();
      expect(none.reference).toBe("whole frame");
    });

    it.each([
      // Of 200 pixels 3 % are six.
      [6, 0, "off-board"],
      [5, 0, "whole frame"],
      [7, 1, "off-board"],
      [6, 1, "whole frame"],
    ])("%i pixels off the board, %i of them without a reading: %s", (pixels, holes, reference) => {
      const rise = createRaster("K", 20, 10);
      const mask = new Uint8Array(200).fill(2);
      for (let i = 0; i < 200; i++) rise.data[i] = 3;
      for (let k = 0; k < pixels; k++) {
        mask[31 * k] = 1;
        rise.data[31 * k] = k < holes ? Number.NaN : 1;
      }
      const found = removeDrift(rise, mask);
      expect([found.reference, found.offsetK]).toEqual([reference, reference === "off-board" ? 1 : 3]);
    });

    it("leaves the rise as it is, or writes over it where it may", () => {
      const rise = driftedRise(0.3, 0, 0, "overwrites");
      const before = rise.data.slice();
      const kept = removeDrift(rise, null);
      expect(rise.data).toEqual(before);
      const written = removeDrift(rise, null, { overwrites: true });
      expect(written.rise.data).toBe(rise.data);
      expect(written).toEqual(kept);
    });

    it("a sample of a large frame asks for its own share off the board, and finds the same level", () => {
      // Every fifth column is off the board, and colder by 2 K; the sample of at most 1000 takes every eleventh pixel.
      const rise = driftedRise(0.3, 0, 0, "sample");
      const mask = Uint8Array.from({ length: width * height }, (_, i) => (i % 5 === 0 ? 1 : 0));
      for (let i = 0; i < rise.data.length; i++) if (mask[i] === 1) rise.data[i]! -= 2;
      const found = removeDrift(rise, mask, { mostValues: 1000 });
      expect(found.reference).toBe("off-board");
      // A median of 196 values of 50 mK: 1.2533 · 50/√196 = 4.5 mK; four times that.
      expect(Math.abs(found.offsetK + 1.7)).toBeLessThan(0.018);
      expect(found.offsetSigmaK).toBeGreaterThan(0.003);
      expect(found.offsetSigmaK).toBeLessThan(0.006);
    });
  });
});
