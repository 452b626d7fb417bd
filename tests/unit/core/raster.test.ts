import { describe, expect, it } from "vitest";
import { createRaster, sameShape } from "../../../src/core/raster.js";

describe("createRaster", () => {
  it("without data: zeros, row-major", () => {
    const raster = createRaster("K", 3, 2);
    expect(raster).toMatchObject({ unit: "K", width: 3, height: 2 });
    expect(raster.data).toEqual(new Float32Array(6));
  });

  it("with data: the same array, not a copy", () => {
    const data = new Float32Array([1, 2, 3, 4, 5, 6]);
    expect(createRaster("degC", 2, 3, data).data).toBe(data);
  });

  it.each([
    [0, 5],
    [5, 0],
    [-3, 2],
    [2.5, 2],
    [Number.NaN, 4],
    [4, Number.POSITIVE_INFINITY],
  ])("refuses the size %f × %f", (width, height) => {
    expect(() => createRaster("K", width, height, new Float32Array(10))).toThrow(/positive whole size/);
  });

  it("refuses data of another length and says both lengths", () => {
    expect(() => createRaster("K", 3, 2, new Float32Array(7))).toThrow(/3×2 needs 6 values, not 7/);
  });
});

describe("sameShape", () => {
  it("width and height must both agree; the number of values is not enough", () => {
    const a = createRaster("K", 6, 2);
    expect(sameShape(a, createRaster("degC", 6, 2))).toBe(true);
    expect(sameShape(a, createRaster("K", 2, 6))).toBe(false);
    expect(sameShape(a, createRaster("K", 4, 3))).toBe(false);
  });
});
