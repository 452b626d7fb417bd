import { describe, expect, it } from "vitest";
import {
  formatPositive,
  formatPower,
  formatPowerSize,
  formatProbability,
  formatQuantity,
  formatResistance,
  formatSeconds,
  formatSignificant,
  formatToSigma,
} from "../../../src/core/format-quantity.js";

describe("formatQuantity", () => {
  // The two examples of the Particle Data Group's rule (Review of Particle Physics, Introduction, "Rounding"; quoted
  // from memory): 0.827 ± 0.119 is written 0.83 ± 0.12, and 0.827 ± 0.367 is written 0.8 ± 0.4.
  it.each([
    [0.827, 0.119, "0.83 ± 0.12 W"],
    [0.827, 0.367, "0.8 ± 0.4 W"],
  ])("writes %d ± %d as the published rule does", (value, sigma, text) => {
    expect(formatQuantity(value, sigma, "W").text).toBe(text);
  });

  // By the same rule, either side of its limits 354/355 and 949/950, and in other decades.
  it.each([
    [12.3456, 0.354, "12.35 ± 0.35 K"],
    [12.3456, 0.355, "12.3 ± 0.4 K"],
    [12.3456, 0.949, "12.3 ± 0.9 K"],
    [12.3456, 0.95, "12.3 ± 1.0 K"],
    [12.3456, 0.96, "12.3 ± 1.0 K"],
    [1234, 56, "1230 ± 60 K"],
    [1234, 156, "1230 ± 160 K"],
    [-0.31, 0.05, "−0.31 ± 0.05 K"],
  ])("writes %d ± %d", (value, sigma, text) => {
    expect(formatQuantity(value, sigma, "K").text).toBe(text);
  });

  it("writes no minus before what rounds to zero", () => {
    expect(formatQuantity(-0.001, 0.4, "K").text).toBe("0.0 ± 0.4 K");
  });

  it("gives three digits where the uncertainty is not known, and a dash where the value is not", () => {
    expect(formatQuantity(6.1234, null, "K").text).toBe("6.12 K");
    expect(formatQuantity(6.1234, 0, "K").text).toBe("6.12 K");
    expect(formatQuantity(6.1234, Number.NaN, "K").text).toBe("6.12 K");
    expect(formatQuantity(null, 0.1, "K").text).toBe("–");
    expect(formatQuantity(Number.NaN, 0.1, "K").text).toBe("–");
  });

  it("keeps the uncertainty to itself when asked to", () => {
    expect(formatToSigma(6.1234, 0.05, "K")).toBe("6.12 K");
    expect(formatToSigma(null, 0.05, "K")).toBe("–");
  });
});

describe("formatSignificant", () => {
  it.each([
    [0.012345, 2, "0.012"],
    [12345, 2, "12345"],
    [0, 3, "0"],
    [-0.5, 1, "−0.5"],
    [1e-9, 2, "1.0e-9"],
    // Rounding that carries into a further place keeps the number of digits.
    [9.96, 2, "10"],
    [0.0996, 2, "0.10"],
    [99.96, 3, "100"],
    [-0.96, 1, "−1"],
    [999.6, 2, "1000"],
  ])("writes %d with %d digits", (value, digits, text) => {
    expect(formatSignificant(value, digits)).toBe(text);
  });
});

describe("formatPower", () => {
  it("takes milliwatts below a tenth of a watt", () => {
    expect(formatPower(0.244, 0.03).text).toBe("0.244 ± 0.030 W");
    expect(formatPower(0.00303, 0.00015).text).toBe("3.03 ± 0.15 mW");
    expect(formatPower(0.0998, null).text).toBe("99.8 mW");
    expect(formatPower(0, null).text).toBe("0 W");
    // A watt's uncertainty reads badly in milliwatts.
    expect(formatPower(0.05, 0.3).text).toBe("0.05 (0 to 0.35) W");
    expect(formatPower(null, null).text).toBe("–");
  });

  it("says an interval that would reach below nothing as a range, up to what there can be", () => {
    expect(formatPower(0.07, 0.09).text).toBe("70 (0 to 160) mW");
    expect(formatPower(0.091, 0.163).text).toBe("0.09 (0 to 0.25) W");
    expect(formatPower(0.159, 0.163).text).toBe("0.16 (0 to 0.32) W");
    expect(formatPower(0.159, 0.163, 0.25).text).toBe("0.16 (0 to 0.25) W");
    expect(formatPower(0.07, 0.09, 0.124).text).toBe("70 (0 to 120) mW");
    expect(formatPower(0.12, 0.11).text).toBe("0.12 ± 0.11 W");
    expect(formatPower(0, 0.01).text).toBe("0 to 10 mW");
    expect(formatPower(0.003, 0.3).text).toBe("0 to 0.30 W");
  });
});

describe("formatPositive", () => {
  it("leaves alone what is below zero already, and what is not known", () => {
    expect(formatPositive(36.4, 65.2, "%").text).toBe("40 (0 to 100) %");
    expect(formatPositive(74, 14, "%").text).toBe("74 ± 14 %");
    expect(formatPositive(-0.31, 0.5, "W").text).toBe("−0.3 ± 0.5 W");
    expect(formatPositive(6.1234, null, "W").text).toBe("6.12 W");
    expect(formatPositive(null, 0.1, "W").text).toBe("–");
  });
});

describe("formatPowerSize", () => {
  it("takes two digits, and milliwatts below a tenth of a watt", () => {
    expect(formatPowerSize(0.1374)).toBe("0.14 W");
    expect(formatPowerSize(0.03261)).toBe("33 mW");
    expect(formatPowerSize(0.00202)).toBe("2.0 mW");
    expect(formatPowerSize(0)).toBe("0 W");
    expect(formatPowerSize(Number.NaN)).toBe("–");
  });
});

describe("formatResistance", () => {
  it("takes two digits, and milliohms below a tenth of an ohm", () => {
    expect(formatResistance(0.6)).toBe("0.60 Ω");
    expect(formatResistance(0.0478)).toBe("48 mΩ");
    expect(formatResistance(213.4)).toBe("213 Ω");
    expect(formatResistance(Number.POSITIVE_INFINITY)).toBe("–");
  });
});

describe("formatSeconds", () => {
  it.each([
    [20, "20 s"],
    [0.02, "0.02 s"],
    [2.875, "2.88 s"],
    [100, "100 s"],
    [1234.5, "1235 s"],
    [0.0001, "0.0001 s"],
    [1e-7, "1.00e-7 s"],
  ])("writes %d as it was told, to three digits", (seconds, text) => {
    expect(formatSeconds(seconds)).toBe(text);
  });
});

describe("formatProbability", () => {
  it.each([
    [0, "< 1 %"],
    [0.0099, "< 1 %"],
    [0.01, "1 %"],
    [0.914, "91 %"],
    [0.99, "99 %"],
    [0.9949, "> 99 %"],
    [1, "> 99 %"],
    [Number.NaN, "–"],
  ])("never calls %d certain", (probability, text) => {
    expect(formatProbability(probability)).toBe(text);
  });
});
