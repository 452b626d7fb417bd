import { createHash } from "node:crypto";
import { chmod, mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { cannotRead } from "../../../src/read/list-frame-files.js";
import { readFrames } from "../../../src/read/read-frames.js";
import { sniffFileType } from "../../../src/read/sniff-file-type.js";
import { caught, caughtAsync } from "../frames/caught.js";
import { buildGrey16, buildPng, chunk } from "./build-png.js";
import { buildTiff } from "./build-tiff.js";

let root = "";
const at = (name: string) => `${root}/${name}`;
async function put(name: string, content: string | Uint8Array): Promise<string> {
  await mkdir(at(name).replace(/\/[^/]*$/, ""), { recursive: true });
  await writeFile(at(name), content);
  return at(name);
}
beforeAll(async () => {
  root = (await mkdtemp(join(tmpdir(), "frames-"))).replaceAll("\\", "/");
});
afterAll(() => rm(root, { recursive: true, force: true }));

const GREY = buildGrey16([
  [0, 13107, 26214],
  [39321, 52428, 65535],
]);
const scaleFile = (more: object) => JSON.stringify({ kind: "faultglow/scale", version: 1, ...more });

describe("readFrames", () => {
  it("reads text with name, hash and place in the file", async () => {
    const text = "21.5,22,23\n24,25,26\n\n31.5,32,33\n34,35,36\n";
    const file = await put("text/two.csv", text);
    const { frames, scale, notes } = await readFrames([file]);
    const sha256 = createHash("sha256").update(text).digest("hex");
    expect(frames.map((f) => [f.file, f.sha256, f.index, f.stepK, f.saturated])).toEqual([
      [file, sha256, 0, null, null],
      [file, sha256, 1, null, null],
    ]);
    expect(frames.map((f) => [f.raster.width, f.raster.height, f.raster.data[3]])).toEqual([
      [3, 2, 24],
      [3, 2, 34],
    ]);
    expect([scale, notes.map((n) => n.code)]).toEqual([null, ["N_UNIT_ASSUMED"]]);
  });

  it("reads many files in natural order", async () => {
    for (let i = 1; i <= 23; i++) await put(`many/f${i}.txt`, `${i}.5 22 23\n24 25 26\n`);
    const { frames } = await readFrames([at("many")], { unit: "C" });
    expect(frames.map((f) => f.raster.data[0])).toEqual(Array.from({ length: 23 }, (_, i) => i + 1.5));
  });

  it("reads a PNG with the scale of the option", async () => {
    const file = await put("option/p.png", GREY);
    const { frames, scale, notes } = await readFrames([file], { scale: { lowC: 20, highC: 45 } });
    expect([...frames[0]!.raster.data]).toEqual([20, 25, 30, 35, 40, 45]);
    expect(frames[0]).toMatchObject({ stepK: 25 / 65535, saturated: { low: 1, high: 1 }, index: 0, file });
    expect(scale).toEqual({ lowC: 20, highC: 45 });
    // One pixel of six stands at either end.
    expect(notes.map((n) => n.code)).toEqual(["N_SATURATED", "N_SATURATED"]);
  });

  it("reads the scale of a file beside the picture, the more telling name first", async () => {
    const file = await put("beside/p.png", GREY);
    await put("beside/p.json", scaleFile({ lowC: 0, highC: 50 }));
    expect((await readFrames([file])).frames[0]!.raster.data[4]).toBe(40);
    await put("beside/p.png.json", scaleFile({ gainCPerLevel: 1 / 13107, offsetC: 10 }));
    expect((await readFrames([file])).frames[0]!.raster.data[4]).toBe(14);
    const both = await readFrames([at("beside")], { scale: { lowC: 20, highC: 45 } });
    expect(both.frames[0]!.raster.data[4]).toBe(40);
    expect(both.notes.map((n) => n.code)).toContain("N_OPTION_WINS");
  });

  it("leaves a JSON of another kind beside the picture alone, but not a broken scale file", async () => {
    const file = await put("other/p.png", GREY);
    await put("other/p.json", JSON.stringify({ kind: "faultglow/view", version: 1 }));
    expect((await caughtAsync(readFrames([file]))).code).toBe("E_SCALE_NONE");
    await put("other/p.json", scaleFile({ lowC: 50, highC: 20 }));
    const wrong = await caughtAsync(readFrames([file]));
    expect([wrong.code, wrong.parts.place?.file]).toEqual(["E_SCALE_VALUE", at("other/p.json")]);
    await put("other/p.png.json", JSON.stringify({ kind: "faultglow/view", version: 1 }));
    expect((await caughtAsync(readFrames([file]))).code).toBe("E_SCALE_VALUE");
    await put("other/p.png.json", "{");
    expect((await caughtAsync(readFrames([file]))).code).toBe("E_JSON_SYNTAX");
  });

  it("reads the scale inside the picture, last of all", async () => {
    const inside = chunk("tEXt", Buffer.from("faultglow-scale\0-10:40", "latin1"));
    const file = await put(
      "inside/p.png",
      buildGrey16(
        [
          [0, 13107],
          [52428, 65535],
        ],
        [inside],
      ),
    );
    expect((await readFrames([file])).frames[0]!.raster.data[1]).toBe(0);
    await put("inside/p.png.json", scaleFile({ lowC: 0, highC: 50 }));
    const { frames, notes } = await readFrames([file]);
    expect(frames[0]!.raster.data[1]).toBe(10);
    expect(notes.find((n) => n.code === "N_OPTION_WINS")?.text).toContain(
      "the text in the picture as -10:40",
    );
    const wrong = chunk("tEXt", Buffer.from("faultglow-scale\0hot:cold", "latin1"));
    const bad = await put(
      "inside-bad/p.png",
      buildGrey16(
        [
          [0, 1],
          [2, 3],
        ],
        [wrong],
      ),
    );
    expect((await caughtAsync(readFrames([bad]))).code).toBe("E_SCALE_VALUE");
  });

  it("applies gain and offset to pictures and to text", async () => {
    const scale = { gainCPerLevel: 0.01, offsetC: -273.15 };
    const png = await put(
      "linear/p.png",
      buildGrey16([
        [29815, 27315],
        [31315, 30315],
      ]),
    );
    const csv = await put("linear/t.csv", "29815,27315\n31315,30315\n");
    for (const file of [png, csv]) {
      const { frames } = await readFrames([file], { scale });
      expect(Array.from(frames[0]!.raster.data, (v) => Number(v.toFixed(3)))).toEqual([25, 0, 40, 30]);
      expect(frames[0]!.stepK).toBe(0.01);
    }
    const error = await caughtAsync(readFrames([csv]));
    expect(error.code).toBe("E_FRAME_RANGE");
    expect(error.message).toContain("give gain 0.01 and offset -273.15");
  });

  it("reads TIFF by its bytes, whatever its name", async () => {
    const levels = {
      width: 3,
      height: 2,
      bits: 16,
      format: 1,
      photometric: 1,
      samples: [0, 13107, 26214, 39321, 52428, 65535],
    } as const;
    const file = await put("tiff/levels", buildTiff([levels, levels], false));
    const { frames } = await readFrames([file], { scale: { lowC: 20, highC: 45 } });
    expect(frames.map((f) => [f.index, ...f.raster.data])).toEqual([
      [0, 20, 25, 30, 35, 40, 45],
      [1, 20, 25, 30, 35, 40, 45],
    ]);
    const kelvin = {
      ...levels,
      bits: 32,
      format: 3,
      samples: [298.15, 299.15, 300.15, 301.15, 302.15, Number.NaN],
    } as const;
    const float = await put("tiff/float.tif", buildTiff([kelvin], true));
    const guessed = await readFrames([float]);
    expect(Array.from(guessed.frames[0]!.raster.data, (v) => Number(v.toFixed(3)))).toEqual([
      25,
      26,
      27,
      28,
      29,
      Number.NaN,
    ]);
    expect(guessed.notes.map((n) => n.code)).toEqual(["N_UNIT_GUESSED"]);
    const told = await readFrames([float], { unit: "K", scale: { lowC: 0, highC: 1 } });
    expect(told.notes.map((n) => n.code)).toEqual(["N_SCALE_UNUSED"]);
  });

  it("notes a scale that a text file has no use for", async () => {
    const file = await put("unused/t.csv", "unit=C\n21.5,22\n23,24\n");
    const { notes } = await readFrames([file], { scale: { lowC: 20, highC: 45 } });
    expect(notes.map((n) => n.code)).toEqual(["N_SCALE_UNUSED"]);
  });

  it("says in the name of both files that frames differ in size", async () => {
    const a = await put("size/a.csv", "21.5,22\n23,24\n");
    const b = await put("size/b.csv", "21.5,22,23\n23,24,25\n");
    const error = await caughtAsync(readFrames([b, a]));
    expect(error.code).toBe("E_FRAME_SIZE");
    expect(error.message).toContain(`${a} is 2×2, but ${b} is 3×2`);
  });

  it("reports the first bad file of several", async () => {
    await put("bad/f1.csv", "21.5,22\n23,24\n");
    for (const n of [2, 3, 4, 5]) await put(`bad/f${n}.csv`, `21.5,22\n23,x${n}\n24,25\n`);
    for (let round = 0; round < 5; round++) {
      expect((await caughtAsync(readFrames([at("bad")]))).message).toContain('"x2"');
    }
  });

  it("passes the words for the text on", async () => {
    const file = await put("words/t.txt", "1,2 3,4\n5,6 7,8\n");
    const { frames } = await readFrames([file], { unit: "F", separator: "space", decimal: "comma" });
    expect(frames[0]!.raster.data[3]).toBeCloseTo(((7.8 - 32) * 5) / 9, 5);
  });

  const unlimited = process.platform === "win32" || process.getuid?.() === 0;
  it.skipIf(unlimited)(
    "says that a file may not be read (skipped for the superuser and on Windows)",
    async () => {
      const file = await put("locked/t.csv", "21.5,22\n23,24\n");
      await chmod(file, 0);
      const error = await caughtAsync(readFrames([file]));
      expect([error.code, error.message.includes("no permission")]).toEqual(["E_FRAME_READ", true]);
    },
  );
  it("words what the system refuses", () => {
    const error = (code: string) =>
      cannotRead("f.csv", Object.assign(new Error("raw words"), { code })).message;
    expect(error("EACCES")).toContain("E_FRAME_READ: the file can't be read: you have no permission");
    expect(error("EISDIR")).toContain("a folder");
    expect(error("EIO")).toContain("raw words");
  });
});

describe("what a file is", () => {
  it("refuses other kinds by name of the kind, whatever they are called", () => {
    for (const [start, kind] of [
      [[0xff, 0xd8, 0xff, 0xe0], "a JPEG picture"],
      [[...Buffer.from("GIF89a")], "a GIF picture"],
      [[...Buffer.from("BM"), 0, 0, 1, 0], "a BMP picture"],
      [[...Buffer.from("%PDF-1.7")], "a PDF document"],
      [[0x50, 0x4b, 3, 4], "a spreadsheet"],
      [[...Buffer.from("RIFF"), 1, 2, 3, 4], "a WebP picture"],
      [[0, 1, 2, 3, 4], "a binary file"],
    ] as const) {
      for (const name of ["f.csv", "f"]) {
        const error = caught(() => sniffFileType(Uint8Array.from(start), name));
        expect([error.code, error.message.includes(kind)], kind).toEqual(["E_FRAME_TYPE", true]);
      }
    }
    expect(caught(() => sniffFileType(Uint8Array.of(0xff, 0xd8, 0xff), "f.png")).code).toBe("E_FRAME_TYPE");
  });
  it("knows PNG, TIFF and text by their bytes, and a damaged PNG by its name", () => {
    expect(sniffFileType(GREY, "f.csv")).toBe("png");
    expect(sniffFileType(Uint8Array.of(0x4d, 0x4d, 0, 42, 0, 0, 0, 8), "f.png")).toBe("tiff");
    expect(sniffFileType(Uint8Array.of(0x49, 0x49, 42, 0), "f")).toBe("tiff");
    expect(sniffFileType(Buffer.from("21.5,22"), "f")).toBe("text");
    expect(sniffFileType(Buffer.from("BMS board 3\n1 2"), "f.txt")).toBe("text");
    expect(sniffFileType(Buffer.from("21.5,22", "utf16le"), "f.csv")).toBe("text");
    expect(sniffFileType(Uint8Array.of(9, 0x50, 0x4e, 0x47), "f")).toBe("png");
    expect(sniffFileType(Buffer.from("garbage"), "f.PNG")).toBe("png");
    expect(sniffFileType(Buffer.from("garbage"), "f.tif")).toBe("tiff");
  });
  it("refuses an empty file", async () => {
    const file = await put("none/t.csv", "");
    expect((await caughtAsync(readFrames([file]))).code).toBe("E_FRAME_EMPTY");
  });
  it("reads a palette picture that is grey, with a note", async () => {
    const palette = chunk("PLTE", [0, 0, 0, 51, 51, 51, 255, 255, 255]);
    const file = await put(
      "grey/p.png",
      buildPng(
        { width: 2, depth: 8, colourType: 3 },
        [
          [0, 1],
          [2, 1],
        ],
        [palette],
      ),
    );
    const { frames, notes } = await readFrames([file], { scale: { lowC: 0, highC: 50 } });
    expect([...frames[0]!.raster.data]).toEqual([0, 10, 50, 10]);
    expect(notes.map((n) => n.code)).toContain("N_PICTURE_GREY");
  });
});
