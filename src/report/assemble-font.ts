// report: outlines of single characters → one TrueType font that has these characters and no others.
import { ByteWriter } from "./byte-writer.js";
import { packSfnt } from "./pack-sfnt.js";
import { type Outline, writeSimple } from "./rebuild-glyphs.js";

/** A character as it is drawn. */
export interface FontGlyph {
  readonly codePoint: number;
  /** Font units; 1000 make an em. */
  readonly advance: number;
  /** Closed contours of quadratic curves, y upwards, font units; null: nothing to draw. */
  readonly outline: Outline | null;
}

/** What the whole font says of itself, font units. */
export interface FontFace {
  readonly name: string;
  readonly bold: boolean;
  readonly ascent: number;
  /** Below 0. */
  readonly descent: number;
  readonly capHeight: number;
}

/** Font units that make an em. */
export const UNITS_PER_EM = 1000;
const SANS_SERIF = 8 << 8;

/** Make a font for embedding: the tables that a PDF asks for, and those that readers of fonts expect.
 *  Glyph 0, for what is missing, is empty. No kerning and no features.
 *  Method: OpenType specification 1.9.
 *  @param glyphs one for each character, in any order; kept in order of their numbers.
 */
export function assembleFont(glyphs: readonly FontGlyph[], face: FontFace): Uint8Array {
  const sorted = [...glyphs].sort((a, b) => a.codePoint - b.codePoint);
  const glyf = new ByteWriter();
  const loca = new ByteWriter();
  const hmtx = new ByteWriter();
  const box = [0, 0, 0, 0];
  let points = 0;
  let contours = 0;
  // Glyph 0.
  loca.u32(0);
  loca.u32(0);
  hmtx.u16(UNITS_PER_EM / 2);
  hmtx.i16(0);
  for (const { outline, advance } of sorted) {
    if (outline !== null) {
      writeSimple(glyf, outline);
      glyf.pad(4);
      outline.box.forEach((edge, k) => {
        box[k] = k < 2 ? Math.min(box[k]!, edge) : Math.max(box[k]!, edge);
      });
      points = Math.max(points, outline.x.length);
      contours = Math.max(contours, outline.ends.length);
    }
    loca.u32(glyf.length);
    hmtx.u16(advance);
    hmtx.i16(outline?.box[0] ?? 0);
  }
  const count = sorted.length + 1;
  const widest = sorted.reduce((most, { advance }) => Math.max(most, advance), 0);
  return packSfnt(
    new Map([
      ["OS/2", osTable(face)],
      ["cmap", cmapTable(sorted)],
      ["glyf", glyf.bytes()],
      ["head", headTable(face, box)],
      ["hhea", hheaTable(face, widest, count)],
      ["hmtx", hmtx.bytes()],
      ["loca", loca.bytes()],
      ["maxp", maxpTable(count, points, contours)],
      ["name", nameTable(face)],
      ["post", postTable()],
    ]),
  );
}

/** Format 12: groups of characters that follow each other. */
function cmapTable(sorted: readonly FontGlyph[]): Uint8Array {
  const groups: { first: number; last: number; glyph: number }[] = [];
  sorted.forEach(({ codePoint }, i) => {
    const group = groups.at(-1);
    if (group !== undefined && group.last === codePoint - 1) group.last = codePoint;
    else groups.push({ first: codePoint, last: codePoint, glyph: i + 1 });
  });
  const table = new ByteWriter();
  for (const value of [0, 1, 3, 10]) table.u16(value);
  table.u32(12);
  table.u16(12);
  table.u16(0);
  table.u32(16 + 12 * groups.length);
  table.u32(0);
  table.u32(groups.length);
  for (const { first, last, glyph } of groups) {
    table.u32(first);
    table.u32(last);
    table.u32(glyph);
  }
  return table.bytes();
}

function headTable({ bold }: FontFace, box: readonly number[]): Uint8Array {
  const table = new ByteWriter();
  table.u32(0x00010000);
  table.u32(0x00010000);
  table.u32(0);
  table.u32(0x5f0f3cf5);
  table.u16(0b11);
  table.u16(UNITS_PER_EM);
  // Made and changed: no date, so that the same text gives the same bytes.
  for (let k = 0; k < 4; k++) table.u32(0);
  for (const edge of box) table.i16(edge);
  table.u16(bold ? 1 : 0);
  table.u16(6);
  table.i16(2);
  table.i16(1);
  table.i16(0);
  return table.bytes();
}

function hheaTable({ ascent, descent }: FontFace, widest: number, count: number): Uint8Array {
  const table = new ByteWriter();
  table.u32(0x00010000);
  for (const value of [ascent, descent, 0]) table.i16(value);
  table.u16(widest);
  for (const value of [0, 0, widest, 1, 0, 0, 0, 0, 0, 0, 0]) table.i16(value);
  table.u16(count);
  return table.bytes();
}

function maxpTable(count: number, points: number, contours: number): Uint8Array {
  const table = new ByteWriter();
  table.u32(0x00010000);
  for (const value of [count, points, contours, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0]) table.u16(value);
  return table.bytes();
}

function osTable({ bold, ascent, descent, capHeight }: FontFace): Uint8Array {
  const table = new ByteWriter();
  table.u16(4);
  table.i16(UNITS_PER_EM / 2);
  table.u16(bold ? 700 : 400);
  table.u16(5);
  table.u16(0);
  for (let k = 0; k < 10; k++) table.i16(0);
  table.i16(SANS_SERIF);
  for (let k = 0; k < 10; k++) table.u8(0);
  for (let k = 0; k < 4; k++) table.u32(0);
  table.append(new TextEncoder().encode("none"));
  table.u16(bold ? 0x20 : 0x40);
  table.u16(0x20);
  table.u16(0xffff);
  for (const value of [ascent, descent, 0]) table.i16(value);
  table.u16(ascent);
  table.u16(-descent);
  table.u32(0);
  table.u32(0);
  table.i16(Math.round(capHeight * 0.74));
  table.i16(capHeight);
  for (const value of [0, 32, 0]) table.u16(value);
  return table.bytes();
}

function nameTable({ name, bold }: FontFace): Uint8Array {
  const weight = bold ? "Bold" : "Regular";
  const records: readonly [number, string][] = [
    [1, name],
    [2, weight],
    [4, `${name} ${weight}`],
    [6, `${name}-${weight}`],
  ];
  const table = new ByteWriter();
  table.u16(0);
  table.u16(records.length);
  table.u16(6 + 12 * records.length);
  let at = 0;
  for (const [id, text] of records) {
    for (const value of [3, 1, 0x409, id, 2 * text.length, at]) table.u16(value);
    at += 2 * text.length;
  }
  for (const [, text] of records) for (let k = 0; k < text.length; k++) table.u16(text.charCodeAt(k));
  return table.bytes();
}

/** Version 3: no names of glyphs. */
function postTable(): Uint8Array {
  const table = new ByteWriter();
  table.u32(0x00030000);
  table.u32(0);
  table.i16(-100);
  table.i16(50);
  for (let k = 0; k < 5; k++) table.u32(0);
  return table.bytes();
}
