import { constants, deflateSync } from "node:zlib";
import fc from "fast-check";
import { expect, it } from "vitest";
import { ToolError } from "../../../src/core/errors.js";
import { decodePng } from "../../../src/read/decode-png.js";
import { buildGrey16, chunk, header, SIGNATURE } from "../../unit/read/build-png.js";

const picture = fc
  .record({ width: fc.integer({ min: 1, max: 9 }), height: fc.integer({ min: 1, max: 7 }) })
  .chain(({ width, height }) => {
    const row = fc.array(fc.integer({ min: 0, max: 65535 }), { minLength: width, maxLength: width });
    return fc.array(row, { minLength: height, maxLength: height });
  });

it("reads back every picture of 16 bits", () => {
  fc.assert(
    fc.property(picture, (rows) => {
      const { image } = decodePng(buildGrey16(rows), "p.png");
      expect([image.width, image.height]).toEqual([rows[0]!.length, rows.length]);
      expect([...image.levels]).toEqual(rows.flat());
    }),
  );
});

it("throws nothing but a ToolError on a damaged file", () => {
  fc.assert(
    fc.property(
      picture,
      fc.array(fc.tuple(fc.nat(), fc.nat({ max: 255 })), { maxLength: 4 }),
      fc.nat(),
      (rows, hits, cut) => {
        const bytes = Buffer.from(buildGrey16(rows));
        for (const [at, byte] of hits) bytes[at % bytes.length] = byte;
        onlyToolErrors(cut % 2 === 0 ? bytes : bytes.subarray(0, cut % bytes.length));
      },
    ),
    { numRuns: 1000, seed: 20310203 },
  );
});

it("throws nothing but a ToolError where the check sums are right and the content is not", () => {
  const depth = fc.constantFrom(1, 2, 4, 8, 16, 3);
  const type = fc.constantFrom(0, 2, 3, 4, 6, 1);
  fc.assert(
    fc.property(
      depth,
      type,
      fc.nat({ max: 9 }),
      fc.nat({ max: 9 }),
      fc.nat({ max: 2 }),
      fc.uint8Array({ maxLength: 300 }),
      fc.uint8Array({ maxLength: 12 }),
      (bits, colourType, width, height, interlace, raw, extra) => {
        onlyToolErrors(
          Buffer.concat([
            SIGNATURE,
            header(width, height, bits, colourType, [0, 0, interlace]),
            chunk(extra.length % 2 === 0 ? "PLTE" : "tEXt", extra),
            chunk("IDAT", deflateSync(raw, { strategy: constants.Z_FIXED })),
            chunk("IEND"),
          ]),
        );
      },
    ),
    { numRuns: 1000, seed: 20310203 },
  );
});

/** Read, or refused in words. */
function onlyToolErrors(bytes: Uint8Array): void {
  let thrown: unknown = null;
  try {
    decodePng(bytes, "p.png");
  } catch (error) {
    thrown = error;
  }
  expect(thrown === null || thrown instanceof ToolError, String(thrown)).toBe(true);
}
