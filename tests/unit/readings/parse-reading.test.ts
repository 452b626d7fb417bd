import { describe, expect, it } from "vitest";
import { parseExpected, parseTolerance } from "../../../src/readings/parse-expected.js";
import { parseReading } from "../../../src/readings/parse-reading.js";

const OVER = { value: null, overRange: true };

describe("parseReading", () => {
  it.each([
    ["0.45", "diode", 0.45],
    ["0,45", "diode", 0.45],
    [".45", "diode", 0.45],
    ["450 mV", "diode", 0.45],
    ["450mV", "diode", 0.45],
    ["-0.3", "diode", -0.3],
    ["−0.3 V", "diode", -0.3],
    ["+0.3", "voltage", 0.3],
    ["1V8", "voltage", 1.8],
    ["1.2k", "resistance", 1200],
    ["1,2 K", "resistance", 1200],
    ["4k7", "resistance", 4700],
    ["2R2", "resistance", 2.2],
    ["0R1", "resistance", 0.1],
    ["12R", "resistance", 12],
    ["12 Ω", "resistance", 12],
    ["12 \u2126", "resistance", 12],
    ["12 Ohm", "resistance", 12],
    ["1.2 MΩ", "resistance", 1.2e6],
    ["1.2 mΩ", "resistance", 0.0012],
    ["0", "resistance", 0],
    ["120 mA", "current", 0.12],
    ["85 µA", "current", 8.5e-5],
  ])("reads %s in %s mode", (raw, measure, value) => {
    expect(parseReading(raw, measure as "diode")).toEqual({ value, overRange: false, assumed: null });
  });

  it.each(["OL", "0L", "ol", "O.L", "O.L.", "0.L", ".0L", "open", "overload", "over-range", "∞"])(
    "reads %s as over-range",
    (raw) => {
      expect(parseReading(raw, "diode")).toMatchObject(OVER);
    },
  );

  it("takes a bare whole number for millivolts in diode mode, and says so", () => {
    const { value, assumed } = parseReading("453", "diode");
    expect(value).toBe(0.453);
    expect(assumed).toContain("millivolts");
    expect(parseReading("453", "resistance")).toMatchObject({ value: 453, assumed: null });
  });

  it("says that a comma before three digits is a decimal mark", () => {
    const { value, assumed } = parseReading("1,234", "resistance");
    expect(value).toBe(1.234);
    expect(assumed).toContain("decimal mark");
  });

  it.each([
    ["", "diode"],
    ["abc", "diode"],
    ["12 Ω", "diode"],
    ["0.4 V", "resistance"],
    ["1.234,5", "resistance"],
    ["1.", "resistance"],
    ["7.5", "diode"],
    ["12", "diode"],
    ["450 MV", "diode"],
    ["450 V", "diode"],
    ["0.40-0.45", "diode"],
    ["0.4 0.5", "diode"],
    ["NaN", "diode"],
    ["1e999", "resistance"],
  ])("refuses %j in %s mode with its reason", (raw, measure) => {
    expect(() => parseReading(raw, measure as "diode")).toThrow(/^E_READING_VALUE: .*was expected/);
  });
});

describe("parseExpected", () => {
  it.each([
    ["0.40-0.45", "diode", { value: 0.4, upTo: 0.45 }],
    ["0,40–0,45 V", "diode", { value: 0.4, upTo: 0.45 }],
    ["400 … 450 mV", "diode", { value: 0.4, upTo: 0.45 }],
    ["450 to 400 mV", "diode", { value: 0.4, upTo: 0.45 }],
    ["1..2 kΩ", "resistance", { value: 1000, upTo: 2000 }],
    ["800 Ω - 1.2k", "resistance", { value: 800, upTo: 1200 }],
    ["-0.3--0.2", "voltage", { value: -0.3, upTo: -0.2 }],
    ["-0.3", "voltage", { value: -0.3 }],
    ["0.45 ± 0.02", "diode", { value: 0.45, tolerance: 0.02 }],
    ["450 mV +/- 20", "diode", { value: 0.45, tolerance: 0.02 }],
    ["450 ± 5", "diode", { value: 0.45, tolerance: 0.005 }],
    ["0,45 ±5 %", "diode", { value: 0.45, toleranceShare: 0.05 }],
    ["OL", "diode", { value: null, overRange: true }],
  ])("reads %s in %s mode", (raw, measure, expected) => {
    const parsed = parseExpected(raw, measure as "diode");
    expect(parsed).toMatchObject(expected);
    expect(Object.keys(parsed).includes("upTo")).toBe("upTo" in expected);
  });

  it("refuses a unit behind a range that fits one end alone", () => {
    // 900 Ω to 1.2 kΩ is meant, 900 kΩ to 1.2 kΩ is what stands there.
    expect(() => parseExpected("900-1.2k", "resistance")).toThrow(/^E_READING_VALUE: .*"900-1.2k"/);
    expect(() => parseExpected("2-1 kΩ", "resistance")).toThrow(/^E_READING_VALUE: /);
    expect(parseExpected("900 Ω-1.2k", "resistance")).toMatchObject({ value: 900, upTo: 1200 });
    expect(parseExpected("0.9-1.2k", "resistance")).toMatchObject({ value: 900, upTo: 1200 });
  });

  it("refuses a range of whose bare ends one would be volts and the other millivolts", () => {
    expect(() => parseExpected("3-450", "diode")).toThrow(/^E_READING_VALUE: .*"3-450"/);
    expect(parseExpected("3-450 mV", "diode")).toMatchObject({ value: 0.003, upTo: 0.45 });
    expect(parseExpected("400-450", "diode")).toMatchObject({ value: 0.4, upTo: 0.45 });
    expect(parseExpected("0-450", "diode")).toMatchObject({ value: 0, upTo: 0.45 });
  });

  it.each(["0.4-", "-", "OL-0.5", "0.4 ± OL", "0.4 ± 300 %", "low"])("refuses %j", (raw) => {
    expect(() => parseExpected(raw, "diode")).toThrow(/^E_READING_VALUE: /);
  });

  it("reads a tolerance as a share or in the measure's unit", () => {
    expect(parseTolerance("12,5 %", "diode")).toEqual({ toleranceShare: 0.125 });
    expect(parseTolerance("±20 mV", "diode")).toEqual({ tolerance: 0.02 });
  });
});
