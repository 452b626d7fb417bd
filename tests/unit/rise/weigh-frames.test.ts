import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { weighFrames } from "../../../src/rise/weigh-frames.js";

describe.each([
  ["by the compiled kernel", true],
  ["by the plain code", false],
])("weighFrames, %s", (_, compiled) => {
  beforeEach(() => useKernels(compiled));
  afterEach(() => useKernels(true));
  const frame = (values: number[]) => createRaster("degC", 3, 1, Float32Array.from(values));

  it("adds up by weight", () => {
    const mean = weighFrames([frame([20, 21, 22]), frame([24, 25, 30])], [0.25, 0.75], [0, 0]);
    expect([...mean.data]).toEqual([23, 24, 28]);
  });

  it("a missing reading brings no drift into its pixel, and none at all leaves no reading", () => {
    // The second frame reads 4 K higher everywhere; pixel 1 is missing in it, pixel 2 in both.
    const mean = weighFrames(
      [frame([20, 21, Number.NaN]), frame([24, Number.NaN, Number.NaN])],
      [0.25, 0.75],
      [0, 4],
    );
    expect(mean.data[0]).toBeCloseTo(23, 6);
    expect(mean.data[1]).toBeCloseTo(24, 6);
    expect(mean.data[2]).toBeNaN();
  });

  it("every pixel of every row counts, and no weight is left of readings that none has", () => {
    const two = (values: number[]) => createRaster("degC", 3, 2, Float32Array.from(values));
    const none = Number.NaN;
    // 0.1 + 0.2 + 0.7 is not 1 in binary: what is left of it is no reading.
    const mean = weighFrames(
      [two([20, 21, 22, 23, 24, none]), two([30, 31, 32, 33, 34, none]), two([40, 41, 42, 43, 44, none])],
      [0.1, 0.2, 0.7],
      [0, 0, 0],
    );
    expect([...mean.data].slice(0, 5).map((value) => Math.round(value * 1000) / 1000)).toEqual([
      36, 37, 38, 39, 40,
    ]);
    expect(mean.data[5]).toBeNaN();
  });

  it("a frame without weight counts for nothing, not even its holes", () => {
    const mean = weighFrames([frame([20, 21, 22]), frame([99, Number.NaN, 99])], [1, 0], [0, 7]);
    expect([...mean.data]).toEqual([20, 21, 22]);
  });
});
