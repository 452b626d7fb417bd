// tests: samples → the bytes of a PNG, chunk by chunk, so that tests can write what libraries refuse to.
import { deflateSync } from "node:zlib";

/** A chunk with its length and a CRC computed bit by bit: slow, and another way than the code under test. */
export function chunk(type: string, data: Uint8Array | number[] = []): Buffer {
  const body = Buffer.concat([Buffer.from(type, "latin1"), Buffer.from(data)]);
  let crc = 0xffffffff;
  for (const byte of body) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ ((crc & 1) * 0xedb88320);
  }
  const whole = Buffer.alloc(body.length + 8);
  whole.writeUInt32BE(body.length - 4);
  body.copy(whole, 4);
  whole.writeUInt32BE((crc ^ 0xffffffff) >>> 0, body.length + 4);
  return whole;
}

export const SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

/** Header chunk. */
export function header(
  width: number,
  height: number,
  depth: number,
  colourType: number,
  last = [0, 0, 0],
): Buffer {
  const data = Buffer.alloc(13);
  data.writeUInt32BE(width, 0);
  data.writeUInt32BE(height, 4);
  data.set([depth, colourType, ...last], 8);
  return chunk("IHDR", data);
}

/** A PNG without filters and interlacing from whole rows of bytes. */
export function buildPng(
  head: { width: number; depth: number; colourType: number },
  rows: readonly (readonly number[])[],
  before: readonly Buffer[] = [],
): Buffer {
  const raw = Buffer.concat(rows.map((row) => Buffer.from([0, ...row])));
  return Buffer.concat([
    SIGNATURE,
    header(head.width, rows.length, head.depth, head.colourType),
    ...before,
    chunk("IDAT", deflateSync(raw)),
    chunk("IEND"),
  ]);
}

/** A grey PNG of 16 bits. */
export function buildGrey16(rows: readonly (readonly number[])[], before: readonly Buffer[] = []): Buffer {
  const bytes = rows.map((row) => row.flatMap((level) => [level >> 8, level & 255]));
  return buildPng({ width: rows[0]!.length, depth: 16, colourType: 0 }, bytes, before);
}
