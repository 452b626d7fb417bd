import { describe, expect, it } from "vitest";
import { createRowTable, scanRow } from "../../../src/frames/scan-rows.js";

function scan(text: string, separator = ",", decimal = "."): number[] {
  const table = createRowTable(0);
  const bytes = new TextEncoder().encode(text);
  const dialect = { separator: separator.charCodeAt(0), decimal: decimal.charCodeAt(0) };
  scanRow(table, bytes, 0, bytes.length, dialect);
  return [...table.values.subarray(0, table.used)];
}

describe("numbers", () => {
  // Number() is the reference: ECMA-262 asks it to round to the nearest double.
  it.each([
    "0",
    "-0",
    "7",
    "25.734",
    "0.1",
    "-273.15",
    "123456789",
    "1234567890",
    "999999999999999",
    "9007199254740993",
    "0.000001",
    "1e22",
    "1e23",
    "-1.5e-22",
    "1.5e-23",
    "8.41e21",
    "9.214843084008499",
    "17976931348623157e292",
    "4.9e-324",
    "0.30000000000000004",
    "5.0e-1",
    "000021.50",
    "21.5000000000000000000000000001",
    "1e-400",
  ])("%s is the double nearest to it", (text) => {
    expect(scan(`${text},${text}`)).toEqual([Number(text), Number(text)]);
    expect(scan(text.replace(".", ","), ";", ",")).toEqual([Number(text)]);
  });

  it("agrees with Number on many random writings", () => {
    let state = 12345;
    const random = () => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return state / 2 ** 32;
    };
    for (let i = 0; i < 5000; i++) {
      const value = (random() - 0.5) * 10 ** Math.floor(random() * 12 - 4);
      const style = i % 4;
      const digits = Math.floor(random() * 17);
      const text =
        style === 0
          ? value.toFixed(digits)
          : style === 1
            ? value.toExponential(digits)
            : style === 2
              ? `${value}`
              : value.toPrecision(digits + 1);
      expect(scan(text), text).toEqual([Number(text)]);
    }
  });

  it("reads no number into halves of one", () => {
    for (const text of ["e5", "1e", "1e+", ".", "-", "+", "1.2.3", "1-2", "0x1F", "1_000", "12:30", "1e5x"]) {
      const table = createRowTable(0);
      const bytes = new TextEncoder().encode(`1,${text},2`);
      scanRow(table, bytes, 0, bytes.length, { separator: 44, decimal: 46 });
      expect([table.counts[0], table.numerics[0], table.values[1]], text).toEqual([3, 2, Number.NaN]);
    }
  });

  it("grows its table as far as a row needs", () => {
    const row = Array.from({ length: 1000 }, (_, i) => i + 0.5);
    expect(scan(row.join("\t"), "\t")).toEqual(row);
  });
});
