import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { removeDrift } from "../../../src/rise/remove-drift.js";
import { makeRandom } from "../../simulate/random.js";

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

  it("what is off the board carries the offset, even where the whole board is warm", () => {
    const rise = driftedRise(0.3, 0.8, 4, "warm board");
    const offBoard = new Uint8Array(width * height);
    offBoard.fill(1, Math.round(0.85 * height) * width);
    const found = removeDrift(rise, offBoard);
    expect(found.reference).toBe("off-board");
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
});
