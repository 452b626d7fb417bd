// Reference: PNG (Portable Network Graphics) Specification, 3rd edition, W3C Recommendation 24 June 2025.
import { PNG } from "pngjs";
import sharp from "sharp";
import { expect, it } from "vitest";
import { crc32 } from "../../src/read/crc32.js";
import { decodePng } from "../../src/read/decode-png.js";
import { paeth } from "../../src/read/unfilter-png.js";

it("CRC-32 has its published check value, whatever the offset and length (§5.3; section from memory)", () => {
  const digits = Buffer.from("123456789");
  expect(crc32(digits, 0, 9)).toBe(0xcbf43926);
  expect(crc32(Buffer.from("..123456789.."), 2, 11)).toBe(0xcbf43926);
  expect(crc32(Buffer.from("IEND"), 0, 4)).toBe(0xae426082);
  expect(crc32(digits, 3, 3)).toBe(0);
});

it("the Paeth predictor breaks ties in the order left, above, upper left (§9.4)", () => {
  const table = [
    [10, 20, 15, 15],
    [10, 20, 10, 20],
    [10, 20, 20, 10],
    [0, 0, 0, 0],
    [255, 1, 128, 128],
    [3, 7, 5, 5],
  ] as const;
  for (const [a, b, c, expected] of table) expect(paeth(a, b, c), `${a} ${b} ${c}`).toBe(expected);
});

/** A picture with slopes and noise, so that an encoder has use for every filter. */
function levels(width: number, height: number): Uint16Array {
  let state = 7;
  return Uint16Array.from({ length: width * height }, (_, i) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (20000 + 37 * (i % width) + 91 * Math.floor(i / width) + (state >>> 22)) & 0xffff;
  });
}

it.each([
  [61, 37, false, true],
  [61, 37, true, true],
  [3, 2, true, false],
  [1, 9, true, true],
  [200, 100, false, false],
])(
  "16 bits written by sharp (libpng) come back exactly: %i×%i, interlaced %s, filters %s",
  async (width, height, progressive, adaptiveFiltering) => {
    const written = levels(width, height);
    const file = await sharp(written, { raw: { width, height, channels: 1 } })
      .toColourspace("grey16")
      .png({ progressive, adaptiveFiltering })
      .toBuffer();
    const { image } = decodePng(file, "p.png");
    expect([image.width, image.height, image.maxLevel]).toEqual([width, height, 65535]);
    expect(image.levels).toEqual(written);
  },
);

it.each([0, 1, 2, 3, 4, -1])("16 bits written by pngjs with filter %i come back exactly", (filterType) => {
  const [width, height] = [53, 29];
  const written = levels(width, height);
  const bytes = Buffer.from(Uint16Array.from(written).buffer);
  const file = PNG.sync.write({ width, height, data: bytes } as unknown as PNG, {
    colorType: 0,
    inputColorType: 0,
    bitDepth: 16,
    inputHasAlpha: false,
    filterType,
  });
  expect(decodePng(file, "p.png").image.levels).toEqual(written);
});
