// report: the transformed glyf table of a WOFF2 font → glyf and loca as TrueType has them.
import { ByteReader } from "./byte-reader.js";
import { ByteWriter } from "./byte-writer.js";

const COMPOSITE = 0xffff;
const MORE_COMPONENTS = 0x20;
const HAS_INSTRUCTIONS = 0x100;
const ON_CURVE = 1;

/** glyf, loca with offsets of 32 bits, and the left edge of each glyph. */
export interface RebuiltGlyphs {
  readonly glyf: Uint8Array;
  readonly loca: Uint8Array;
  readonly left: Int16Array;
}

interface Streams {
  readonly contours: ByteReader;
  readonly points: ByteReader;
  readonly flags: ByteReader;
  readonly glyphs: ByteReader;
  readonly composites: ByteReader;
  readonly boxes: ByteReader;
}

/** Undo the transform of the glyf table. Instructions are left out; points keep their order, which variations need.
 *  Method: W3C "WOFF File Format 2.0", 2022, §5.1 to §5.3.
 */
export function rebuildGlyphs(bytes: Uint8Array): RebuiltGlyphs {
  const header = new ByteReader(bytes);
  header.skip(4);
  const count = header.u16();
  header.skip(2);
  const sizes = Array.from({ length: 7 }, () => header.u32());
  const [contours, points, flags, glyphs, composites, boxes] = sizes.map(
    (size) => new ByteReader(header.take(size)),
  ) as [ByteReader, ByteReader, ByteReader, ByteReader, ByteReader, ByteReader];
  const streams: Streams = { contours, points, flags, glyphs, composites, boxes };
  const hasBox = boxes.take(4 * Math.floor((count + 31) / 32));
  const glyf = new ByteWriter();
  const loca = new ByteWriter();
  const left = new Int16Array(count);
  loca.u32(0);
  for (let i = 0; i < count; i++) {
    const contourCount = contours.u16();
    const boxed = (hasBox[i >> 3]! & (0x80 >> (i & 7))) !== 0;
    if (contourCount === COMPOSITE) left[i] = composite(streams, glyf);
    else if (contourCount > 0) left[i] = simple(streams, glyf, contourCount, boxed);
    glyf.pad(4);
    loca.u32(glyf.length);
  }
  return { glyf: glyf.bytes(), loca: loca.bytes(), left };
}

/** Components are copied as they are; their box is always given. */
function composite({ glyphs, composites, boxes }: Streams, glyf: ByteWriter): number {
  glyf.u16(COMPOSITE);
  const left = boxes.i16();
  glyf.i16(left);
  for (let k = 0; k < 3; k++) glyf.i16(boxes.i16());
  let instructed = false;
  for (let flags = MORE_COMPONENTS; flags & MORE_COMPONENTS; ) {
    flags = composites.u16();
    if (flags & HAS_INSTRUCTIONS) instructed = true;
    glyf.u16(flags & ~HAS_INSTRUCTIONS);
    glyf.append(composites.take(componentBytes(flags)));
  }
  if (instructed) glyphs.short255();
  return left;
}

/** Glyph number, two arguments of one or two bytes, and a scale of none, one, two or four numbers. */
function componentBytes(flags: number): number {
  const args = flags & 0x1 ? 4 : 2;
  const scale = flags & 0x8 ? 2 : flags & 0x40 ? 4 : flags & 0x80 ? 8 : 0;
  return 2 + args + scale;
}

function simple(streams: Streams, glyf: ByteWriter, contourCount: number, boxed: boolean): number {
  const ends: number[] = [];
  let total = 0;
  for (let k = 0; k < contourCount; k++) {
    total += streams.points.short255();
    ends.push(total - 1);
  }
  const x = new Int16Array(total);
  const y = new Int16Array(total);
  const on = new Uint8Array(total);
  for (let k = 0, atX = 0, atY = 0; k < total; k++) {
    const flag = streams.flags.u8();
    const [dx, dy] = triplet(flag & 0x7f, streams.glyphs);
    atX += dx;
    atY += dy;
    x[k] = atX;
    y[k] = atY;
    on[k] = flag >> 7 === 0 ? ON_CURVE : 0;
  }
  streams.glyphs.short255();
  const box = boxed
    ? Array.from({ length: 4 }, () => streams.boxes.i16())
    : [least(x), least(y), most(x), most(y)];
  writeSimple(glyf, { ends, x, y, on, box });
  return box[0] as number;
}

/** A step to the next point in one to five bytes: WOFF2, §5.2, table of triplets. */
function triplet(flag: number, data: ByteReader): [number, number] {
  const sign = (bit: number, value: number): number => (flag & bit ? value : -value);
  if (flag < 10) return [0, sign(1, ((flag & 14) << 7) + data.u8())];
  if (flag < 20) return [sign(1, (((flag - 10) & 14) << 7) + data.u8()), 0];
  if (flag < 84) {
    const b = flag - 20;
    const byte = data.u8();
    return [sign(1, 1 + (b & 0x30) + (byte >> 4)), sign(2, 1 + ((b & 0x0c) << 2) + (byte & 0x0f))];
  }
  if (flag < 120) {
    const b = flag - 84;
    const dx = 1 + (Math.floor(b / 12) << 8) + data.u8();
    const dy = 1 + (((b % 12) >> 2) << 8) + data.u8();
    return [sign(1, dx), sign(2, dy)];
  }
  if (flag < 124) {
    const [a, b, c] = [data.u8(), data.u8(), data.u8()];
    return [sign(1, (a << 4) + (b >> 4)), sign(2, ((b & 0x0f) << 8) + c)];
  }
  const [a, b, c, d] = [data.u8(), data.u8(), data.u8(), data.u8()];
  return [sign(1, (a << 8) + b), sign(2, (c << 8) + d)];
}

/** An outline: points with the last one of each contour, and the box around it. */
export interface Outline {
  readonly ends: readonly number[];
  readonly x: Int16Array;
  readonly y: Int16Array;
  readonly on: Uint8Array;
  /** Least x and y, largest x and y. */
  readonly box: readonly number[];
}

/** Write a simple glyph, each step in two bytes: larger than need be, but a PDF packs it anyway. */
export function writeSimple(glyf: ByteWriter, { ends, x, y, on, box }: Outline): void {
  glyf.i16(ends.length);
  for (const edge of box) glyf.i16(edge);
  for (const end of ends) glyf.u16(end);
  glyf.u16(0);
  for (const flag of on) glyf.u8(flag);
  for (let k = 0; k < x.length; k++) glyf.i16(x[k]! - (k === 0 ? 0 : x[k - 1]!));
  for (let k = 0; k < y.length; k++) glyf.i16(y[k]! - (k === 0 ? 0 : y[k - 1]!));
}

function least(values: Int16Array): number {
  return values.reduce((a, b) => Math.min(a, b));
}

function most(values: Int16Array): number {
  return values.reduce((a, b) => Math.max(a, b));
}
