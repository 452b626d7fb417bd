import { describe, expect, it } from "vitest";
import { parseReadingTable } from "../../../src/readings/parse-reading-table.js";
import { readingSchema, referenceSchema } from "../../../src/readings/reading-schema.js";
import { splitReferences } from "../../../src/readings/split-references.js";

const bytes = (text: string) => new TextEncoder().encode(text);
const read = (text: string) => parseReadingTable(bytes(text), "refs.csv");

describe("parseReadingTable", () => {
  it("reads a table with a row of names", () => {
    const { references, assumed } = read(
      "Net,Pin,Mode,Expected,Tolerance,Low by nature\r\nVSYS,C7.1,diode,0.45,10%,\r\nVCORE,,resistance,3.2 Ω,,yes\r\n",
    );
    expect(assumed).toEqual([]);
    expect(references).toEqual([
      {
        net: "VSYS",
        pin: "C7.1",
        measure: "diode",
        value: 0.45,
        overRange: false,
        toleranceShare: 0.1,
        raw: "0.45",
        source: "refs.csv",
      },
      {
        net: "VCORE",
        measure: "resistance",
        value: 3.2,
        overRange: false,
        raw: "3.2 Ω",
        lowByNature: true,
        source: "refs.csv",
      },
    ]);
    for (const reference of references) expect(referenceSchema.parse(reference)).toEqual(reference);
  });

  it.each([
    ["comma with quotes", 'net,value\nVSYS,"0,45"\n"VDD, ""IO""",OL'],
    ["semicolon", 'net;value\nVSYS;0,45\nVDD, "IO";OL'],
    ["tab", 'net\tvalue\nVSYS\t0,45\nVDD, "IO"\tOL'],
    ["bar", 'net|value\nVSYS | 0.45\nVDD, "IO" | OL\n\n'],
  ])("reads fields parted by %s", (_, text) => {
    expect(read(text).references.map(({ net, value }) => [net, value])).toEqual([
      ["VSYS", 0.45],
      ['VDD, "IO"', null],
    ]);
  });

  it("guesses columns without names, and says so", () => {
    const { references, assumed } = read("3V3,U4.5,0.412,5%\nVBUS,J1.2,OL,\n");
    expect(references).toMatchObject([
      { net: "3V3", pin: "U4.5", measure: "diode", value: 0.412, toleranceShare: 0.05 },
      { net: "VBUS", pin: "J1.2", measure: "diode", value: null },
    ]);
    expect(assumed.join(" ")).toContain("net, pin, value, tolerance");
    expect(assumed.join(" ")).toContain("diode mode was taken");
  });

  it("takes unit and measure from the head of the column", () => {
    expect(read("rail;diode (mV)\nVSYS;5-8\nVIO;412").references).toMatchObject([
      { value: 0.005, upTo: 0.008, measure: "diode" },
      { value: 0.412 },
    ]);
    expect(read("rail;resistance [kΩ]\nVSYS;1,2").references).toMatchObject([
      { value: 1200, measure: "resistance" },
    ]);
  });

  it("takes every column of values, each by its own head", () => {
    const { references, readings, assumed } = read(
      "net;diode;resistance\nVSYS;0,30;\nSDA;452 mV;4k7\nGND;;0\n",
    );
    expect(references.map(({ net, measure, value }) => [net, measure, value])).toEqual([
      ["VSYS", "diode", 0.3],
      ["SDA", "diode", 0.452],
      ["SDA", "resistance", 4700],
      ["GND", "resistance", 0],
    ]);
    expect([readings, assumed]).toEqual([[], []]);
  });

  it("tells what this board showed from what a good one does", () => {
    const { references, readings } = read(
      "net,pin,mode,reading,expected,tolerance\nVSYS,1,diode,-12 mV,0.40-0.45,5%\nVIO,,diode,OL,,\n",
    );
    expect(readings).toEqual([
      { net: "VSYS", pin: "1", measure: "diode", value: -0.012, overRange: false, raw: "-12 mV" },
      { net: "VIO", measure: "diode", value: null, overRange: true, raw: "OL" },
    ]);
    expect(references).toMatchObject([{ net: "VSYS", value: 0.4, upTo: 0.45, toleranceShare: 0.05 }]);
    for (const reading of readings) expect(readingSchema.parse(reading)).toEqual(reading);
  });

  it("takes values of an unnamed sort for readings where it is told so, and a range for none", () => {
    const options = { unnamed: "reading" } as const;
    expect(parseReadingTable(bytes("VSYS\t0.41\nVIO\tOL\n"), "p", options)).toMatchObject({
      references: [],
      readings: [
        { net: "VSYS", value: 0.41 },
        { net: "VIO", overRange: true },
      ],
    });
    expect(() => parseReadingTable(bytes("net\tvalue\nVSYS\t0.40-0.45\n"), "p", options)).toThrow(
      /^E_REFERENCE_CELL: a reading in diode mode .*line 2, column 2/,
    );
  });

  it("says which columns it does not read", () => {
    const { references, assumed } = read("net,diode,colour,measured by\nVSYS,0.4,red,J\n");
    expect(references).toHaveLength(1);
    expect(assumed).toEqual(['what stands under "colour", "measured by" was left out']);
  });

  it("takes the sign of ohm for a head of resistances", () => {
    // U+03A9, and U+2126 as older programs write it.
    for (const head of ["Ω", "\u2126"])
      expect(read(`rail;${head}\nVSYS;4,7`).references).toMatchObject([
        { value: 4.7, measure: "resistance" },
      ]);
  });

  it("refuses many rows without a value, as it refuses few", () => {
    expect(() => read("VSYS\n".repeat(200_000))).toThrow(/^E_REFERENCE_TABLE: .*no column of values/);
  });

  it("reads UTF-16, and Latin-1 where UTF-8 does not fit", () => {
    const text = "net;value\nGÜTE;0,45\n";
    const wide = new Uint8Array(2 + 2 * text.length);
    wide.set([0xff, 0xfe]);
    for (const [i, c] of [...text].entries())
      wide.set([c.charCodeAt(0) & 255, c.charCodeAt(0) >> 8], 2 + 2 * i);
    expect(parseReadingTable(wide).references).toMatchObject([{ net: "GÜTE", value: 0.45 }]);
    const narrow = Uint8Array.from([...text], (c) => c.charCodeAt(0));
    expect(parseReadingTable(narrow).references).toMatchObject([{ net: "GÜTE", value: 0.45 }]);
  });

  it.each([
    ["", "no row of values"],
    ["net,value\n", "no row of values"],
    ["net,pin\nVSYS,1\n", "no column of values"],
    ["value,tolerance\n0.4,5%\n", "no column of nets or parts"],
  ])("refuses %j", (text, reason) => {
    expect(() => read(text)).toThrow(new RegExp(`^E_REFERENCE_TABLE: .*${reason}`));
  });

  it.each([
    ["net,value\nVSYS,0.4\nVIO,abc\n", /"abc" \(refs\.csv, line 3, column 2\)/],
    ["net,mode,value\nVSYS,hot,0.4\n", /diode, resistance.*"hot".*line 2, column 2/],
    ["net,mode,value\nVSYS,constructor,OL\n", /diode, resistance.*"constructor".*line 2, column 2/],
    ["net,value,tolerance\nVSYS,0.4,much\n", /tolerance.*"much".*line 2, column 3/],
    ["net,reading,expected\nVSYS,0.4,abc\n", /value in diode mode.*"abc".*line 2, column 3/],
    ["net,reading,expected\nVSYS,,\n", /reading in diode mode.*nothing.*line 2, column 2/],
    ["net,value\n,0.4\n", /name of a net.*nothing.*line 2, column 1/],
    ["net,value,low by nature\nVSYS,0.4,perhaps\n", /yes or no.*column 3/],
  ])("says where a cell of %j can't be understood", (text, pattern) => {
    expect(() => read(text)).toThrow(pattern);
    expect(() => read(text)).toThrow(/^E_REFERENCE_CELL/);
  });

  it("names the line of a quote that never closes", () => {
    expect(() => read('net,value\nVSYS,"0.4\n')).toThrow(/^E_TEXT_QUOTE: .*line 2/);
  });
});

describe("splitReferences", () => {
  // RFC 4180 §2, items 1, 2, 5, 6 and 7, as published.
  it.each([
    [
      "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
      [
        ["aaa", "bbb", "ccc"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    [
      "aaa,bbb,ccc\r\nzzz,yyy,xxx",
      [
        ["aaa", "bbb", "ccc"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    [
      '"aaa","bbb","ccc"\r\nzzz,yyy,xxx',
      [
        ["aaa", "bbb", "ccc"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    [
      '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx',
      [
        ["aaa", "b\r\nbb", "ccc"],
        ["zzz", "yyy", "xxx"],
      ],
    ],
    ['"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]],
  ])("splits %j", (text, rows) => {
    expect(splitReferences(text).map(({ fields }) => fields)).toEqual(rows);
  });

  it("leaves nothing of a field out that stands behind its closing quote", () => {
    expect(splitReferences('net,value\n"VSYS","0.45" V\n').at(-1)!.fields).toEqual(["VSYS", "0.45 V"]);
  });

  it("counts lines inside quotes, and leaves out blank lines and remarks", () => {
    const rows = splitReferences('# made by hand\n"a\nb",1\n\nc,2\n');
    expect(rows.map(({ line }) => line)).toEqual([2, 5]);
  });
});
