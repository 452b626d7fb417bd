import { describe, expect, it } from "vitest";
import { convertTyped } from "../../../../src/page/show/convert-typed.js";
import { readNumber } from "../../../../src/page/show/read-number.js";
import { markDecimals } from "../../../../src/page/show/show-number.js";
import { riseText, temperatureText } from "../../../../src/page/show/show-temperature.js";

describe("markDecimals", () => {
  it("leaves points where they are read", () => {
    expect(markDecimals("0.244 ± 0.030 W", ".")).toBe("0.244 ± 0.030 W");
  });

  it.each([
    ["0.244 ± 0.030 W", "0,244 ± 0,030 W"],
    ["C6 is the source (> 99 %), 4.03 K.", "C6 is the source (> 99 %), 4,03 K."],
    ["at 22.7, 15.1 mm", "at 22,7, 15,1 mm"],
    ["−3.1 σ, 3.70 V×0.198 A", "−3,1 σ, 3,70 V×0,198 A"],
    ["It is 0.5.", "It is 0,5."],
  ])("marks all numbers of %j", (text, marked) => {
    expect(markDecimals(text, ",")).toBe(marked);
  });

  it.each(["frame-1.2.csv", "attempt-2/frame-1.png", "faultglow 0.0.1", "2026-03-09 14:05"])(
    "leaves %j alone: no number with decimals",
    (text) => {
      expect(markDecimals(text, ",")).toBe(text);
    },
  );
});

describe("readNumber", () => {
  it.each([
    ["0.45", 0.45],
    ["0,45", 0.45],
    [" 12 ", 12],
    ["−3,5", -3.5],
    ["1 250,5", 1250.5],
    [".5", 0.5],
    ["7.", 7],
  ])("reads %j", (typed, value) => {
    expect(readNumber(typed)).toBe(value);
  });

  it.each(["", "1.234,5", "1,234.5", "abc", "4k7", "1e3", "--1", "."])("refuses %j", (typed) => {
    expect(readNumber(typed)).toBeNull();
  });
});

describe("temperatureText", () => {
  it("words °C and °F, by 0 °C = 32 °F and 100 °C = 212 °F", () => {
    expect(temperatureText(100, "C")).toBe("100.0 °C");
    expect(temperatureText(100, "F")).toBe("212.0 °F");
    expect(temperatureText(-20, "F", 0)).toBe("−4 °F");
    expect(temperatureText(Number.NaN, "C")).toBe("no reading");
  });

  it("shows no minus before a zero", () => {
    expect(temperatureText(-0.04, "C")).toBe("0.0 °C");
  });

  it("keeps rises in kelvins, and adds °F as a difference", () => {
    expect(riseText(2.5, "C")).toBe("2.50 K");
    expect(riseText(-2.5, "F")).toBe("−2.50 K (−4.50 °F)");
  });
});

describe("what was typed in another unit", () => {
  it("is the same temperature in this one, and stays as it was typed in its own", () => {
    // NIST SP 811, B.8: °F = 1.8 · °C + 32.
    expect(convertTyped({ text: "15,5", unit: "C" }, "F")).toBe("59.9");
    expect(convertTyped({ text: "−40", unit: "C" }, "F")).toBe("-40");
    expect(convertTyped({ text: "212", unit: "F" }, "C")).toBe("100");
    expect(convertTyped({ text: "15,50", unit: "C" }, "C")).toBe("15,50");
    // Whoever is still typing loses nothing.
    expect(convertTyped({ text: "-", unit: "C" }, "F")).toBe("-");
    expect(convertTyped({ text: "1.234,5", unit: "F" }, "C")).toBe("1.234,5");
  });
});
