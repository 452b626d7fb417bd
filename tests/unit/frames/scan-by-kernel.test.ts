import { afterEach, describe, expect, it } from "vitest";
import { findLines } from "../../../src/frames/find-lines.js";
import { parseTextFrames } from "../../../src/frames/parse-text-frames.js";
import { openPlainScanner } from "../../../src/frames/scan-by-kernel.js";
import { createRowTable, type Dialect, scanRow } from "../../../src/frames/scan-rows.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { makeRandom } from "../../simulate/random.js";
import { agreed } from "../numeric/both-ways.js";

afterEach(() => useKernels(true));

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** The table of a text by the plain code, and with the kernel wherever it goes on. */
function tables(text: string, dialect: Dialect) {
  const bytes = bytesOf(text);
  const lines = findLines(bytes);
  const plain = createRowTable(0);
  for (const [i, start] of lines.starts.entries()) scanRow(plain, bytes, start, lines.ends[i]!, dialect);
  const mixed = createRowTable(0);
  const scan = openPlainScanner(bytes, lines, dialect)!;
  let left = 0;
  for (let i = 0; i < lines.starts.length; i++) {
    i = scan(mixed, i);
    if (i === lines.starts.length) break;
    scanRow(mixed, bytes, lines.starts[i]!, lines.ends[i]!, dialect);
    left++;
  }
  const of = (table: typeof plain) => ({ ...table, values: table.values.slice(0, table.used) });
  return { plain: of(plain), mixed: of(mixed), left };
}

const COMMA = { separator: 44, decimal: 46 };
const SEMICOLON = { separator: 59, decimal: 44 };
const TABS = { separator: 9, decimal: 46 };

describe("the kernel's table is that of the plain code", () => {
  it.each<[string, string, Dialect, number]>([
    ["numbers", "1,2.5,-3\n+4,.5,6.\n-0,007,-0.0", COMMA, 0],
    ["decimal commas and blanks", " 1,25 ; 2;\t-3,5 \r\n4;5,5;6\r\n", SEMICOLON, 0],
    ["TABs with blanks around", "1 \t 2.5\t3\n4\t5\t6 ", TABS, 0],
    ["nine digits, and ten", "123456789,0.12345678\n1234567890,2\n0.123456789,3", COMMA, 2],
    ["exponents", "1e3,2\n3,4\n5,6E-2", COMMA, 2],
    ["empty fields and ends", "1,,2\n3,4,\n,5\n6,7", COMMA, 3],
    ["words, quotes and blank lines", 'x,1\n1,2\n\n"3",4\n5,NaN\n6,-\n7,8.8.8\n9,1', COMMA, 6],
    ["a decimal mark that separates", "1,2\n3,4", { separator: 44, decimal: 44 }, 0],
    ["a field alone", "5\n6.5\n", COMMA, 0],
    ["one to nine bytes", "1,22,3.3,4444,55.55,666.66,7777.77,88888.88,.1234567,1234567.", COMMA, 0],
    ["eight digits and signs", "12345678,-1.25,+0.5,-12345.67,-123456.7\n87654321,- 1", COMMA, 1],
    ["two marks, and marks that are others", "1..2,3\n.,1\n12,3:4\n1;2,3\n1,2", COMMA, 4],
    ["bytes beyond ASCII", "1,2\n1\u00b0,2\n\u00ff9,3\n4,\u20132\n5,6", COMMA, 3],
  ])("%s", (_, text, dialect, left) => {
    const { plain, mixed, left: by } = tables(text, dialect);
    expect(mixed).toEqual(plain);
    expect([...mixed.values].map((value) => Object.is(value, -0))).toEqual(
      [...plain.values].map((value) => Object.is(value, -0)),
    );
    // Lines that were left to the plain code.
    expect(by).toBe(left);
  });
});

it("lines of any length around 64 bytes, with fields that end anywhere in them", () => {
  const random = makeRandom("ends");
  for (let k = 0; k < 40; k++) {
    const rows = Array.from({ length: 9 }, () =>
      Array.from({ length: random.integer(1, 70) }, () =>
        random.uniform(-40, 1000).toFixed(random.integer(0, 4)),
      ).join(","),
    );
    const { plain, mixed, left } = tables(rows.join("\n"), COMMA);
    expect(mixed).toEqual(plain);
    expect(left).toBe(0);
  }
});

it("lines whose numbers are all written alike, and those where one is not", () => {
  const random = makeRandom("alike");
  const others = [
    "-1",
    "+12",
    " 12",
    "1 ",
    "1e2",
    "1..2",
    ":1",
    "/9",
    "x",
    "",
    "NaN",
    "\u00ff1",
    "123456789",
    "5",
  ];
  const cases = Array.from({ length: 8 }, (_, k) => k + 1).flatMap((digits) =>
    Array.from({ length: digits + 2 }, (_, mark) => [digits, mark - 1] as const),
  );
  for (const [digits, mark] of cases) {
    const number = (): string => {
      const letters = Array.from({ length: digits }, () => String(random.integer(0, 9))).join("");
      return mark < 0 ? letters : `${letters.slice(0, mark)}.${letters.slice(mark)}`;
    };
    const alike = Array.from({ length: 20 }, (_, count) => Array.from({ length: count + 1 }, number));
    const mixed = alike.map((row, k) => {
      const at = random.integer(0, row.length - 1);
      return row.map((word, i) => (i === at ? others[k % others.length]! : word));
    });
    const rows = [...alike, ...mixed, ...alike].map((row) => row.join(","));
    for (const text of [rows.join("\n"), rows.join("\r\n")]) {
      const { plain, mixed: found } = tables(text, COMMA);
      expect(found).toEqual(plain);
    }
    // Of the alike ones none is left to the plain code.
    expect(tables(alike.map((row) => row.join(",")).join("\n"), COMMA).left).toBe(0);
  }
});

it("frames whose numbers have a sign between them are the same by the kernel and by the plain code", () => {
  const random = makeRandom("styles");
  for (let k = 0; k < 60; k++) {
    const [separator, mark] = [
      [",", "."],
      [";", ","],
      ["\t", "."],
    ][k % 3] as [string, string];
    const number = (): string => {
      const odd = random.uniform(0, 1);
      if (odd < 0.01) return "NaN";
      if (odd < 0.02) return "2.5e1".replace(".", mark);
      return (25 + 5 * random.normal()).toFixed(k % 5).replace(".", mark);
    };
    const rows = Array.from({ length: 13 }, () =>
      Array.from({ length: 17 }, number).join(separator + (k % 4 === 0 ? " " : "")),
    );
    const text = bytesOf(rows.join(k % 2 === 0 ? "\n" : "\r\n"));
    agreed(() => parseTextFrames(text));
  }
});
