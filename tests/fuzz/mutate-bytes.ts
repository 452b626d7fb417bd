// fuzz: bytes of a valid file → the same with a few of them changed, lost, doubled or moved.
import type { Random } from "../simulate/random.js";

/** Bytes at which readers break sooner than at others: ends of ranges, line ends, quotes, brackets, signs of
 *  numbers. */
const SHARP_BYTES = [
  0, 1, 9, 10, 13, 32, 34, 38, 39, 44, 45, 46, 47, 59, 60, 62, 91, 92, 93, 123, 125, 127, 128, 254, 255,
];
/** Whole numbers at which sizes and offsets break. */
const SHARP_NUMBERS = [
  0, 1, 2, 127, 128, 255, 256, 32767, 32768, 65535, 65536, 0x7fffffff, 0x80000000, 0xfffffffe, 0xffffffff,
];
/** Texts that mean something to some reader. */
const SHARP_TEXTS = [
  "NaN", "Infinity", "-", "1e999", "1e-999", "99999999999999999999", "0x10", "null", "true", "{}", "[]", '""', "__proto__",
  "constructor", "../", "\\..\\", "%00", "\u202e", "\u0000", "\ufeff", "'", "<!--", "]]>", "<![CDATA[", "&#0;", "&lt;", "<a>", "\r\n", "\n\n", ",,", ";;",
  "=1+1", "°C", "unit=K", "IDAT", "IEND", "II*\u0000", "PK\u0001\u0002",
]; // biome-ignore format: a list to be read across
const TEXT_BYTES = SHARP_TEXTS.map((text) => new TextEncoder().encode(text));

/** Change a file in one to six places.
 *  @param bytes not modified. */
export function mutateBytes(random: Random, bytes: Uint8Array): Uint8Array {
  let result = Buffer.from(bytes);
  const changes = random.chance(0.5) ? 1 : random.integer(2, 6);
  for (let i = 0; i < changes; i++) result = changeOnce(random, result);
  return result;
}

function changeOnce(random: Random, bytes: Buffer<ArrayBuffer>): Buffer<ArrayBuffer> {
  const { length } = bytes;
  const at = random.integer(0, Math.max(0, length - 1));
  // Most losses and repeats are short; a few take a large part of the file.
  const span = Math.min(
    length - at,
    random.chance(0.7) ? random.integer(1, 8) : random.integer(1, Math.max(1, length >> 1)),
  );
  const insert = (more: Uint8Array): Buffer<ArrayBuffer> =>
    Buffer.concat([bytes.subarray(0, at), more, bytes.subarray(at)]);
  switch (random.integer(0, 9)) {
    case 0:
      if (length > 0) bytes[at]! ^= 1 << random.integer(0, 7);
      return bytes;
    case 1:
      if (length > 0) bytes[at] = random.integer(0, 255);
      return bytes;
    case 2:
      if (length > 0) bytes[at] = random.pick(SHARP_BYTES);
      return bytes;
    case 3:
      return insert(Uint8Array.of(random.pick(SHARP_BYTES)));
    case 4:
      return insert(random.pick(TEXT_BYTES));
    case 5:
      return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + span)]);
    case 6:
      return insert(bytes.subarray(at, at + span));
    case 7: {
      const from = random.integer(0, Math.max(0, length - 1));
      return insert(bytes.subarray(from, from + span));
    }
    case 8:
      return Buffer.from(bytes.subarray(0, at));
    default: {
      const number = random.pick(SHARP_NUMBERS);
      const little = random.chance(0.5);
      if (random.chance(0.5) && at + 4 <= length)
        little ? bytes.writeUInt32LE(number, at) : bytes.writeUInt32BE(number, at);
      else if (at + 2 <= length)
        little ? bytes.writeUInt16LE(number & 65535, at) : bytes.writeUInt16BE(number & 65535, at);
      return bytes;
    }
  }
}
