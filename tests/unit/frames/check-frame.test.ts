import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { checkFrame } from "../../../src/frames/check-frame.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { caught } from "./caught.js";

function frame(values: number[], width: number, more: Partial<Frame> = {}): Frame {
  const raster = createRaster("degC", width, values.length / width, Float32Array.from(values));
  return { ...frameFromRaster(raster), ...more };
}

describe("checkFrame", () => {
  it("lets plausible values pass, both limits and no readings included", () => {
    expect(checkFrame(frame([-100, 1000, 25, Number.NaN, 0, 31.5], 3))).toEqual([]);
  });
  it("refuses infinite values with count and first place", () => {
    const error = caught(() =>
      checkFrame(frame([20, 21, 22, 23, Infinity, -Infinity], 3, { file: "f.csv" })),
    );
    expect(error.code).toBe("E_FRAME_INFINITE");
    expect(error.message).toContain("2 values of the frame are infinite, the first at pixel [1, 1] (f.csv)");
  });
  it("refuses values outside −100 … 1000 °C with count, first place and value", () => {
    const error = caught(() =>
      checkFrame(frame([20, 21, -100.5, 23, 1001, 25], 3, { file: "f.csv", index: 2 })),
    );
    expect(error.code).toBe("E_FRAME_RANGE");
    expect(error.message).toContain("2 values of the frame lie outside");
    expect(error.message).toContain("the first at pixel [2, 0]: -100.5 (f.csv, frame 3)");
    expect(error.message).toContain("torn or broken cells");
  });
  it("advises gain and offset for kelvin × 100 and × 10", () => {
    const hundred = caught(() => checkFrame(frame([29815, 29820, 29830, 30010, 29900, 29815], 3)));
    expect(hundred.parts.fix).toContain("gain 0.01 and offset -273.15");
    const ten = caught(() => checkFrame(frame([2981, 2982, 2983, 3001, 2990, 2981], 3)));
    expect(ten.parts.fix).toContain("gain 0.1 and offset -273.15");
  });
  it("tells °C × 100 from kelvin × 10 where only one of them is a bench, and tells both where both are", () => {
    const advice = (value: number) =>
      caught(() => checkFrame(frame([value, value, value, value], 2))).parts.fix;
    // 24.83 °C, or 248.3 K, which is −24.9 °C.
    expect(advice(2483)).toMatch(
      /like °C × 100: give gain 0\.01 and offset 0, or like kelvin × 10: give gain 0\.1 and offset -273\.15/,
    );
    // 24.95 °C, or 29.81 °C.
    expect(advice(2981)).toMatch(/like kelvin × 10: .*, or like °C × 100: give gain 0\.01 and offset 0/);
    expect(advice(29815)).not.toContain("°C × 100");
  });
  it("advises on the scale for pictures, on the unit for the rest", () => {
    const picture = caught(() => checkFrame(frame([2981, 2982, 2983, 3001], 2, { stepK: 0.5 })));
    expect(picture.parts.fix).toContain("scale");
    const counts = caught(() => checkFrame(frame([8000, 8001, 8002, 8003], 2)));
    expect(counts.parts.fix).toContain("Check the unit (C, F or K) that was given or assumed");
  });
  it("refuses a frame without any reading", () => {
    expect(caught(() => checkFrame(frame([Number.NaN, Number.NaN, Number.NaN, Number.NaN], 2))).code).toBe(
      "E_FRAME_EMPTY",
    );
  });
  it("notes more than 1 % at an end of the scale, not 1 %", () => {
    const values = Array.from({ length: 200 }, () => 25);
    const at = (low: number, high: number) =>
      checkFrame(frame(values, 20, { file: "p.png", stepK: 0.1, saturated: { low, high } }));
    expect(at(2, 2)).toEqual([]);
    expect(at(0, 3).map((n) => [n.code, n.severity])).toEqual([["N_SATURATED", "warning"]]);
    expect(at(0, 3)[0]?.text).toContain("3 of 200 pixels (1.5 %) stand at the highest level");
    expect(at(7, 0)[0]?.text).toContain("7 of 200 pixels (3.5 %) stand at the lowest level");
    expect(at(7, 3)).toHaveLength(2);
  });
});
