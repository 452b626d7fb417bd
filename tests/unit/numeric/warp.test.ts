import { describe, expect, it } from "vitest";
import { bridgeHoles } from "../../../src/numeric/bridge-holes.js";
import { type AffineMatrix, type WarpOrder, warpRaster } from "../../../src/numeric/warp.js";

const width = 13;
const height = 9;
const orders: WarpOrder[] = ["linear", "cubic", "spline"];
const identity: AffineMatrix = [1, 0, 0, 0, 1, 0];
const bumpy = Float32Array.from({ length: width * height }, (_, i) => 20 + 3 * Math.sin(i * i));

describe.each(orders)("warpRaster, %s", (order) => {
  it("the identity gives every pixel back, to the last bit", () => {
    expect(warpRaster(bumpy, width, height, identity, { order })).toEqual(bumpy);
  });

  it("whole-pixel shifts copy: content moves right and down by (2, 1), and what comes in is NaN", () => {
    const found = warpRaster(bumpy, width, height, [1, 0, -2, 0, 1, -1], { order });
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const expected = x < 2 || y < 1 ? Number.NaN : bumpy[(y - 1) * width + x - 2];
        expect(found[y * width + x], `(${x}, ${y})`).toBe(expected);
      }
    }
  });

  it("a plane stays a plane away from the border", () => {
    const plane = Float64Array.from(bumpy, (_, i) => 2 * (i % width) - 3 * Math.floor(i / width));
    const [a, b, c, d, e, f] = [0.9, 0.1, 0.4, -0.15, 0.95, 0.8];
    const found = warpRaster(plane, width, height, [a, b, c, d, e, f], { order });
    let compared = 0;
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const atX = a * x + b * y + c;
        const atY = d * x + e * y + f;
        // The mirrored border bends the plane: the cubic reaches one pixel in, the spline's ripple falls to 27 % a
        // pixel.
        const inset = order === "spline" ? 3 : 1;
        if (!(atX >= inset && atX <= width - 1 - inset && atY >= inset && atY <= height - 1 - inset))
          continue;
        compared++;
        expect(Math.abs(found[y * width + x]! - (2 * atX - 3 * atY))).toBeLessThan(
          order === "spline" ? 0.05 : 1e-5,
        );
      }
    }
    expect(compared).toBeGreaterThanOrEqual(15);
  });

  it("a hole takes away exactly the pixels that use it", () => {
    const holed = bumpy.slice();
    holed[4 * width + 6] = Number.NaN;
    const found = warpRaster(holed, width, height, [1, 0, 0.25, 0, 1, 0], { order });
    // Only x is off the pixels, so only row 4 is touched: those whose taps reach column 6.
    const reach = order === "linear" ? 1 : 2;
    for (let y = 0; y < height; y++) {
      for (let x = 0; x + 1 < width; x++) {
        const uses = y === 4 && x >= 6 - reach && x <= 5 + reach;
        expect(Number.isNaN(found[y * width + x]!), `(${x}, ${y})`).toBe(uses);
      }
    }
  });

  it("rounding of a matrix does not cost the border", () => {
    const found = warpRaster(bumpy, width, height, [1, 0, -1e-13, 0, 1, 1e-13], { order });
    expect(found).toEqual(bumpy);
  });

  it("works on a single row, a single column and a single pixel", () => {
    const ramp = Float32Array.of(4, 6, 8, 10, 12);
    // The mirrored ends bend the ramp: by 0.107 for the spline, by a quarter at most for any of them.
    expect(Math.abs(warpRaster(ramp, 5, 1, [1, 0, 0.5, 0, 1, 0], { order })[1]! - 7)).toBeLessThan(0.25);
    expect(Math.abs(warpRaster(ramp, 1, 5, [1, 0, 0, 0, 1, 0.5], { order })[2]! - 9)).toBeLessThan(0.25);
    expect(Array.from(warpRaster(Float32Array.of(4), 1, 1, identity, { order }))).toEqual([4]);
  });
});

describe("warpRaster", () => {
  it("cubic is the default; input untouched; refuses what does not fit", () => {
    const before = bumpy.slice();
    const shift: AffineMatrix = [1, 0, 0.3, 0, 1, 0.6];
    expect(warpRaster(bumpy, width, height, shift)).toEqual(
      warpRaster(bumpy, width, height, shift, { order: "cubic" }),
    );
    expect(bumpy).toEqual(before);
    expect(() => warpRaster(bumpy, width, height + 1, shift)).toThrow(RangeError);
    expect(() => warpRaster(bumpy, width, height, [1, 0, Number.NaN, 0, 1, 0])).toThrow(RangeError);
    expect(() => warpRaster(bumpy, width, height, shift, { out: bumpy })).toThrow(RangeError);
  });

  it("the cubic gives a parabola back (Keys 1981: third order), the linear does not", () => {
    const parabola = Float64Array.from(bumpy, (_, i) => (i % width) ** 2);
    const at = 4 * width + 5;
    const shift: AffineMatrix = [1, 0, 0.4, 0, 1, 0];
    expect(warpRaster(parabola, width, height, shift, { order: "cubic" })[at]).toBeCloseTo(5.4 ** 2, 5);
    expect(warpRaster(parabola, width, height, shift, { order: "linear" })[at]).toBeCloseTo(
      5.4 ** 2 + 0.24,
      5,
    );
  });

  it("a picture without any reading stays without", () => {
    const nothing = new Float32Array(6).fill(Number.NaN);
    for (const order of orders) {
      expect(warpRaster(nothing, 3, 2, [1, 0, 0.5, 0, 1, 0.5], { order }).every(Number.isNaN)).toBe(true);
    }
  });
});

describe("bridgeHoles", () => {
  it("joins along rows, extends to the ends, and repeats the nearest full row above, else below", () => {
    const n = Number.NaN;
    const found = bridgeHoles(Float64Array.of(n, n, n, n, n, 2, n, 8, n, n, n, n), 4, 3);
    expect(Array.from(found)).toEqual([2, 2, 5, 8, 2, 2, 5, 8, 2, 2, 5, 8]);
  });
});
