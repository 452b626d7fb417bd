import { afterEach, describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { flatTop } from "../../../src/frames/flat-top.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { makeRandom } from "../../simulate/random.js";
import { agreed } from "../numeric/both-ways.js";

afterEach(() => useKernels(true));

const width = 48;
const height = 36;

/** A spot of Gaussian shape (σ 3 px) at [30, 13] on noise of 50 mK. */
function spot(peakK: number, read: (valueC: number) => number) {
  const random = makeRandom(`flat ${peakK}`);
  return createRaster(
    "degC",
    width,
    height,
    Float32Array.from({ length: width * height }, (_, i) => {
      const [x, y] = [i % width, Math.floor(i / width)];
      return read(24 + peakK * Math.exp(-((x - 30) ** 2 + (y - 13) ** 2) / 18) + 0.05 * random.normal());
    }),
  );
}
const digits =
  (stepK: number, endC = 1000) =>
  (valueC: number): number =>
    Math.fround(Math.round(Math.min(valueC, endC) / stepK) * stepK);

describe("flatTop", () => {
  it("is the same by the kernels and by the plain code", () => {
    const cut = spot(20, digits(0.01, 35));
    const none = cut.data.map(() => Number.NaN);
    const deep = cut.data.map((valueC, i) => (i % 7 === 0 ? Number.NaN : valueC - 100));
    const odd = cut.data.slice(0, 47 * 35);
    for (const [data, across] of [
      [cut.data, width],
      [none, width],
      [deep, width],
      [odd, 47],
    ] as const) {
      const raster = createRaster("degC", across, data.length / across, data);
      agreed(() => flatTop(raster));
    }
  });

  it("counts what is cut off, whatever the digits", () => {
    // 24 + 20·e^(−r²/18) > 35 within r² = 18·ln(20/11) = 10.8: 34 pixels, and a few that noise decides.
    for (const stepK of [0.001, 0.01, 0.1]) {
      const { low, high } = flatTop(spot(20, digits(stepK, 35)))!;
      expect(low).toBe(0);
      expect(Math.abs(high - 34)).toBeLessThan(5);
    }
  });

  it("sees none in a whole peak, however coarse its digits", () => {
    for (const stepK of [0.001, 0.01, 0.1, 0.5, 1]) {
      expect(flatTop(spot(20, digits(stepK))), `${stepK}`).toBeNull();
      expect(flatTop(spot(0.4, digits(stepK))), `${stepK}`).toBeNull();
    }
  });

  it("sees none in an even picture, in one of few equal pixels, and in one without readings", () => {
    expect(flatTop(spot(0, () => 25.5))).toBeNull();
    expect(flatTop(spot(0, () => Number.NaN))).toBeNull();
    const few = createRaster("degC", 6, 4, new Float32Array(24).fill(20));
    for (let i = 0; i < 8; i++) few.data[i] = 30;
    expect(flatTop(few)).toBeNull();
    few.data[8] = 30;
    expect(flatTop(few)).toEqual({ low: 0, high: 9 });
  });

  it("goes by what lies beside in the picture, not by what comes next in the file", () => {
    // The right column is at the top; the first pixel of each next row is as cold as can be, and is no neighbour.
    const column = createRaster("degC", 5, 9, new Float32Array(45).fill(0));
    for (let y = 0; y < 9; y++) for (let x = 1; x < 5; x++) column.data[5 * y + x] = x === 4 ? 30 : 29.97;
    expect(flatTop(column)).toBeNull();
  });
});
