// report: the bytes of a WOFF2 font → the same font as plain TrueType, without instructions for small sizes.
import { brotliDecompressSync } from "node:zlib";
import { ByteReader } from "./byte-reader.js";
import { packSfnt } from "./pack-sfnt.js";
import { rebuildGlyphs } from "./rebuild-glyphs.js";

/** Tags that the directory names by number: W3C WOFF2, §4.1, "Known Table Tags". */
const KNOWN_TAGS = (
  "cmap head hhea hmtx maxp name OS/2 post cvt_ fpgm glyf loca prep CFF_ VORG EBDT EBLC gasp hdmx kern LTSH PCLT VDMX vhea " +
  "vmtx BASE GDEF GPOS GSUB EBSC JSTF MATH CBDT CBLC COLR CPAL SVG_ sbix acnt avar bdat bloc bsln cvar fdsc feat fmtx fvar " +
  "gvar hsty just lcar mort morx opbd prop trak Zapf Silf Glat Gloc Feat Sill"
)
  .split(" ")
  .map((tag) => tag.replace("_", " "));
const OTHER_TAG = 63;
const SIGNATURE = 0x774f4632;
/** Flavours: TrueType outlines. Collections and CFF outlines are not read. */
const TRUE_TYPE = 0x00010000;

interface Table {
  readonly tag: string;
  readonly transformed: boolean;
  readonly length: number;
}

/** Unpack a WOFF2 font with TrueType outlines.
 *  Outlines, metrics, variations and characters come through; programs for hinting are left out, since a PDF has no use
 *  for them.
 *  Method: W3C Recommendation "WOFF File Format 2.0", 2022, §4 and §5.
 *  @throws Error if the bytes are no such font (the fonts are those of our own packages, so this is a fault of ours).
 */
export function decodeWoff2(bytes: Uint8Array): Uint8Array {
  const reader = new ByteReader(bytes);
  if (reader.u32() !== SIGNATURE) throw new Error("not a WOFF2 font: its first four bytes are not wOF2");
  if (reader.u32() !== TRUE_TYPE) throw new Error("the WOFF2 font has no TrueType outlines");
  reader.skip(4);
  const count = reader.u16();
  reader.skip(6);
  const compressed = reader.u32();
  reader.skip(24);
  const tables: Table[] = [];
  for (let i = 0; i < count; i++) tables.push(readEntry(reader));
  const unpacked = brotliDecompressSync(bytes.subarray(reader.at, reader.at + compressed));
  // A plain array: `slice` of a Buffer would not copy.
  const data = new Uint8Array(unpacked);
  const raw = new Map<string, { readonly bytes: Uint8Array; readonly transformed: boolean }>();
  let at = 0;
  for (const { tag, transformed, length } of tables) {
    raw.set(tag, { bytes: data.subarray(at, at + length), transformed });
    at += length;
  }
  return packSfnt(untransform(raw));
}

function readEntry(reader: ByteReader): Table {
  const flags = reader.u8();
  const index = flags & 0x3f;
  const tag = index === OTHER_TAG ? reader.tag() : (KNOWN_TAGS[index] as string);
  const version = flags >> 6;
  const length = reader.base128();
  // For glyf and loca version 3 is the table as it is; for all others version 0.
  const transformed = tag === "glyf" || tag === "loca" ? version !== 3 : version !== 0;
  return { tag, transformed, length: transformed ? reader.base128() : length };
}

/** Turn glyf, loca and hmtx back into what TrueType has. */
function untransform(
  raw: ReadonlyMap<string, { readonly bytes: Uint8Array; readonly transformed: boolean }>,
): Map<string, Uint8Array> {
  const tables = new Map<string, Uint8Array>();
  for (const [tag, { bytes }] of raw) {
    if (tag !== "fpgm" && tag !== "prep" && tag !== "cvt " && tag !== "cvar") tables.set(tag, bytes);
  }
  const glyf = raw.get("glyf");
  const head = raw.get("head");
  if (glyf === undefined || head === undefined)
    throw new Error("the WOFF2 font has no glyf or no head table");
  if (!glyf.transformed) return tables;
  const rebuilt = rebuildGlyphs(glyf.bytes);
  tables.set("glyf", rebuilt.glyf);
  tables.set("loca", rebuilt.loca);
  const longHead = head.bytes.slice();
  // indexToLocFormat: offsets of 32 bits.
  new DataView(longHead.buffer).setInt16(50, 1);
  tables.set("head", longHead);
  const hmtx = raw.get("hmtx");
  const hhea = raw.get("hhea");
  if (hmtx?.transformed && hhea !== undefined) {
    const metrics = new DataView(hhea.bytes.buffer, hhea.bytes.byteOffset).getUint16(34);
    tables.set("hmtx", rebuildMetrics(hmtx.bytes, metrics, rebuilt.left));
  }
  return tables;
}

/** Left bearings that were left out are the left edges of the outlines: WOFF2, §5.4. */
function rebuildMetrics(bytes: Uint8Array, metrics: number, left: Int16Array): Uint8Array {
  const reader = new ByteReader(bytes);
  const flags = reader.u8();
  const advances = Array.from({ length: metrics }, () => reader.u16());
  const out = new DataView(new ArrayBuffer(4 * metrics + 2 * (left.length - metrics)));
  advances.forEach((advance, i) => {
    out.setUint16(4 * i, advance);
    out.setInt16(4 * i + 2, flags & 1 ? left[i]! : reader.i16());
  });
  for (let i = metrics; i < left.length; i++) {
    out.setInt16(4 * metrics + 2 * (i - metrics), flags & 2 ? left[i]! : reader.i16());
  }
  return new Uint8Array(out.buffer);
}
