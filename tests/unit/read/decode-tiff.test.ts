import { describe, expect, it } from "vitest";
import { decodeTiff } from "../../../src/read/decode-tiff.js";
import { caughtAsync } from "../frames/caught.js";
import { buildTiff, type TiffPage } from "./build-tiff.js";

const page = (more: Partial<TiffPage>): TiffPage => ({
  width: 3,
  height: 2,
  bits: 16,
  format: 1,
  photometric: 1,
  samples: [0, 1, 255, 256, 65534, 65535],
  ...more,
});
const decode = (pages: TiffPage[], little = true) => decodeTiff(buildTiff(pages, little), "t.tif");

describe.each([
  ["little", true],
  ["big", false],
] as const)("decodeTiff, %s end first", (_, little) => {
  it("reads every level of 16 bits exactly", async () => {
    const samples = Array.from({ length: 65536 }, (_, i) => (i * 40503) & 0xffff);
    const tiff = await decode([page({ width: 128, height: 512, samples })], little);
    const image = tiff.pages[0]!;
    expect([tiff.sort, image.width, image.height]).toEqual(["levels", 128, 512]);
    expect("levels" in image && [image.maxLevel, [...image.levels]]).toEqual([65535, samples]);
  });
  it("reads 8 bits", async () => {
    const samples = [0, 1, 127, 128, 254, 255];
    const tiff = await decode([page({ bits: 8, samples })], little);
    expect(tiff.pages[0]).toMatchObject({ maxLevel: 255, levels: Uint8Array.from(samples) });
  });
  it("turns a picture in which white is zero, so that black is", async () => {
    const tiff = await decode([page({ photometric: 0 })], little);
    expect(tiff.pages[0]).toMatchObject({ levels: Uint16Array.of(65535, 65534, 65280, 65279, 1, 0) });
  });
  it("reads floating point as values, NaN and infinity included", async () => {
    const samples = [21.5, -40.25, 0.1, Number.NaN, Infinity, 1e-20];
    const tiff = await decode([page({ bits: 32, format: 3, samples })], little);
    expect([tiff.sort, tiff.pages[0]]).toMatchObject([
      "values",
      { width: 3, height: 2, values: Float64Array.from(Float32Array.from(samples)) },
    ]);
  });
  it("reads several pages as several frames", async () => {
    const other = [9, 8, 7, 6, 5, 4];
    const tiff = await decode([page({}), page({ samples: other })], little);
    expect(tiff.pages.map((p) => "levels" in p && p.levels[5])).toEqual([65535, 4]);
  });
});

describe("what decodeTiff refuses", () => {
  it.each([
    [
      "colour",
      page({ photometric: 2, channels: 3, samples: Array.from({ length: 18 }, () => 5) }),
      "E_PICTURE_COLOUR",
    ],
    ["signed samples", page({ format: 2 }), "E_TIFF"],
    ["32 bits unsigned", page({ bits: 32 }), "E_TIFF"],
    ["1 bit", page({ bits: 1, width: 8, height: 2, samples: Array.from({ length: 16 }, () => 1) }), "E_TIFF"],
    ["a giant", page({ width: 100_000, height: 100_000 }), "E_FRAME_LARGE"],
  ] as const)("%s", async (_, bad, code) => {
    expect((await caughtAsync(decode([bad]))).code).toBe(code);
  });
  it("a file cut short, and a file of another kind", async () => {
    const whole = buildTiff(
      [page({ width: 30, height: 20, samples: Array.from({ length: 600 }, (_, i) => i) })],
      true,
    );
    expect((await caughtAsync(decodeTiff(whole.subarray(0, 400), "t.tif"))).code).toBe("E_TIFF");
    expect((await caughtAsync(decodeTiff(Buffer.from("no picture at all"), "t.tif"))).code).toBe("E_TIFF");
    // A picture or a drawing that the library would open as well.
    const drawing = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0H9V9"/></svg>';
    const caught = await caughtAsync(decodeTiff(Buffer.from(drawing), "t.tif"));
    expect([caught.code, caught.message]).toEqual([
      "E_TIFF",
      expect.stringContaining("its first bytes are none of a TIFF's"),
    ]);
  });
  it("pages of different sizes", async () => {
    const small = page({ width: 2, samples: [1, 2, 3, 4] });
    expect((await caughtAsync(decode([page({}), small]))).code).toBe("E_FRAME_SIZE");
  });
});
