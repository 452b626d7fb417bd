// read: bytes → their CRC-32, the check value of PNG chunks.
import zlib from "node:zlib";

/** Tables for eight bytes at a time; the first is the plain one. Made when first needed: most frames are text. */
let tables: Int32Array[] | null = null;

/** Node's own, from 20.15 on: in the processor's own steps. */
const native: ((bytes: Uint8Array) => number) | undefined = zlib.crc32;

/** Compute the CRC-32 of ISO 3309 over a part of some bytes (PNG, 3rd edition, §5.5 and annex D). */
export function crc32(bytes: Uint8Array, from: number, to: number): number {
  return native === undefined ? crc32ByTables(bytes, from, to) : native(bytes.subarray(from, to));
}

/** The same where Node has none.
 *  Method: tables for eight bytes a step ("slicing-by-8", M. E. Kounavis and F. L. Berry 2008,
 *  doi 10.1109/TC.2008.85, cited from memory).
 */
export function crc32ByTables(bytes: Uint8Array, from: number, to: number): number {
  tables ??= makeTables();
  const [t0, t1, t2, t3, t4, t5, t6, t7] = tables;
  let crc = 0xffffffff;
  let p = from;
  for (; p + 8 <= to; p += 8) {
    crc =
      t7![(crc ^ bytes[p]!) & 255]! ^
      t6![((crc >>> 8) ^ bytes[p + 1]!) & 255]! ^
      t5![((crc >>> 16) ^ bytes[p + 2]!) & 255]! ^
      t4![(crc >>> 24) ^ bytes[p + 3]!]! ^
      t3![bytes[p + 4]!]! ^
      t2![bytes[p + 5]!]! ^
      t1![bytes[p + 6]!]! ^
      t0![bytes[p + 7]!]!;
  }
  for (; p < to; p++) crc = (crc >>> 8) ^ t0![(crc ^ bytes[p]!) & 255]!;
  return (crc ^ 0xffffffff) >>> 0;
}

function makeTables(): Int32Array[] {
  const made = Array.from({ length: 8 }, () => new Int32Array(256));
  for (let n = 0; n < 256; n++) {
    let c = n;
    for (let bit = 0; bit < 8; bit++) c = (c & 1) === 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
    made[0]![n] = c;
  }
  for (let k = 1; k < 8; k++) {
    for (let n = 0; n < 256; n++) {
      const before = made[k - 1]![n]!;
      made[k]![n] = (before >>> 8) ^ made[0]![before & 255]!;
    }
  }
  return made;
}
