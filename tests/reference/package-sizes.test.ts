// Body sizes of packages against published lists that the table was not made from.
import { describe, expect, it } from "vitest";
import { packageSize } from "../../src/import/package-size.js";
import { CHIP_SIZES } from "../../src/import/package-sizes.js";

describe("chips", () => {
  // Maker's data sheet of thick film chip resistors, rated dimensions (RND 155 series, page 3): L and W in mm with
  // their tolerances. The 1206 and 1210 of that maker are 3.10 long where the standard has 3.20.
  const sheet: readonly (readonly [string, number, number, number, number])[] = [
    ["0201", 0.6, 0.03, 0.3, 0.03],
    ["0402", 1.0, 0.1, 0.5, 0.05],
    ["0603", 1.6, 0.1, 0.8, 0.15],
    ["0805", 2.0, 0.15, 1.25, 0.15],
    ["1206", 3.1, 0.15, 1.55, 0.15],
    ["1210", 3.1, 0.1, 2.6, 0.2],
    ["1812", 4.5, 0.2, 3.2, 0.2],
    ["2010", 5.0, 0.1, 2.5, 0.2],
    ["2512", 6.35, 0.1, 3.2, 0.15],
  ];
  it.each(sheet)("%s lies within the tolerances of a maker's data sheet", (code, l, dl, w, dw) => {
    const size = packageSize(code)!;
    // 1e-9: sums such as 3.1 + 0.1 are not exact in binary.
    expect(Math.abs(size.xMm - l)).toBeLessThanOrEqual(dl + 1e-9);
    expect(Math.abs(size.yMm - w)).toBeLessThanOrEqual(dw + 1e-9);
  });

  it("have the tenths of a millimetre that their metric code says", () => {
    // By a maker's note on size codes (KOA, product size indication of flat chip resistors) the first two digits are
    // the length and the last two the width, in tenths of a millimetre. A code has no more digits: 1.25 is written 12
    // and 0.25 is 02, so half a unit of the last digit is allowed, 0.05 mm.
    expect(CHIP_SIZES.length).toBeGreaterThan(15);
    for (const [, metric, { xMm, yMm }] of CHIP_SIZES) {
      expect(Math.abs(xMm - Number(metric.slice(0, 2)) / 10), metric).toBeLessThanOrEqual(0.05 + 1e-9);
      expect(Math.abs(yMm - Number(metric.slice(2)) / 10), metric).toBeLessThanOrEqual(0.05 + 1e-9);
    }
  });

  it("have the hundredths of an inch that their imperial code says, as far as it goes", () => {
    // By the same note in hundredths of an inch. These codes were rounded hard (0.063 inch became 06), so that a
    // hundredth of an inch and a little is allowed: 0.26 mm.
    for (const [imperial, , { xMm, yMm }] of CHIP_SIZES) {
      if (imperial.length !== 4 || imperial === "6432") continue;
      expect(Math.abs(xMm - Number(imperial.slice(0, 2)) * 0.254), imperial).toBeLessThanOrEqual(0.26);
      expect(Math.abs(yMm - Number(imperial.slice(2)) * 0.254), imperial).toBeLessThanOrEqual(0.26);
    }
  });
});

describe("packages with leads", () => {
  // Names of footprints of the open footprint library of KiCad (folders Package_SO and Package_QFP), which carry the
  // nominal body: extent along x, then along y, at the orientation of IEC 61188-7.
  it.each([
    ["SOIC-8", 3.9, 4.9],
    ["SOIC-16W", 7.5, 10.3],
    ["SOIC-28W", 7.5, 17.9],
    ["TSSOP-14", 4.4, 5],
    ["TSSOP-16", 4.4, 5],
    ["TSSOP-20", 4.4, 6.5],
    ["TSSOP-24", 4.4, 7.8],
    ["TSSOP-28", 4.4, 9.7],
    ["TSSOP-56", 6.1, 14],
    ["MSOP-8", 3, 3],
    ["QSOP-16", 3.9, 4.9],
    ["SSOP-20", 5.3, 7.2],
    ["LQFP-64", 10, 10],
    ["LQFP-144", 20, 20],
  ])("%s has the body that an open footprint library names", (name, xMm, yMm) => {
    expect(packageSize(name)).toMatchObject({ xMm, yMm });
  });

  it("SO-16 lies within a maker's outline drawing", () => {
    // Diodes Incorporated, package outline SO-16: D 9.80–10.00, E 3.80–4.00 mm.
    const size = packageSize("SO-16")!;
    expect(size.yMm).toBeGreaterThanOrEqual(9.8);
    expect(size.yMm).toBeLessThanOrEqual(10);
    expect(size.xMm).toBeGreaterThanOrEqual(3.8);
    expect(size.xMm).toBeLessThanOrEqual(4);
  });

  it.each([
    // Body length by a distributor's list of surface-mount outlines (Bomir, SMT transistors); body width of SOT-23 and
    // of its relatives with five and six leads by a note on the JEDEC drawings (TO-236 AB 1.30, MO-178 1.60 mm).
    ["SOT-23", 2.9, 1.3],
    ["SOT-23-5", 2.9, 1.6],
    ["SOT-23-6", 2.9, 1.6],
    ["SOT-143", 2.9, null],
    ["SOT-323", 2.0, null],
    ["SOT-89", 4.5, null],
    ["SOT-223", 6.5, null],
    ["SC-75A", 1.6, null],
  ])("%s is %s mm long", (name, lengthMm, widthMm) => {
    const size = packageSize(name)!;
    expect(size.yMm).toBe(lengthMm);
    if (widthMm !== null) expect(size.xMm).toBe(widthMm);
  });
});
