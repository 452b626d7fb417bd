// report: the characters of a text → two fonts, regular and bold, that have them, and what no font has.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import type { Font, Path } from "fontkit";
import * as fontkit from "fontkit";
import { assembleFont, type FontGlyph, UNITS_PER_EM } from "./assemble-font.js";
import { decodeWoff2 } from "./decode-woff2.js";
import type { Outline } from "./rebuild-glyphs.js";

/** A font to embed, and the widths that the layout needs. */
export interface ReportFont {
  /** TrueType. */
  readonly bytes: Uint8Array;
  /** Advance of a character in ems; that of the missing glyph if the font has it not. */
  readonly advanceOf: (codePoint: number) => number;
}

/** Both weights, and the characters that neither has, ascending. */
export interface ReportFonts {
  readonly regular: ReportFont;
  readonly bold: ReportFont;
  readonly missing: readonly number[];
}

/** Packages that hold the fonts in pieces by ranges of characters, each piece with all weights; the first that has a
 *  character draws it. Noto Sans (Latin, Greek, Cyrillic, Vietnamese, Devanagari) and Noto Sans SC (Chinese, kana,
 *  symbols), both under the SIL Open Font License 1.1. */
const PACKAGES = ["@fontsource-variable/noto-sans", "@fontsource-variable/noto-sans-sc"] as const;
const WEIGHTS = Object.freeze({ regular: 400, bold: 700 });
const NAME = "ReportSans";
/** Of Noto Sans, rounded up: the Chinese pieces stay within it, but for the empty space that they want above. */
const FACE = Object.freeze({ ascent: 1069, descent: -293, capHeight: 714 });
/** Scripts whose letters join or change places: without their rules, single shapes would be wrong. */
const JOINED = /\p{Script=Devanagari}/u;

interface Piece {
  readonly file: string;
  readonly ranges: readonly (readonly [number, number])[];
}

/** Collect the shapes of characters from the font packages and assemble them to one font for each weight.
 *  @param characters numbers of the characters that are wanted; the missing are reported, never drawn as something
 *  else.
 */
export function reportFonts(characters: Iterable<number>): ReportFonts {
  const wanted = [...new Set(characters)].sort((a, b) => a - b);
  const pieces = PACKAGES.flatMap(listPieces);
  const opened = new Map<string, Record<keyof typeof WEIGHTS, Font>>();
  const glyphs: Record<keyof typeof WEIGHTS, FontGlyph[]> = { regular: [], bold: [] };
  const missing: number[] = [];
  for (const codePoint of wanted) {
    const fonts = findFonts(codePoint, pieces, opened);
    if (fonts === null) {
      missing.push(codePoint);
      continue;
    }
    for (const weight of ["regular", "bold"] as const) {
      glyphs[weight].push(drawGlyph(codePoint, fonts[weight]));
    }
  }
  return {
    regular: makeFont(glyphs.regular, false),
    bold: makeFont(glyphs.bold, true),
    missing,
  };
}

function listPieces(name: string): Piece[] {
  const list = createRequire(import.meta.url).resolve(`${name}/unicode.json`);
  const short = name.slice(name.indexOf("/") + 1);
  const ranges = JSON.parse(readFileSync(list, "utf8")) as Record<string, string>;
  return Object.entries(ranges).map(([piece, text]) => ({
    file: join(dirname(list), "files", `${short}-${piece.replace(/[[\]]/g, "")}-wght-normal.woff2`),
    ranges: text.split(",").map(parseRange),
  }));
}

/** `U+4e09-4e0b` or `U+d`. */
function parseRange(text: string): [number, number] {
  const [first = "", last = first] = text.replace("U+", "").split("-");
  return [Number.parseInt(first, 16), Number.parseInt(last, 16)];
}

function findFonts(
  codePoint: number,
  pieces: readonly Piece[],
  opened: Map<string, Record<keyof typeof WEIGHTS, Font>>,
): Record<keyof typeof WEIGHTS, Font> | null {
  if (JOINED.test(String.fromCodePoint(codePoint))) return null;
  for (const { file, ranges } of pieces) {
    if (!ranges.some(([first, last]) => codePoint >= first && codePoint <= last)) continue;
    let fonts = opened.get(file);
    if (fonts === undefined) {
      const font = fontkit.create(Buffer.from(decodeWoff2(readFileSync(file)))) as Font;
      fonts = {
        regular: font.getVariation({ wght: WEIGHTS.regular }),
        bold: font.getVariation({ wght: WEIGHTS.bold }),
      };
      opened.set(file, fonts);
    }
    // A piece may promise more than it has.
    if (fonts.regular.hasGlyphForCodePoint(codePoint)) return fonts;
  }
  return null;
}

function drawGlyph(codePoint: number, font: Font): FontGlyph {
  const glyph = font.glyphForCodePoint(codePoint);
  const scale = UNITS_PER_EM / font.unitsPerEm;
  return {
    codePoint,
    advance: Math.round(glyph.advanceWidth * scale),
    outline: traceOutline(glyph.path, scale),
  };
}

/** Path commands → points; both the last point of a contour and its first may be the same, which closes nothing
 *  twice. */
function traceOutline(path: Path, scale: number): Outline | null {
  const x: number[] = [];
  const y: number[] = [];
  const on: number[] = [];
  const ends: number[] = [];
  let start = 0;
  const add = (atX: number, atY: number, onCurve: number): void => {
    x.push(Math.round(atX * scale));
    y.push(Math.round(atY * scale));
    on.push(onCurve);
  };
  for (const { command, args } of path.commands) {
    const [a = 0, b = 0, c = 0, d = 0] = args;
    if (command === "moveTo") {
      start = x.length;
      add(a, b, 1);
    } else if (command === "lineTo") {
      add(a, b, 1);
    } else if (command === "quadraticCurveTo") {
      add(a, b, 0);
      add(c, d, 1);
    } else if (command === "closePath") {
      const last = x.length - 1;
      if (last > start && x[last] === x[start] && y[last] === y[start] && on[last] === 1) {
        x.pop();
        y.pop();
        on.pop();
      }
      if (x.length > start) ends.push(x.length - 1);
    } else {
      throw new Error(`the fonts draw with quadratic curves, but ${command} was found`);
    }
  }
  if (x.length === 0) return null;
  return {
    ends,
    x: Int16Array.from(x),
    y: Int16Array.from(y),
    on: Uint8Array.from(on),
    box: [Math.min(...x), Math.min(...y), Math.max(...x), Math.max(...y)],
  };
}

function makeFont(glyphs: readonly FontGlyph[], bold: boolean): ReportFont {
  const advances = new Map(glyphs.map(({ codePoint, advance }) => [codePoint, advance / UNITS_PER_EM]));
  return {
    bytes: assembleFont(glyphs, { name: NAME, bold, ...FACE }),
    advanceOf: (codePoint) => advances.get(codePoint) ?? 0.5,
  };
}
