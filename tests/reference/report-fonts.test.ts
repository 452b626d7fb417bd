// Our reader of WOFF2 and our writer of TrueType against fontkit 2.0.4 (github.com/foliojs/fontkit), which reads both
// by itself. Its own WOFF2 reader knows no variations, so outlines are compared at the font's default weight.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import * as fontkit from "fontkit";
import { describe, expect, it } from "vitest";
import { decodeWoff2 } from "../../src/report/decode-woff2.js";
import { reportFonts } from "../../src/report/report-fonts.js";

const require = createRequire(import.meta.url);
const piece = (name: string, file: string): Buffer =>
  readFileSync(join(dirname(require.resolve(`@fontsource-variable/${name}/unicode.json`)), "files", file));

const PIECES = [
  ["noto-sans", "noto-sans-latin-wght-normal.woff2"],
  ["noto-sans", "noto-sans-greek-wght-normal.woff2"],
  ["noto-sans-sc", "noto-sans-sc-119-wght-normal.woff2"],
  ["noto-sans-sc", "noto-sans-sc-5-wght-normal.woff2"],
] as const;

describe.each(PIECES)("decodeWoff2 of %s %s", (name, file) => {
  it("gives every simple glyph the outline, and every glyph the advance, that fontkit reads", () => {
    const bytes = piece(name, file);
    const theirs = fontkit.create(bytes) as fontkit.Font;
    const ours = fontkit.create(Buffer.from(decodeWoff2(bytes))) as fontkit.Font;
    expect(ours.numGlyphs).toBe(theirs.numGlyphs);
    let compared = 0;
    for (let id = 0; id < ours.numGlyphs; id++) {
      const [mine, other] = [ours.getGlyph(id), theirs.getGlyph(id)];
      // fontkit's WOFF2 reader fails on glyphs that are made of others.
      let path: string;
      try {
        path = other.path.toSVG();
      } catch {
        continue;
      }
      expect(mine.path.toSVG()).toBe(path);
      expect(mine.advanceWidth).toBe(other.advanceWidth);
      compared++;
    }
    expect(compared).toBeGreaterThan(30);
  });
});

describe("the assembled fonts", () => {
  const text = "Größe Ω µ ± − 主板短路 Жук";
  const characters = [...text].map((character) => character.codePointAt(0)!);
  const fonts = reportFonts(characters);

  it.each(["regular", "bold"] as const)(
    "%s: fontkit reads back each character with its advance and outline",
    (weight) => {
      const font = fontkit.create(Buffer.from(fonts[weight].bytes)) as fontkit.Font;
      const source = fontkit.create(
        Buffer.from(decodeWoff2(piece("noto-sans", "noto-sans-latin-wght-normal.woff2"))),
      ) as fontkit.Font;
      const instance = source.getVariation({ wght: weight === "bold" ? 700 : 400 });
      expect(font.unitsPerEm).toBe(1000);
      for (const codePoint of characters) {
        expect(font.hasGlyphForCodePoint(codePoint)).toBe(true);
        expect(font.glyphForCodePoint(codePoint).advanceWidth).toBeCloseTo(
          1000 * fonts[weight].advanceOf(codePoint),
          6,
        );
      }
      const [mine, theirs] = [font, instance].map((each) => each.glyphForCodePoint("ö".codePointAt(0)!));
      // Points are rounded to whole units, so edges move by half a unit at most, and boxes by as much.
      for (const edge of ["minX", "minY", "maxX", "maxY"] as const) {
        expect(Math.abs(mine!.bbox[edge] - theirs!.bbox[edge])).toBeLessThanOrEqual(0.5);
      }
      // Halves of a unit along the way: areas agree to a percent.
      expect(Math.abs(pathArea(mine!) / pathArea(theirs!) - 1)).toBeLessThan(0.01);
    },
  );

  it("bold is bolder than regular", () => {
    const area = (weight: "regular" | "bold"): number =>
      pathArea((fontkit.create(Buffer.from(fonts[weight].bytes)) as fontkit.Font).glyphForCodePoint(0x4e3b));
    expect(area("bold")).toBeGreaterThan(1.2 * area("regular"));
  });

  it("tell what they lack: Hangul, and scripts whose letters join", () => {
    expect(reportFonts([0x41, 0xd55c, 0x0939, 0x05d0]).missing).toEqual([0x05d0, 0x0939, 0xd55c]);
  });
});

/** Area inside the contours, curves by their control polygon: the same measure for both. */
function pathArea({ path }: fontkit.Glyph): number {
  let area = 0;
  let [x, y, startX, startY] = [0, 0, 0, 0];
  const to = (nextX: number, nextY: number): void => {
    area += (x * nextY - nextX * y) / 2;
    [x, y] = [nextX, nextY];
  };
  for (const { command, args } of path.commands) {
    if (command === "moveTo") [x, y, startX, startY] = [args[0]!, args[1]!, args[0]!, args[1]!];
    else if (command === "closePath") to(startX, startY);
    else for (let k = 0; k < args.length; k += 2) to(args[k]!, args[k + 1]!);
  }
  return Math.abs(area);
}
