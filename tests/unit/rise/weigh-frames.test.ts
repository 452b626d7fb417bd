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
    const none = Number.NaN;
    const frames = Array.from({ length: 10 }, (_, k) =>
      createRaster("degC", 3, 2, Float32Array.from([20 + k, 21 + k, 22 + k, 23 + k, 24 + k, none])),
    );
    // Ten times 0.1 is not 1 in binary: what is left of it is no reading.
    const mean = weighFrames(frames, new Array<number>(10).fill(0.1), new Array<number>(10).fill(0));
    expect([...mean.data].slice(0, 5).map((value) => Math.round(value * 1000) / 1000)).toEqual([
      24.5, 25.5, 26.5, 27.5, 28.5,
    ]);
    expect(mean.data[5]).toBeNaN();
  });

  it("a frame without weight counts for nothing, not even its holes, or an offset that it has not", () => {
    for (const offsetK of [7, Number.NaN]) {
      const mean = weighFrames([frame([20, 21, 22]), frame([99, Number.NaN, 99])], [1, 0], [0, offsetK]);
      expect([...mean.data]).toEqual([20, 21, 22]);
    }
  });
});
