import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { droppedPhoto } from "../../../src/serve/dropped-pictures.js";
import { readDropped } from "../../../src/serve/read-dropped.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-photo-"));
});
afterAll(() => rm(folder, { recursive: true }));

const options = { toolVersion: "1.2.3", say: () => {} };
const picture = () => sharp({ create: { width: 60, height: 44, channels: 3, background: "#2f6b3a" } });

async function kept(name: string, bytes: Uint8Array): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return path;
}

const read = (path: string, name: string) => readDropped({ path, name, beside: null }, options);

describe("a photo of the board", () => {
  it.each(["png", "jpeg", "webp", "avif"] as const)(
    "as %s is told from a frame, and shown as JPEG",
    async (form) => {
      const name = `board.${form}`;
      const path = await kept(name, await picture().toFormat(form).toBuffer());
      expect(await read(path, name)).toMatchObject({ sort: "photo", error: null });
      const shown = await sharp(await droppedPhoto({ path }, options)).metadata();
      expect([shown.format, shown.width, shown.height]).toEqual(["jpeg", 60, 44]);
    },
  );

  // Whether HEVC can be unpacked depends on the libraries of the system. This file is a container as phones write it
  // whose packing is unknown to all of them: that of AVIF under the names of HEVC.
  it("as HEIC that can't be opened here says so, and what to do", async () => {
    const avif = await picture().avif().toBuffer();
    const heic = Buffer.from(
      avif
        .toString("latin1")
        .replaceAll("avif", "heic")
        .replaceAll("av01", "hvc1")
        .replaceAll("av1C", "hvcC"),
      "latin1",
    );
    expect(heic.toString("latin1", 4, 12)).toBe("ftypheic");
    const path = await kept("board.heic", heic);
    const told = await read(path, "board.heic");
    expect(told).toMatchObject({ sort: "unreadable", error: { code: "E_FRAME_TYPE" } });
    expect(told.error!.problem).toMatch(/HEIC photo, as phones write them/);
    expect(told.error!.fix).toMatch(/JPEG/);
    await expect(droppedPhoto({ path }, options)).rejects.toMatchObject({ code: "E_FRAME_TYPE" });
  });

  // Not every file that calls itself HEIC is packed by HEVC: what can be opened is taken, whatever it is called.
  it("as HEIC that can be opened is a photo", async () => {
    const avif = await picture().avif().toBuffer();
    const heic = Buffer.from(avif.toString("latin1").replace("ftypavif", "ftypheic"), "latin1");
    expect(heic.equals(avif)).toBe(false);
    const path = await kept("phone.heic", heic);
    expect(await read(path, "phone.heic")).toMatchObject({ sort: "photo", error: null });
    const shown = await sharp(await droppedPhoto({ path }, options)).metadata();
    expect([shown.format, shown.width, shown.height]).toEqual(["jpeg", 60, 44]);
  });

  it("as HEIC packed by HEVC is a photo where the libraries of the system know it", async (context) => {
    const hevc = await picture()
      .heif({ compression: "hevc" })
      .toBuffer()
      .catch(() => null);
    context.skip(
      hevc === null,
      "the libraries of this machine know no HEVC: such photos are refused with a word",
    );
    const path = await kept("hevc.heic", hevc!);
    expect(await read(path, "hevc.heic")).toMatchObject({ sort: "photo", error: null });
  });

  it("that is torn, or no picture, is told by what is wrong with it", async () => {
    const jpeg = await picture().jpeg().toBuffer();
    const path = await kept("torn.jpg", jpeg.subarray(0, 40));
    expect(await read(path, "torn.jpg")).toMatchObject({
      sort: "unreadable",
      error: { code: "E_FRAME_TYPE" },
    });
    await expect(droppedPhoto({ path }, options)).rejects.toThrow(/can't be opened as one/);
  });

  it("of more pixels than a frame has is a photo, and told so", async () => {
    const wide = sharp({ create: { width: 5000, height: 4000, channels: 3, background: "#2f6b3a" } });
    const path = await kept("wide.png", await wide.png({ compressionLevel: 1 }).toBuffer());
    expect(await read(path, "wide.png")).toMatchObject({ sort: "photo", error: null });
  });

  // SVG 1.1 (SE): a drawing may ask for filters over any number of pixels; packed by gzip, a comment takes a
  // thousandth.
  const SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="60" height="44">';
  it.each([
    ["as it is", "board.svg", Buffer.from(`${SVG}<rect width="9" height="9"/></svg>`)],
    ["packed", "board.svgz", gzipSync(`${SVG}<rect width="9" height="9"/></svg>`)],
    [
      "packed, of a comment of 60 MB",
      "bomb.svgz",
      gzipSync(
        Buffer.concat([Buffer.from(`${SVG}<!--`), Buffer.alloc(60_000_000, 32), Buffer.from("--></svg>")]),
      ),
    ],
  ])("is no drawing, which may ask for hours of work: %s", async (_, name, bytes) => {
    // The library knows it, or knows only that it is too much for it.
    const path = await kept(name, bytes);
    expect((await read(path, name)).sort).toBe("unreadable");
    await expect(droppedPhoto({ path }, options)).rejects.toThrow(/first bytes are none of a photo's/);
  });
});
