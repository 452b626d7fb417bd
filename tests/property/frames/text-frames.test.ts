import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ToolError } from "../../../src/core/errors.js";
import { checkFrame } from "../../../src/frames/check-frame.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { parseTextFrames } from "../../../src/frames/parse-text-frames.js";

/** Seeded, so that a failure comes again; 80,000 runs with free seeds went before. */
const RUNS = { numRuns: 1500, seed: 20310203 };

const separators = { comma: ",", semicolon: ";", tab: "\t", space: " " } as const;

/** How a matrix is written. Every value has decimals, so that none is taken for an index. */
const style = fc.record({
  separator: fc.constantFrom("comma", "semicolon", "tab", "space" as const),
  decimalComma: fc.boolean(),
  quoted: fc.boolean(),
  trailing: fc.boolean(),
  padded: fc.boolean(),
  scientific: fc.boolean(),
  lineEnd: fc.constantFrom("\n", "\r\n", "\r", "\r\r\n"),
  lastLineEnd: fc.boolean(),
  header: fc.constantFrom("", "# seen from the top", "Board A", "emissivity=0.95", "range;-20;150", "a: b"),
  columns: fc.constantFrom("none", "from 0", "from 1" as const),
  rows: fc.constantFrom("none", "indices", "labels" as const),
  noReading: fc.constantFrom("", "NaN", "n/a", "--" as const),
  encoding: fc.constantFrom("utf8", "utf8-bom", "utf16le", "utf16le-bom", "utf16be-bom" as const),
  between: fc.constantFrom("", "frame", "# next" as const),
});
type Style = typeof style extends fc.Arbitrary<infer T> ? T : never;

const matrices = fc
  .record({
    width: fc.integer({ min: 2, max: 9 }),
    height: fc.integer({ min: 2, max: 7 }),
    frames: fc.integer({ min: 1, max: 3 }),
  })
  .chain(({ width, height, frames }) =>
    fc.record({
      width: fc.constant(width),
      height: fc.constant(height),
      values: fc.array(
        fc.oneof(
          { weight: 8, arbitrary: fc.double({ min: -100, max: 1000, noNaN: true }) },
          { weight: 1, arbitrary: fc.constant(Number.NaN) },
        ),
        { minLength: width * height * frames, maxLength: width * height * frames },
      ),
    }),
  );

/** Write frames in a style; returns null where the style can't say what it must. */
function write(width: number, height: number, values: readonly number[], s: Style): Uint8Array | null {
  const separator = separators[s.separator];
  const decimalComma = s.decimalComma && (s.separator !== "comma" || s.quoted);
  // Blanks can't show an empty field, and a line of empty fields is a blank one.
  const noReading = s.separator === "space" || s.noReading === "" ? "NaN" : s.noReading;
  const number = (v: number) => {
    if (Number.isNaN(v)) return noReading;
    const shortest = s.scientific ? v.toExponential() : String(v);
    const text = /[.]/.test(shortest) ? shortest : shortest.replace(/^(-?\d+)/, "$1.0");
    return decimalComma ? text.replace(".", ",") : text;
  };
  const field = (text: string) => (s.quoted ? `"${text}"` : s.padded ? `  ${text} ` : text);
  const line = (fields: string[]) =>
    fields.map(field).join(separator) + (s.trailing && s.separator !== "space" ? separator : "");
  const lines: string[] = s.header === "" ? [] : [s.header];
  for (let from = 0; from < values.length; from += width * height) {
    if (from > 0) lines.push(s.between);
    if (s.columns !== "none") {
      const origin = s.columns === "from 0" ? 0 : 1;
      const indices = Array.from({ length: width }, (_, x) => String(x + origin));
      // A corner of text makes the row sure; without it two columns of indices would need it.
      lines.push(line(s.rows === "none" ? indices : ["y", ...indices]));
    }
    for (let y = 0; y < height; y++) {
      const row = values.slice(from + y * width, from + (y + 1) * width).map(number);
      const label = s.rows === "none" ? [] : [s.rows === "indices" ? String(y) : `r${y}`];
      lines.push(line([...label, ...row]));
    }
  }
  const text = lines.join(s.lineEnd) + (s.lastLineEnd ? s.lineEnd : "");
  const wide = Buffer.from(text, "utf16le");
  switch (s.encoding) {
    case "utf8":
      return Buffer.from(text);
    case "utf8-bom":
      return Buffer.from(`\ufeff${text}`);
    case "utf16le":
      return wide;
    case "utf16le-bom":
      return Buffer.concat([Buffer.from([0xff, 0xfe]), wide]);
    case "utf16be-bom":
      return Buffer.concat([Buffer.from([0xfe, 0xff]), wide.swap16()]);
  }
}

/** A matrix in which no number stands, or too few to tell what separates them, is none; leave it out. */
function tellsItsStyle(width: number, values: readonly number[]): boolean {
  for (let at = 0; at < values.length; at += width) {
    if (values.slice(at, at + width).filter((v) => !Number.isNaN(v)).length < 2) return false;
  }
  return true;
}

describe("parseTextFrames", () => {
  it("reads back every matrix from every style of writing, to single precision", () => {
    fc.assert(
      fc.property(matrices, style, ({ width, height, values }, s) => {
        fc.pre(tellsItsStyle(width, values));
        // "range;-20;150" over labelled rows of two values is a labelled row as well: nobody could tell.
        fc.pre(!(s.header === "range;-20;150" && s.rows === "labels" && width === 2));
        const { rasters } = parseTextFrames(write(width, height, values, s)!, { unit: "C" });
        expect(rasters.map((r) => [r.width, r.height])).toEqual(
          Array.from({ length: values.length / (width * height) }, () => [width, height]),
        );
        // Adding 0 makes both zeros one: −0 is written without its sign.
        expect(rasters.flatMap((r) => Array.from(r.data, (v) => v + 0))).toEqual(
          values.map((v) => Math.fround(v) + 0),
        );
      }),
      RUNS,
    );
  });

  it("throws nothing but a ToolError, whatever happens to the bytes", () => {
    fc.assert(
      fc.property(
        matrices,
        style,
        fc.array(fc.tuple(fc.nat(), fc.integer({ min: 0, max: 255 })), { minLength: 1, maxLength: 6 }),
        fc.nat(),
        ({ width, height, values }, s, hits, cut) => {
          const bytes = Uint8Array.from(write(width, height, values, s)!);
          for (const [at, byte] of hits) bytes[at % bytes.length] = byte;
          onlyToolErrors(cut % 3 === 0 ? bytes.subarray(0, cut % bytes.length) : bytes);
        },
      ),
      RUNS,
    );
  });

  it("throws nothing but a ToolError on bytes of any kind", () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 200 }), onlyToolErrors), RUNS);
    const pieces = fc.constantFrom(
      "1",
      "23.5",
      "-4e1",
      ",",
      ";",
      "\t",
      " ",
      "\n",
      "\n\n",
      '"',
      "NaN",
      "x",
      "#",
      "unit=K",
      "0,1,2",
      ".",
      "-",
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 60 }), (parts) =>
        onlyToolErrors(new TextEncoder().encode(parts.join(""))),
      ),
      RUNS,
    );
  });
});

/** Read, or refused in words. */
function onlyToolErrors(bytes: Uint8Array): void {
  let thrown: unknown = null;
  try {
    for (const raster of parseTextFrames(bytes).rasters) checkFrame(frameFromRaster(raster));
  } catch (error) {
    thrown = error;
  }
  expect(thrown === null || thrown instanceof ToolError, String(thrown)).toBe(true);
}
