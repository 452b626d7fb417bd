// read: bytes → their CRC-32, the check value of PNG chunks.

/** Tables for eight bytes at a time; the first is the plain one. */
const TABLES = makeTables();

/** Compute the CRC-32 of ISO 3309 over a part of some bytes (PNG, 3rd edition, §5.5 and annex D).
 *  Method: tables for eight bytes a step ("slicing-by-8", M. E. Kounavis and F. L. Berry 2008,
 *  doi 10.1109/TC.2008.85, cited from memory).
 */
export function crc32(bytes: Uint8Array, from: number, to: number): number {
  const [t0, t1, t2, t3, t4, t5, t6, t7] = TABLES;
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
  const tables = Array.from({ length: 8 }, () => new Int32Array(256));
  for (let n = 0; n < 256; n++) {
    let c = n;
    for (let bit = 0; bit < 8; bit++) c = (c & 1) === 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
    tables[0]![n] = c;
  }
  for (let k = 1; k < 8; k++) {
    for (let n = 0; n < 256; n++) {
      const before = tables[k - 1]![n]!;
      tables[k]![n] = (before >>> 8) ^ tables[0]![before & 255]!;
    }
  }
  return tables;
}
