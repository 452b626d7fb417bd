// Rows of grey levels → a PNG, packed as cameras do it; with the words of a scale, if there are any.
import { deflateSync } from "node:zlib";
import { crc32 } from "../../src/read/crc32.js";

/** Write a PNG (PNG specification, 3rd edition, §5 and §11.2).
 *  @param rows each with its filter byte (0) in front; 16 bits with the larger byte first.
 *  @param scaleText text under the tool's keyword; none, if absent.
 */
export function greyPng(
  { width, height, bits }: { readonly width: number; readonly height: number; readonly bits: 8 | 16 },
  rows: Buffer,
  scaleText?: string,
  /** Of deflate; 0 stores, which is as much to read and faster to make. */
  level = 1,
): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([bits, 0, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", head),
    ...(scaleText === undefined
      ? []
      : [chunk("tEXt", Buffer.from(`faultglow-scale\0${scaleText}`, "latin1"))]),
    chunk("IDAT", deflateSync(rows, { level })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

function chunk(type: string, data: Buffer): Buffer {
  const out = Buffer.alloc(12 + data.length);
  out.writeUInt32BE(data.length, 0);
  out.write(type, 4, "latin1");
  data.copy(out, 8);
  out.writeUInt32BE(crc32(out, 4, 8 + data.length) >>> 0, 8 + data.length);
  return out;
}
