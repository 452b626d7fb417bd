import { deflateSync } from "node:zlib";
import { afterEach, describe, expect, it } from "vitest";
import { applyScale } from "../../../src/frames/apply-scale.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { crc32, crc32ByTables } from "../../../src/read/crc32.js";
import { decodePng, decodePngAside } from "../../../src/read/decode-png.js";
import { makeRandom } from "../../simulate/random.js";
import { caught } from "../frames/caught.js";
import { agreed } from "../numeric/both-ways.js";
import { chunk, header, SIGNATURE } from "./build-png.js";

afterEach(() => useKernels(true));

const random = makeRandom("filtered pictures");
/** Any bytes are rows of some picture: those of every filter, in an order in which each comes first once. */
function picture(width: number, filters: readonly number[], colourType = 0): Buffer {
  const rowBytes = width * (colourType === 4 ? 4 : 2);
  const rows = filters.flatMap((filter) => [
    filter,
    ...Array.from({ length: rowBytes }, () => random.integer(0, 255)),
  ]);
  return Buffer.concat([
    SIGNATURE,
    header(width, filters.length, 16, colourType),
    chunk("IDAT", deflateSync(Buffer.from(rows))),
    chunk("IEND"),
  ]);
}

describe.each([0, 1, 2, 3, 4])("a picture of 16 bits whose first row has filter %i", (first) => {
  it.each([3, 8, 21, 40])("and is %i wide has the levels that the plain code reads", (width) => {
    const bytes = picture(width, [first, 0, 1, 2, 3, 4, 4, 3, 2, 1, first]);
    agreed(() => decodePng(bytes, "p.png").image.levels);
  });
});

it("an unknown filter is named with its row, as by the plain code", () => {
  const bytes = picture(5, [0, 1, 7]);
  expect(agreed(() => caught(() => decodePng(bytes, "p.png"))).message).toContain(
    "row 2 of the picture has filter 7",
  );
});

it.each([null, 0, 300, 65535])("levels become °C as by the plain code; no reading: %s", (noReadingLevel) => {
  const levels = Uint16Array.from({ length: 1003 }, (_, i) =>
    i % 11 === 0 ? [0, 65535, 300][i % 3]! : random.integer(0, 65535),
  );
  const image = { width: 59, height: 17, levels, maxLevel: 65535, noReadingLevel };
  const scale = { lowC: -20, highC: 121.7 };
  agreed(() => applyScale(image, scale));
});

it("a large picture is the same aside, and its damage is told alike", async () => {
  const large = picture(
    400,
    Array.from({ length: 200 }, (_, y) => y % 5),
  );
  expect(large.length).toBeGreaterThan(1 << 17);
  expect((await decodePngAside(large, "p.png")).image).toEqual(decodePng(large, "p.png").image);
  const rows = Buffer.alloc(200 * 801);
  for (let i = 0; i < rows.length; i++) rows[i] = i % 801 === 0 ? 0 : random.integer(0, 255);
  for (const data of [rows.subarray(0, -9), Buffer.concat([rows, rows.subarray(0, 801)])]) {
    const damaged = Buffer.concat([
      SIGNATURE,
      header(400, 200, 16, 0),
      chunk("IDAT", deflateSync(data)),
      chunk("IEND"),
    ]);
    await expect(decodePngAside(damaged, "p.png")).rejects.toEqual(caught(() => decodePng(damaged, "p.png")));
  }
});

it("both ways of the check sum agree, wherever they begin", () => {
  const bytes = Uint8Array.from({ length: 301 }, () => random.integer(0, 255));
  for (const [from, to] of [
    [0, 301],
    [3, 17],
    [5, 5],
    [290, 300],
  ] as const) {
    expect(crc32ByTables(bytes, from, to)).toBe(crc32(bytes, from, to));
  }
});
