// fuzz: matrices of numbers in every style of writing → text files of frames, whole and damaged.
import { checkFrame } from "../../../src/frames/check-frame.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { parseTextFrames } from "../../../src/frames/parse-text-frames.js";
import { sniffFileType } from "../../../src/read/sniff-file-type.js";
import type { Random } from "../../simulate/random.js";
import { type FuzzInput, type FuzzTarget, otherReader } from "../fuzz-target.js";
import { mutateBytes } from "../mutate-bytes.js";

/** A matrix as it will be written: texts of numbers with decimals, so that none passes for an index. */
interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly cells: string[][];
}

interface Style {
  readonly separator: string;
  readonly comma: boolean;
  readonly quoted: boolean;
  readonly lineEnd: string;
  readonly header: string;
  readonly padding: string;
  readonly trailing: boolean;
  readonly encoding: "utf8" | "utf8-bom" | "utf16le" | "utf16be-bom";
}

const SOUP = [
  "1", "23.5", "-4e1", "1e400", ",", ";", "\t", " ", "\n", "\r\n", "\n\n", '"', "NaN", "inf", "x", "#", "unit=K", "0,1,2", ".", "-", "°C", "°F", "y,0,1", "\u2212", "\u0000",
]; // biome-ignore format: a list to be read across

/** Text frames. */
export const textFrames: FuzzTarget = {
  name: "text",
  make: (random) => {
    const sheet = makeSheet(random);
    const style = makeStyle(random);
    const [x, y] = [random.integer(0, sheet.width - 1), random.integer(1, sheet.height - 1)];
    const value = valueOfSheet(sheet);
    switch (random.integer(0, 7)) {
      case 0:
      case 1:
        return {
          what: `a whole file, ${style.encoding}`,
          bytes: write(sheet, style),
          expected: { sort: "equal", value },
        };
      case 2: {
        // One digit: that one value is another, and no other is.
        const cell = sheet.cells[y]![x]!;
        const changed = cell.replace(/\d(?=\.)/, (digit) => String((Number(digit) + 1) % 10));
        sheet.cells[y]![x] = changed;
        return {
          what: "another digit",
          bytes: write(sheet, style),
          expected: { sort: "equal", value: valueOfSheet(sheet) },
        };
      }
      case 3:
        sheet.cells[y]![x] = random.pick(["2x.5", "12.3.4", "l4.2", "2O.1", "?", "--1", "1.5e", "0x1f.0"]);
        return damaged("a cell that is no number", sheet, style);
      case 4:
        sheet.cells[y]!.splice(x, 1);
        return damaged("a row that is short of a value", sheet, style);
      case 5:
        sheet.cells[y]!.splice(x, 0, "21.5");
        return damaged("a row that has a value too many", sheet, style);
      case 6:
        return any("bytes changed", mutateBytes(random, write(sheet, style)));
      default: {
        const pieces = Array.from({ length: random.integer(0, 50) }, () => random.pick(SOUP));
        return any("a soup of pieces", new TextEncoder().encode(pieces.join("")));
      }
    }
  },
  read: (bytes) => {
    const type = sniffFileType(bytes, "f.csv");
    if (type !== "text") throw otherReader(type, "f.csv");
    const { rasters } = parseTextFrames(bytes, { file: "f.csv" });
    for (const raster of rasters) checkFrame(frameFromRaster(raster));
    return rasters.map(({ width, height, data }) => ({ width, height, values: [...data] }));
  },
};

const any = (what: string, bytes: Uint8Array): FuzzInput => ({ what, bytes, expected: { sort: "any" } });

function damaged(what: string, sheet: Sheet, style: Style): FuzzInput {
  return { what, bytes: write(sheet, style), expected: { sort: "refused" } };
}

function makeSheet(random: Random): Sheet {
  // Rows that are read wrong must not be few among many: at least four values and three rows.
  const [width, height] = [random.integer(4, 8), random.integer(3, 6)];
  const cells = Array.from({ length: height }, () =>
    Array.from({ length: width }, () => random.uniform(15, 95).toFixed(random.integer(1, 6))),
  );
  return { width, height, cells };
}

function valueOfSheet({ width, height, cells }: Sheet): unknown {
  // Rounded to double precision first, to single precision once, as the reader promises.
  return [{ width, height, values: cells.flat().map((text) => Math.fround(Number(text))) }];
}

function makeStyle(random: Random): Style {
  const separator = random.pick([",", ";", "\t", " "]);
  const quoted = random.chance(0.2);
  return {
    separator,
    quoted,
    comma: random.chance(0.3) && (separator !== "," || quoted),
    lineEnd: random.pick(["\n", "\r\n", "\r"]),
    header: random.pick(["", "", "# seen from the top", "Board A", "emissivity=0.95", "unit: °C", "a; b"]),
    padding: random.pick(["", "", " "]),
    trailing: random.chance(0.2) && separator !== " ",
    encoding: random.pick(["utf8", "utf8", "utf8-bom", "utf16le", "utf16be-bom"]),
  };
}

function write(sheet: Sheet, style: Style): Uint8Array {
  const cell = (text: string): string => {
    const marked = style.comma ? text.replace(".", ",") : text;
    return style.quoted ? `"${marked}"` : `${style.padding}${marked}${style.padding}`;
  };
  const rows = sheet.cells.map(
    (row) => row.map(cell).join(style.separator) + (style.trailing ? style.separator : ""),
  );
  const lines = style.header === "" ? rows : [style.header, ...rows];
  const text = lines.join(style.lineEnd) + style.lineEnd;
  if (style.encoding === "utf8") return Buffer.from(text);
  if (style.encoding === "utf8-bom") return Buffer.from(`\ufeff${text}`);
  if (style.encoding === "utf16le") return Buffer.from(text, "utf16le");
  return Buffer.concat([Buffer.from([0xfe, 0xff]), Buffer.from(text, "utf16le").swap16()]);
}
