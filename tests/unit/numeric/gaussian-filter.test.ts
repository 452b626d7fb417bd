import { describe, expect, it } from "vitest";
import { gaussianFilter, gaussianKernel, whiteNoiseGain } from "../../../src/numeric/gaussian-filter.js";

const width = 17;
const height = 11;

describe("gaussianFilter", () => {
  it("keeps a constant at the border and beside holes: nothing is mirrored in, nothing leaks out", () => {
    const data = new Float32Array(width * height).fill(23.5);
    data[3 * width + 1] = Number.NaN;
    const found = gaussianFilter(data, width, height, 1.3);
    found.forEach((value, i) => {
      if (i === 3 * width + 1) expect(value).toBeNaN();
      else expect(value).toBeCloseTo(23.5, 5);
    });
  });

  it("an impulse gives the kernel: right pixel, x not mistaken for y", () => {
    const data = new Float64Array(width * height);
    data[4 * width + 9] = 1;
    const found = gaussianFilter(data, width, height, 0.8);
    const kernel = gaussianKernel(0.8, 3);
    // Single precision of numbers below 1.
    expect(found[4 * width + 9]).toBeCloseTo(kernel[3]! * kernel[3]!, 7);
    expect(found[4 * width + 11]).toBeCloseTo(kernel[3]! * kernel[5]!, 7);
    expect(found[7 * width + 9]).toBeCloseTo(kernel[6]! * kernel[3]!, 7);
    expect(found[8 * width + 9]).toBe(0);
  });

  it("a hole keeps NaN by default and takes the average of its neighbours with fillHoles", () => {
    const data = Float32Array.from({ length: width * height }, (_, i) => i % width);
    data[5 * width + 8] = Number.NaN;
    expect(gaussianFilter(data, width, height, 1)[5 * width + 8]).toBeNaN();
    // A ramp is symmetric about the hole, so the average is the value that is missing.
    expect(gaussianFilter(data, width, height, 1, { fillHoles: true })[5 * width + 8]).toBeCloseTo(8, 5);
  });

  it("a hole wider than the kernel stays NaN even with fillHoles", () => {
    const data = new Float32Array(width * height).fill(Number.NaN);
    data[0] = 4;
    const found = gaussianFilter(data, width, height, 0.5, { fillHoles: true });
    expect(found[2]).toBeCloseTo(4, 6);
    expect(found[3]).toBeNaN();
  });

  it("sigma 0 copies, holes included", () => {
    const data = Float32Array.of(1, Number.NaN, 3, 4, 5, 6);
    const found = gaussianFilter(data, 3, 2, 0);
    expect(found).toEqual(data);
    expect(found).not.toBe(data);
  });

  it("leaves its input alone, and gives the same into given memory and into the input itself", () => {
    const data = Float32Array.from({ length: width * height }, (_, i) => Math.sin(i * i));
    const before = data.slice();
    const plain = gaussianFilter(data, width, height, 1.1);
    expect(data).toEqual(before);
    const scratch = new Float64Array(2 * width * (height + 1)).fill(7);
    expect(gaussianFilter(data, width, height, 1.1, { scratch, out: data })).toBe(data);
    expect(data).toEqual(plain);
  });

  it("a kernel wider than the picture still averages what there is", () => {
    const found = gaussianFilter(Float32Array.of(1, 2, 6), 3, 1, 40);
    for (const value of found) expect(value).toBeCloseTo(3, 2);
  });

  it("refuses sizes that don't fit and a sigma that is no width", () => {
    expect(() => gaussianFilter(new Float32Array(5), 3, 2, 1)).toThrow(RangeError);
    expect(() => gaussianFilter(new Float32Array(6), 3, 2, -1)).toThrow(RangeError);
    expect(() => gaussianFilter(new Float32Array(6), 3, 2, Number.NaN)).toThrow(RangeError);
    expect(() => gaussianFilter(new Float32Array(6), 3, 2, 1, { scratch: new Float64Array(2) })).toThrow(
      RangeError,
    );
    expect(() => gaussianFilter(new Float32Array(6), 3, 2, 1, { out: new Float32Array(2) })).toThrow(
      RangeError,
    );
    expect(() => gaussianKernel(0, 2)).toThrow(RangeError);
  });

  it("no smoothing, no gain", () => {
    expect(whiteNoiseGain(0)).toBe(1);
  });
});
