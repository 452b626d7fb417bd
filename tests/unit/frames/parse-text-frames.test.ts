import { describe, expect, it } from "vitest";
import { parseTextFrames, type TextFrameOptions } from "../../../src/frames/parse-text-frames.js";
import { caught } from "./caught.js";

const bytes = (text: string) => new TextEncoder().encode(text);
const read = (text: string, options: TextFrameOptions = {}) => parseTextFrames(bytes(text), options);
/** Values of the frames, single precision undone at four decimals: all inputs here have at most three. */
const values = (text: string, options: TextFrameOptions = {}) =>
  read(text, options).rasters.map((r) => Array.from(r.data, (v) => Math.round(v * 1e4) / 1e4));
const codes = (text: string, options: TextFrameOptions = {}) => read(text, options).notes.map((n) => n.code);

/** 3 columns, 2 rows. */
const MATRIX = [21.5, 22.25, -3.125, 24, 25.5, 26.75];

describe("styles of a text matrix", () => {
  const styles: [string, string][] = [
    ["comma, LF", "21.5,22.25,-3.125\n24,25.5,26.75\n"],
    ["comma, CR LF, no last line end", "21.5,22.25,-3.125\r\n24,25.5,26.75"],
    ["comma, CR", "21.5,22.25,-3.125\r24,25.5,26.75\r"],
    ["comma, CR CR LF", "21.5,22.25,-3.125\r\r\n24,25.5,26.75\r\r\n"],
    ["comma and blanks", "21.5, 22.25, -3.125\n24, 25.5 ,26.75\n"],
    ["semicolon, point", "21.5;22.25;-3.125\n24;25.5;26.75\n"],
    ["semicolon, decimal comma", "21,5;22,25;-3,125\n24;25,5;26,75\n"],
    ["TAB, point", "21.5\t22.25\t-3.125\n24\t25.5\t26.75\n"],
    ["TAB, decimal comma", "21,5\t22,25\t-3,125\n24\t25,5\t26,75\n"],
    ["one blank", "21.5 22.25 -3.125\n24 25.5 26.75\n"],
    ["columns of blanks", "   21.500  22.250   -3.125  \n   24.000  25.500   26.750\n"],
    ["blanks, decimal comma", "21,5 22,25 -3,125\n24 25,5 26,75\n"],
    ["blanks and TABs mixed", "21.5 22.25\t-3.125\n24\t25.5 26.75\n"],
    ["all quoted", '"21.5","22.25","-3.125"\n"24","25.5","26.75"\n'],
    ["quoted decimal commas between commas", '"21,5","22,25","-3,125"\n"24","25,5","26,75"\n'],
    ["some quoted", '21.5,"22.25",-3.125\n24,25.5,"26.75"\n'],
    ["trailing commas", "21.5,22.25,-3.125,\n24,25.5,26.75,\n"],
    ["trailing TABs, one missing", "21.5\t22.25\t-3.125\t\n24\t25.5\t26.75\n"],
    ["trailing semicolons, decimal comma", "21,5;22,25;-3,125;\r\n24;25,5;26,75;\r\n"],
    ["scientific", "2.15e1,2.225E+01,-3125e-3\n0.24e2,25.5,2675E-2\n"],
    ["plus signs, bare points", "+21.5,22.25,-3.125\n24.,25.5,+26.75\n"],
    ["typographic minus", "21.5;22.25;\u22123.125\n24;25.5;26.75\n"],
    ["18 digits after the point", "21.500000000000000000,22.25,-3.125000000000000000\n24,25.5,26.75\n"],
    ["blank lines before and after", "\n\n21.5,22.25,-3.125\n24,25.5,26.75\n\n  \n"],
    ["comments", "# made by a test\n21.5,22.25,-3.125\n24,25.5,26.75\n# end\n"],
    ["a title", "Board seen from the top, third try\n21.5,22.25,-3.125\n24,25.5,26.75\n"],
    ["key=value", "emissivity=0.95\ndistance=0.3\n21.5,22.25,-3.125\n24,25.5,26.75\n"],
    ["key;value", "emissivity;0,95\nrange;-20;150\n21,5;22,25;-3,125\n24;25,5;26,75\n"],
    ["key: value", "time: 2031-02-03 04:05:06\n21.5\t22.25\t-3.125\n24\t25.5\t26.75\n"],
    ["names of columns", "a,b,c\n21.5,22.25,-3.125\n24,25.5,26.75\n"],
    ["indices from 0 over the columns", "0,1,2\n21.5,22.25,-3.125\n24,25.5,26.75\n"],
    ["indices from 1 over the columns", "1;2;3\n21,5;22,25;-3,125\n24;25,5;26,75\n"],
    ["indices of rows", "0,21.5,22.25,-3.125\n1,24,25.5,26.75\n"],
    ["indices of both, empty corner", ",0,1,2\n0,21.5,22.25,-3.125\n1,24,25.5,26.75\n"],
    ["indices of both, text in the corner", "y\\x,1,2,3\n1,21.5,22.25,-3.125\n2,24,25.5,26.75\n"],
    ["indices of both, no corner", "0 1 2\n0 21.5 22.25 -3.125\n1 24 25.5 26.75\n"],
    ["indices of both, a number in the corner", "0\t0\t1\t2\n0\t21.5\t22.25\t-3.125\n1\t24\t25.5\t26.75\n"],
    ["places of rows under a corner of text", "mm,0,1,2\n0.5,21.5,22.25,-3.125\n1.5,24,25.5,26.75\n"],
    ["labels of rows", "row 1,21.5,22.25,-3.125\nrow 2,24,25.5,26.75\n"],
    ["labels and names of columns", ",c1,c2,c3\nr1,21.5,22.25,-3.125\nr2,24,25.5,26.75\n"],
    ["labels and indices of columns", "r;0;1;2\nr1;21,5;22,25;-3,125\nr2;24;25,5;26,75\n"],
    ["a blank line after every row", "21.5,22.25,-3.125\n\n24,25.5,26.75\n\n"],
    ["a quoted title over two lines", '"first\nsecond",,\n21.5,22.25,-3.125\n24,25.5,26.75\n'],
    ["an inch sign in a title", 'board of 7" across\n21.5,22.25,-3.125\n24,25.5,26.75\n'],
  ];
  it.each(styles)("%s", (_, text) => {
    const { rasters } = read(text);
    expect(rasters.map((r) => [r.width, r.height])).toEqual([[3, 2]]);
    expect(values(text)).toEqual([MATRIX]);
  });

  it.each(styles)("%s, in UTF-16 and with byte order marks", (_, text) => {
    const little = new Uint8Array(Buffer.from(text, "utf16le"));
    const big = new Uint8Array(Buffer.from(text, "utf16le").swap16());
    for (const encoded of [
      new Uint8Array([0xef, 0xbb, 0xbf, ...bytes(text)]),
      new Uint8Array([0xff, 0xfe, ...little]),
      new Uint8Array([0xfe, 0xff, ...big]),
      little,
      big,
    ]) {
      expect(parseTextFrames(encoded).rasters[0]?.data).toEqual(Float32Array.from(MATRIX));
    }
  });

  it("says that it joined rows with blank lines between them", () => {
    expect(codes("21.5,22\n\n23,24\n\n", { unit: "C" })).toEqual(["N_ROWS_JOINED"]);
  });

  it("does not change its input", () => {
    const input = bytes("21.5,22.25\n24,25.5");
    const copy = input.slice();
    parseTextFrames(input);
    expect(input).toEqual(copy);
  });
});

describe("what stays a value", () => {
  it("keeps whole numbers that only look a bit like indices", () => {
    expect(values("1,2,3\n4,5,6\n")).toEqual([[1, 2, 3, 4, 5, 6]]);
    expect(values("0,21,22\n1,23,24\n")).toEqual([[0, 21, 22, 1, 23, 24]]);
  });
  it("keeps a counting row that is written with decimals", () => {
    expect(values("1.0,2.0,3.0\n4.5,5.5,6.5\n")).toEqual([[1, 2, 3, 4.5, 5.5, 6.5]]);
  });
  it("takes eight counting whole numbers for indices even among whole numbers", () => {
    const row = [31, 32, 33, 34, 35, 36, 37, 38, 39];
    expect(values(`0,1,2,3,4,5,6,7,8\n${row.join()}\n${row.join()}\n`)).toEqual([[...row, ...row]]);
    expect(codes(`0,1,2,3,4,5,6,7,8\n${row.join()}\n${row.join()}\n`)).toContain("N_INDICES_SKIPPED");
  });
  it("reads a comma with nothing else around it as a separator, and says so where it matters", () => {
    expect(values("21,22\n23,24\n")).toEqual([[21, 22, 23, 24]]);
    expect(codes("21,22\n23,24\n")).toContain("N_SEPARATOR_GUESSED");
    expect(codes("21,22\n23,24\n", { separator: "comma" })).not.toContain("N_SEPARATOR_GUESSED");
    expect(codes("21.5,22\n23,24\n")).not.toContain("N_SEPARATOR_GUESSED");
  });
  it("can be told otherwise", () => {
    expect(values("1,2 3,4\n5,6 7,8\n", { separator: "space", decimal: "comma" })).toEqual([
      [1.2, 3.4, 5.6, 7.8],
    ]);
    expect(values("1 2;3 4\n5 6;7 8\n".replaceAll(" ", ","), { decimal: "comma" })).toEqual([
      [1.2, 3.4, 5.6, 7.8],
    ]);
  });
  it("finds the decimal comma even if only one value far down shows it", () => {
    const rows = Array.from({ length: 400 }, (_, y) => `2${y % 10};31;4${y % 7}`);
    rows[333] = "21;31,5;41";
    const [frame] = read(`comma, in a title\n${rows.join("\n")}\n`).rasters;
    expect([frame?.width, frame?.height, frame?.data[333 * 3 + 1]]).toEqual([3, 400, 31.5]);
  });
});

describe("no reading", () => {
  it.each(["", "NaN", "nan", "-nan(ind)", "1.#QNAN", "n/a", "#N/A", "NA", "null", "-", "--", "---"])(
    "%j",
    (word) => {
      expect(values(`21.5;${word};22\n23;24;25\n`)).toEqual([[21.5, Number.NaN, 22, 23, 24, 25]]);
    },
  );
  it("may fill a row if it is written as words, and begin it", () => {
    expect(values("NaN,NaN\n23,24.5\n")).toEqual([[Number.NaN, Number.NaN, 23, 24.5]]);
    expect(values(",22.5\n23,24.5\n")).toEqual([[Number.NaN, 22.5, 23, 24.5]]);
    expect(values("20,22.5\n23,\n")).toEqual([[20, 22.5, 23, Number.NaN]]);
  });
});

describe("several frames in a file", () => {
  const two = [
    [21.5, 22, 23, 24],
    [31.5, 32, 33, 34],
  ];
  it.each([
    ["a blank line", "21.5,22\n23,24\n\n31.5,32\n33,34\n"],
    ["several blank lines", "21.5,22\n23,24\n\n \n\n31.5,32\n33,34\n"],
    ["a line of separators, as spreadsheets write it", "21.5;22\n23;24\n;\n31.5;32\n33;34\n"],
    ["a title", "frame 1\n21.5,22\n23,24\nframe 2\n31.5,32\n33,34\n"],
    ["a comment", "21.5,22\n23,24\n# 2\n31.5,32\n33,34\n"],
    ["a repeated header", "a,b\n21.5,22\n23,24\na,b\n31.5,32\n33,34\n"],
  ])("%s between them", (_, text) => expect(values(text)).toEqual(two));

  it("a repeated row of indices between them", () => {
    const text = "0,1,2\n21.5,22,23\n24,25,26\n0,1,2\n31.5,32,33\n34,35,36\n";
    expect(values(text)).toEqual([
      [21.5, 22, 23, 24, 25, 26],
      [31.5, 32, 33, 34, 35, 36],
    ]);
  });
  it("a time alone on a line between them", () => {
    const text = "0.25\n21.5,22,23,24\n25,26,27,28\n\n0.50\n31.5,32,33,34\n35,36,37,38\n";
    expect(values(text)).toEqual([
      [21.5, 22, 23, 24, 25, 26, 27, 28],
      [31.5, 32, 33, 34, 35, 36, 37, 38],
    ]);
  });
  it("refuses frames of different heights", () => {
    const error = caught(() => read("21.5,22\n23,24\n\n31.5,32\n33,34\n35,36\n"));
    expect([error.code, error.parts.place?.line]).toEqual(["E_FRAME_SIZE", 4]);
    expect(error.message).toContain("2×2");
    expect(error.message).toContain("2×3");
  });
});

describe("units", () => {
  it("uses the unit given: 77 °F and 298.15 K are 25 °C (SI brochure; NIST SP 811 B.8)", () => {
    expect(values("77,-40\n32,212\n", { unit: "F" })).toEqual([[25, -40, 0, 100]]);
    expect(values("298.15,273.15\n373.15,233.15\n", { unit: "K" })).toEqual([[25, 0, 100, -40]]);
  });
  it("uses the unit stated in the header, and says nothing", () => {
    expect(values("unit=K\n298.15,273.15\n373.15,233.15\n")).toEqual([[25, 0, 100, -40]]);
    expect(codes("unit=K\n298.15,273.15\n373.15,233.15\n")).toEqual([]);
  });
  it("says when it takes °C for granted, and when it guesses K", () => {
    expect(codes("21.5,22\n23,24\n")).toEqual(["N_UNIT_ASSUMED"]);
    expect(codes("298.15,273.15\n299.15,300.15\n")).toEqual(["N_UNIT_GUESSED"]);
    expect(values("298.15,273.15\n299.15,300.15\n")).toEqual([[25, 0, 26, 27]]);
  });
  it("lets the option win over the header, with a note", () => {
    expect(values("unit=K\n21.5,22\n23,24\n", { unit: "C" })).toEqual([[21.5, 22, 23, 24]]);
    expect(codes("unit=K\n21.5,22\n23,24\n", { unit: "C" })).toEqual(["N_OPTION_WINS"]);
    expect(codes("unit=counts\n21.5,22\n23,24\n", { unit: "C" })).toEqual([]);
  });
  it("applies gain and offset to counts: kelvin × 100", () => {
    const linear = { gainCPerLevel: 0.01, offsetC: -273.15 };
    expect(values("29815,29816\n27315,37315\n", { linear })).toEqual([[25, 25.01, 0, 100]]);
    expect(read("29815,29816\n27315,37315\n", { linear }).notes.map(({ code }) => code)).toEqual([]);
    // A header that states a unit speaks against counts: gain and offset hold, and it is said.
    const stated = read("unit: °C\n29815,29816\n27315,37315\n", { linear });
    expect(stated.notes.map(({ code }) => code)).toEqual(["N_OPTION_WINS"]);
    expect(read("29815,29816\n27315,37315\n", { linear }).stepK).toBe(0.01);
    expect(read("29815.5,29816\n27315,37315\n", { linear }).stepK).toBeNull();
  });
});

describe("errors of text frames", () => {
  it("names line, column and count of a ragged row", () => {
    const error = caught(() => read("# x\n21.5,22,23\n24,25,26\n27,28\n29,30,31\n", { file: "a.csv" }));
    expect(error.code).toBe("E_TEXT_RAGGED");
    expect(error.message).toContain("the other rows have 3 values, this one has 2 (a.csv, line 4, column 3)");
    const long = caught(() => read("21.5,22,23\n24,25,26\n27,28,29,30\n"));
    expect([long.code, long.parts.place?.line, long.parts.place?.column]).toEqual(["E_TEXT_RAGGED", 3, 4]);
  });
  it("names line, column and text of a cell that is no number", () => {
    const error = caught(() => read("21.5;22;23\n24;2x5;26\n27;28;29\n", { file: "b.csv" }));
    expect(error.code).toBe("E_TEXT_CELL");
    expect(error.message).toContain('value 2 of this row is "2x5" (b.csv, line 2, column 2)');
  });
  it("does not take a row torn in the middle of a word for a title", () => {
    const error = caught(() => read("20.1,20.2,20.3,20.4\n20.1,20.2,N\n"));
    expect([error.code, error.parts.place?.line]).toEqual(["E_TEXT_CELL", 2]);
  });
  it("does not lose a row whose first cell is broken", () => {
    const error = caught(() => read("20.1,20.2,20.3,20.4\nx0.1,20.2,20.3,20.4\n20.5,20.6,20.7,20.8\n"));
    expect([error.code, error.parts.place?.line, error.parts.place?.column]).toEqual(["E_TEXT_CELL", 2, 1]);
  });
  it("counts the lines of a quoted title that spans several", () => {
    const error = caught(() => read('"one\ntwo\nthree"\n21.5,22,23\n24,q,26\n'));
    expect(error.parts.place?.line).toBe(5);
  });
  it("refuses mixed decimal marks where the other one stands", () => {
    const error = caught(() => read("21.5;22.5;23\n23.5;24.5;24\n25,5;26.5;25\n"));
    expect([error.code, error.parts.place?.line, error.parts.place?.column]).toEqual(["E_TEXT_CELL", 3, 1]);
  });
  it.each([
    ["prose", "nothing to be seen here\n"],
    ["one row", "21.5,22,23\n"],
    ["one column", "21.5\n22.5\n23.5\n"],
    ["a header alone", "unit=K\nwidth=3\n"],
    ["a decimal comma asked for where commas separate", "21,5,22,5\n23,5,24,5\n"],
  ])("finds no matrix in %s", (name, text) => {
    const options: TextFrameOptions = name.startsWith("a decimal") ? { decimal: "comma" } : {};
    expect(caught(() => read(text, options)).code).toBe("E_TEXT_MATRIX");
  });
  it("refuses the comma as both marks unless quotes tell them apart", () => {
    const both: TextFrameOptions = { separator: "comma", decimal: "comma" };
    expect(caught(() => read("21,5,22,5\n23,5,24,5\n", both)).code).toBe("E_TEXT_MATRIX");
    expect(values('"21,5","22,5"\n"23,5","24,5"\n', both)).toEqual([[21.5, 22.5, 23.5, 24.5]]);
  });
  it("refuses a quote that never closes, with its place", () => {
    const error = caught(() => read('21.5,22\n23,"24\n25,26\n'));
    expect([error.code, error.parts.place?.line, error.parts.place?.column]).toEqual(["E_TEXT_QUOTE", 2, 4]);
  });
  it("refuses a file without text", () => {
    for (const text of ["", "\n\n", "\ufeff", " \t\r\n"]) {
      expect(caught(() => read(text)).code).toBe("E_FRAME_EMPTY");
    }
  });
  it("refuses encodings it can't read", () => {
    const utf32 = new Uint8Array([0xff, 0xfe, 0, 0, 50, 0, 0, 0]);
    const odd = new Uint8Array([0xff, 0xfe, 50, 0, 44]);
    const binary = new Uint8Array([50, 49, 44, 0, 50, 49, 10, 50]);
    for (const input of [utf32, odd, binary]) {
      expect(caught(() => parseTextFrames(input)).code).toBe("E_TEXT_ENCODING");
    }
  });
  it("passes infinite values on, for the check of the frame to refuse with their place", () => {
    expect(values("21.5,inf\n-Infinity,1e999\n")).toEqual([[21.5, Infinity, -Infinity, Infinity]]);
  });
});
