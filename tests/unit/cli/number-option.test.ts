import { describe, expect, it } from "vitest";
import { numberOption } from "../../../src/cli/number-option.js";

describe("numberOption", () => {
  const rate = numberOption("--rate", { what: "a rate in Hz", above: 0, atMost: 1000 });

  it.each([
    ["9", 9],
    ["8.7", 8.7],
    [".5", 0.5],
    ["1e2", 100],
    ["+27", 27],
    ["1000", 1000],
    ["8,7", 8.7],
    [",5", 0.5],
    ["0,125", 0.125],
    ["1,5e2", 150],
  ])("reads %s", (word, value) => {
    expect(rate(word)).toBe(value);
  });

  it.each([
    ["1,250", "Write 1.250, or 1250 if the comma parts thousands"],
    ["1,2,3", "Write a number"],
    ["1.2,3", "Write a number"],
    [",", "Write a number"],
    ["9Hz", "without its unit"],
    ["", "Write a number"],
    ["0x10", "Write a number"],
    ["Infinity", "Write a number"],
    ["NaN", "Write a number"],
    ["0", "above 0 and at most 1000"],
    ["-3", "above 0"],
    ["1001", "at most 1000"],
    ["1e999", "above 0 and at most 1000"],
  ])("refuses %s and says what to write", (word, fix) => {
    expect(() => rate(word)).toThrow(`E_USAGE: --rate needs a rate in Hz, found "${word}"`);
    expect(() => rate(word)).toThrow(fix);
  });

  it("refuses an infinite number even where any finite one will do", () => {
    expect(() => numberOption("--offset", { what: "a number" })("1e999")).toThrow("finite");
  });

  it("takes whole numbers alone where something is counted", () => {
    const count = numberOption("--view-from", { what: "the number of an attempt", whole: true });
    expect([count("1"), count("12"), count("3.0")]).toEqual([1, 12, 3]);
    for (const word of ["2.5", "0", "-1", "1,5", "two", "1e300"]) {
      expect(() => count(word)).toThrow(
        `--view-from needs the number of an attempt, found "${word}". Give a whole number from 1 up.`,
      );
    }
  });
});
