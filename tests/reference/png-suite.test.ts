// Reference: PngSuite by Willem van Schaik (1996, 2011; free to use), with the expected values of the pngjs project's
// copy of the suite, which hold red, green, blue and alpha of every pixel.
import { readdirSync, readFileSync } from "node:fs";
import { PNG } from "pngjs";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePng } from "../../src/read/decode-png.js";
import { caught } from "../unit/frames/caught.js";
import { sharedFolder } from "./shared-folder.js";

const suite = sharedFolder("pngsuite");
const names = suite.missing ? [] : readdirSync(`${suite.path}/png`).filter((name) => name.endsWith(".png"));
const read = (name: string) => readFileSync(`${suite.path}/png/${name}`);
const decode = (name: string) => decodePng(read(name), name);
/** Colour type and depth by the suite's naming: …0g16 is grey of 16 bits. The suite calls corrupt files x…. */
const corrupt = names.filter((name) => name.startsWith("x"));
const grey = names.filter((name) => /0g\d\d\.png$/.test(name) && !name.startsWith("x"));
const rest = names.filter((name) => !corrupt.includes(name) && !grey.includes(name));

describe.skipIf(suite.missing)(`PngSuite${suite.title}`, () => {
  it("is there whole", () => {
    // Counted in the copy at hand: 175 files, of which 42 are grey and 14 corrupt.
    expect([names.length, grey.length, corrupt.length]).toEqual([175, 42, 14]);
  });

  it.each(grey)("%s: every pixel is the expected level", (name) => {
    const { image } = decode(name);
    const expected = JSON.parse(
      readFileSync(`${suite.path}/json/${name.replace(".png", ".json")}`, "utf8"),
    ) as number[];
    // The expected values are spread to 8 bits where the file has fewer: by 255, 85, 17 exactly.
    const spread = image.maxLevel === 65535 ? 1 : 255 / image.maxLevel;
    const red = expected.filter((_, i) => i % 4 === 0);
    expect(Array.from(image.levels, (level) => level * spread)).toEqual(red);
    const clear = expected.filter((_, i) => i % 4 === 3).map((alpha) => alpha === 0);
    expect(Array.from(image.levels, (level) => level === image.noReadingLevel)).toEqual(clear);
    expect(image.levels).toHaveLength(image.width * image.height);
  });

  it.each(grey)("%s: two independent decoders agree", async (name) => {
    const { image } = decode(name);
    const deep = image.maxLevel === 65535;
    const png = PNG.sync.read(read(name), { skipRescale: true });
    expect([image.width, image.height]).toEqual([png.width, png.height]);
    // Told not to rescale, pngjs gives the levels of the file; clear pixels it sets to 0.
    const byPngjs = Array.from({ length: image.levels.length }, (_, i) => png.data[4 * i]!);
    const shown = Array.from(image.levels, (level) => (level === image.noReadingLevel ? 0 : level));
    expect(shown).toEqual(byPngjs);
    const picture = sharp(read(name));
    const raw = await (deep
      ? picture.toColourspace("grey16").extractChannel(0).raw({ depth: "ushort" })
      : picture.extractChannel(0).raw({ depth: "uchar" })
    ).toBuffer();
    const bySharp = deep
      ? [...new Uint16Array(raw.buffer.slice(raw.byteOffset, raw.byteOffset + raw.length))]
      : [...raw];
    expect(Array.from(image.levels, (level) => level * (deep ? 1 : 255 / image.maxLevel))).toEqual(bySharp);
  });

  it.each(rest)(
    "%s: read only if all channels are equal and opaque, else refused with the reason",
    (name) => {
      const png = PNG.sync.read(read(name), { skipRescale: true });
      const levels: number[] = [];
      let firstColour = -1;
      let opaque = true;
      for (let i = 0; i < png.width * png.height; i++) {
        const [red, green, blue, alpha] = [0, 1, 2, 3].map((c) => png.data[4 * i + c]!);
        if (firstColour < 0 && (red !== green || red !== blue)) firstColour = i;
        // A colour marked by tRNS is clear but no alpha channel; pngjs gives it 0 like the rest.
        if (alpha !== (png.depth === 16 ? 65535 : 255)) opaque = false;
        levels.push(red!);
      }
      if (firstColour < 0 && opaque) {
        const { image, notes } = decode(name);
        expect([...image.levels]).toEqual(levels);
        expect(notes.map((n) => n.code)).toEqual(/4a\d\d\.png$/.test(name) ? [] : ["N_PICTURE_GREY"]);
        return;
      }
      const error = caught(() => decode(name));
      // With an alpha channel that is not opaque, or a clear palette entry, either reason is a right one.
      if (firstColour < 0) expect(error.code).toBe("E_PICTURE_ALPHA");
      else if (opaque) expect(error.code).toBe("E_PICTURE_COLOUR");
      else expect(["E_PICTURE_ALPHA", "E_PICTURE_COLOUR"]).toContain(error.code);
      expect(error.message).toMatch(/colours hold no temperatures|transparent/);
      expect(error.parts.place?.file).toBe(name);
    },
  );

  // What is wrong with each, from the suite's own description and from looking at the bytes.
  const faults: Record<string, RegExp> = {
    xc1n0g08: /colour type 1/,
    xc9n2c08: /colour type 9/,
    xcrn0g04: /signature/,
    xcsn0g01: /CRC\) of chunk IDAT/,
    xd0n2c08: /not 0/,
    xd3n2c08: /not 3/,
    xd9n2c08: /not 99/,
    xdtn0g01: /no IDAT/,
    xhdn0g08: /CRC\) of chunk IHDR/,
    xlfn0g04: /signature/,
    xs1n0g01: /signature/,
    xs2n0g01: /signature/,
    xs4n0g01: /signature/,
    xs7n0g01: /signature/,
  };
  it.each(corrupt)("%s is refused with what is wrong", (name) => {
    const error = caught(() => decode(name));
    expect(error.code).toBe("E_PNG_CORRUPT");
    expect(error.message).toMatch(faults[name.slice(0, 8)]!);
  });

  it("basn0g16 and basn0g08 hold the published values (dump of golang's image/png test data)", () => {
    const deep = [...decode("basn0g16.png").image.levels];
    expect(deep.reduce((sum, level) => sum + level, 0)).toBe(37857070);
    expect([Math.min(...deep), Math.max(...deep), deep.filter((level) => level === 0).length]).toEqual([
      0, 65535, 1,
    ]);
    expect(deep.slice(0, 6)).toEqual([0, 2304, 4608, 6912, 9216, 11520]);
    expect(deep[15 * 32]).toBe(7680);
    expect(deep.slice(-6)).toEqual([34815, 27903, 20991, 14079, 7167, 255]);
    const plain = [...decode("basn0g08.png").image.levels];
    expect(plain.reduce((sum, level) => sum + level, 0)).toBe(130056);
    expect([plain.slice(0, 4), plain.filter((level) => level === 0).length]).toEqual([[0, 1, 2, 3], 3]);
  });
});
