import { describe, expect, it } from "vitest";
import { kindOfRef } from "../../../src/import/kind-of-ref.js";
import { packageSize } from "../../../src/import/package-size.js";

const extents = (name: string, codes?: "imperial" | "metric") => {
  const size = packageSize(name, codes);
  return size === null ? null : [size.xMm, size.yMm];
};

describe("packageSize", () => {
  it.each([
    ["0402", [1, 0.5]],
    ["C0402", [1, 0.5]],
    ["RES-0603", [1.6, 0.8]],
    ["chips:0201-0603-metric", [0.6, 0.3]],
    ["01005", [0.4, 0.2]],
    ["C_1005_M", [1, 0.5]],
    ["1608M", [1.6, 0.8]],
    // A code that is metric only needs no word for it.
    ["2012", [2, 1.25]],
  ])("reads the chip code of %s", (name, size) => expect(extents(name)).toEqual(size));

  it("reads a code of both systems as it is told to", () => {
    expect(extents("0603", "imperial")).toEqual([1.6, 0.8]);
    expect(extents("0603", "metric")).toEqual([0.6, 0.3]);
    expect(extents("chip 0603, 1608 metric", "metric")).toEqual([1.6, 0.8]);
  });

  it.each([
    ["CAPC1005X55N", [1, 0.5]],
    ["RESC3216X60L", [3.2, 1.6]],
    ["QFN50P500X400X80-28N", [5, 4]],
    ["SOIC127P600X175-8N", [3.9, 4.9]],
    ["SOIC127P1030X265-16N", [7.5, 10.3]],
    ["SOP65P640X120-20N", [4.4, 6.5]],
    ["SOT95P280X145-5N", [1.6, 2.9]],
    ["QFP50P1200X1200X160-64N", [10, 10]],
  ])("reads the name %s by IPC-7351", (name, size) => expect(extents(name)).toEqual(size));

  it.each([
    ["QFN-32 5x4mm, pitch 0.5mm", [5, 4]],
    ["leadless/DFN-8 2x3", [2, 3]],
    ["Inductor 4.0 x 3.2 mm", [4, 3.2]],
    ["Elec 6.3x5.4", [6.3, 6.3]],
    ["header 2x05", null],
  ])("reads the size in %s", (name, size) => expect(extents(name)).toEqual(size));

  it.each([
    ["sot23", [1.3, 2.9]],
    ["small: SOT-23-5, long pads", [1.6, 2.9]],
    ["SOT-23", [1.3, 2.9]],
    ["diodes:D_SMA", [4.3, 2.6]],
    ["SMA", [4.3, 2.6]],
    ["small: SOIC-8 with a pad below", [3.9, 4.9]],
  ])("finds %s in the table of sizes", (name, size) => expect(extents(name)).toEqual(size));

  it("says nothing of a name that says nothing", () => {
    expect(["", "FOO", "XYZ-12345", "R99"].map((name) => extents(name))).toEqual([null, null, null, null]);
  });

  it("takes sizes that are given before all others", () => {
    expect(packageSize("sot 23", "imperial", { "SOT-23": { widthMm: 7, heightMm: 5 } })).toEqual({
      xMm: 7,
      yMm: 5,
      source: "given",
    });
  });

  it("names the source of every size", () => {
    for (const name of ["0402", "SOT-23", "SMB", "LQFP-48", "CAPC1005X55N"]) {
      expect(packageSize(name)?.source, name).toMatch(/IEC|EIA|JEDEC|IPC/);
    }
  });
});

describe("kindOfRef", () => {
  it.each([
    ["C12", "passive"],
    ["FB3", "passive"],
    ["u7", "ic"],
    ["Q1", "ic"],
    ["J2", "connector"],
    ["SH1", "shield"],
    ["Y1", "other"],
    ["ZZ9", undefined],
    ["7", undefined],
    ["constructor1", undefined],
  ])("takes %s for %s", (ref, kind) => expect(kindOfRef(ref)).toBe(kind));
});
