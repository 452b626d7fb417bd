import { deflateSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { decodePng } from "../../../src/read/decode-png.js";
import { caught } from "../frames/caught.js";
import { buildGrey16, buildPng, chunk, header, SIGNATURE } from "./build-png.js";

const LEVELS = [
  [0, 1, 255],
  [256, 65534, 65535],
];
const decode = (bytes: Uint8Array) => decodePng(bytes, "p.png");
const text = (keyword: string, ...rest: (number | string)[]) => [
  ...Buffer.from(keyword, "latin1"),
  0,
  ...rest.flatMap((part) => (typeof part === "number" ? [part] : [...Buffer.from(part, "utf8")])),
];

describe("decodePng", () => {
  it("reads 16 bits exactly", () => {
    const { image, notes, scaleText } = decode(buildGrey16(LEVELS));
    expect([image.width, image.height, image.maxLevel, image.noReadingLevel]).toEqual([3, 2, 65535, null]);
    expect([...image.levels]).toEqual(LEVELS.flat());
    expect([notes, scaleText]).toEqual([[], null]);
  });

  it("reads rows that end in the middle of a byte, leftmost sample in the highest bits", () => {
    const one = decode(buildPng({ width: 11, depth: 1, colourType: 0 }, [[0b10110000, 0b01011111]]));
    expect([...one.image.levels]).toEqual([1, 0, 1, 1, 0, 0, 0, 0, 0, 1, 0]);
    const two = decode(buildPng({ width: 3, depth: 2, colourType: 0 }, [[0b11000111], [0b01101111]]));
    expect([...two.image.levels]).toEqual([3, 0, 1, 1, 2, 3]);
    const four = decode(
      buildPng({ width: 3, depth: 4, colourType: 0 }, [
        [0xf0, 0x7f],
        [0x12, 0x3f],
      ]),
    );
    expect([[...four.image.levels], four.image.maxLevel]).toEqual([[15, 0, 7, 1, 2, 3], 15]);
  });

  it("takes a transparent level for no reading", () => {
    expect(decode(buildGrey16(LEVELS, [chunk("tRNS", [1, 0])])).image.noReadingLevel).toBe(256);
    const low = buildPng({ width: 3, depth: 4, colourType: 0 }, [[0xf0, 0x7f]], [chunk("tRNS", [0, 15])]);
    expect(decode(low).image.noReadingLevel).toBe(15);
  });

  it("reads opaque alpha, refuses any other", () => {
    const grey = { width: 2, depth: 8, colourType: 4 };
    expect([...decode(buildPng(grey, [[7, 255, 9, 255]])).image.levels]).toEqual([7, 9]);
    const error = caught(() =>
      decode(
        buildPng(grey, [
          [7, 255, 9, 255],
          [7, 255, 9, 254],
        ]),
      ),
    );
    expect(error.code).toBe("E_PICTURE_ALPHA");
    expect(error.message).toContain("[1, 1]");
    const deep = { width: 1, depth: 16, colourType: 4 };
    expect([...decode(buildPng(deep, [[1, 2, 255, 255]])).image.levels]).toEqual([258]);
    expect(caught(() => decode(buildPng(deep, [[1, 2, 255, 254]]))).code).toBe("E_PICTURE_ALPHA");
  });

  it("reads colour that is grey throughout, with a note, and refuses colour with its place", () => {
    const rgb = { width: 2, depth: 8, colourType: 2 };
    const grey = decode(buildPng(rgb, [[7, 7, 7, 9, 9, 9]]));
    expect([[...grey.image.levels], grey.notes.map((n) => n.code)]).toEqual([[7, 9], ["N_PICTURE_GREY"]]);
    const error = caught(() =>
      decode(
        buildPng(rgb, [
          [7, 7, 7, 9, 9, 9],
          [5, 5, 5, 9, 9, 8],
        ]),
      ),
    );
    expect(error.code).toBe("E_PICTURE_COLOUR");
    expect(error.message).toContain("pixel [1, 1] is red 9, green 9, blue 8");
    const marked = buildPng(rgb, [[7, 7, 7, 9, 9, 9]], [chunk("tRNS", [0, 9, 0, 9, 0, 9])]);
    expect(decode(marked).image.noReadingLevel).toBe(9);
    const elsewhere = buildPng(rgb, [[7, 7, 7, 9, 9, 9]], [chunk("tRNS", [0, 9, 0, 9, 0, 8])]);
    expect(decode(elsewhere).image.noReadingLevel).toBeNull();
    const alpha = { width: 1, depth: 8, colourType: 6 };
    expect([...decode(buildPng(alpha, [[3, 3, 3, 255]])).image.levels]).toEqual([3]);
    expect(caught(() => decode(buildPng(alpha, [[3, 3, 3, 0]]))).code).toBe("E_PICTURE_ALPHA");
  });

  it("reads a palette whose used entries are grey and opaque", () => {
    const head = { width: 3, depth: 8, colourType: 3 };
    const palette = chunk("PLTE", [10, 10, 10, 200, 200, 200, 1, 2, 3]);
    const { image, notes } = decode(buildPng(head, [[1, 0, 1]], [palette]));
    expect([[...image.levels], image.maxLevel, notes[0]?.code]).toEqual([
      [200, 10, 200],
      255,
      "N_PICTURE_GREY",
    ]);
    expect(caught(() => decode(buildPng(head, [[1, 0, 2]], [palette]))).code).toBe("E_PICTURE_COLOUR");
    expect(caught(() => decode(buildPng(head, [[1, 0, 3]], [palette]))).code).toBe("E_PNG_CORRUPT");
    const clear = chunk("tRNS", [255, 0]);
    expect(caught(() => decode(buildPng(head, [[1, 0, 1]], [palette, clear]))).code).toBe("E_PICTURE_ALPHA");
    expect([...decode(buildPng(head, [[0, 0, 0]], [palette, clear])).image.levels]).toEqual([10, 10, 10]);
  });
});

describe("a scale inside the picture", () => {
  it.each([
    ["tEXt", text("faultglow-scale", "20:45")],
    ["zTXt", [...text("faultglow-scale", 0), ...deflateSync(Buffer.from("20:45"))]],
    ["iTXt", text("faultglow-scale", 0, 0, "en", 0, "\u00e9chelle", 0, "20:45")],
    ["iTXt", [...text("faultglow-scale", 1, 0, 0, 0), ...deflateSync(Buffer.from("20:45"))]],
  ])("%s", (type, data) => {
    const other = chunk("tEXt", text("Comment", "1:2"));
    expect(decode(buildGrey16(LEVELS, [other, chunk(type, data)])).scaleText).toBe("20:45");
  });
  it.each([
    ["zTXt", text("faultglow-scale", 1, "x"), "unknown compression"],
    ["zTXt", text("faultglow-scale", 0, "not deflated"), "can't be inflated"],
    ["zTXt", [...text("faultglow-scale", 0), ...deflateSync(Buffer.alloc(1e6))], "can't be inflated"],
    ["iTXt", text("faultglow-scale", 0, 0, "en"), "breaks the standard"],
    ["iTXt", text("faultglow-scale", 7, 0, 0, 0, "20:45"), "breaks the standard"],
  ])("refuses a broken %s", (type, data, why) => {
    const error = caught(() => decode(buildGrey16(LEVELS, [chunk(type, data)])));
    expect(error.code).toBe("E_PNG_CORRUPT");
    expect(error.message).toContain(why);
  });
});

describe("what is no valid PNG", () => {
  const good = buildGrey16(LEVELS);
  const pixels = deflateSync(Buffer.from([0, 1, 2, 0, 3, 4]));
  const file = (...chunks: Buffer[]) => Buffer.concat([SIGNATURE, ...chunks]);
  const head = header(1, 2, 16, 0);
  const cases: [string, Uint8Array, string][] = [
    ["nothing but a signature", SIGNATURE, "before its IEND"],
    ["a file cut at the end", good.subarray(0, good.length - 3), "before its IEND"],
    ["a file cut in the picture", good.subarray(0, 50), "the file ends before that"],
    ["no header", file(chunk("IDAT", pixels), chunk("IEND")), "first chunk is IDAT"],
    ["two headers", file(head, head, chunk("IDAT", pixels), chunk("IEND")), "two IHDR"],
    ["no picture", file(head, chunk("IEND")), "no IDAT"],
    ["a short header", file(chunk("IHDR", [0, 0, 0, 1]), chunk("IEND")), "4 bytes long"],
    ["no width", file(header(0, 2, 16, 0), chunk("IDAT", pixels), chunk("IEND")), "0×2"],
    ["3 bits", file(header(1, 2, 3, 0), chunk("IDAT", pixels), chunk("IEND")), "not 3"],
    ["colour type 5", file(header(1, 2, 8, 5), chunk("IDAT", pixels), chunk("IEND")), "colour type 5"],
    [
      "interlace 2",
      file(header(1, 2, 16, 0, [0, 0, 2]), chunk("IDAT", pixels), chunk("IEND")),
      "interlace 2",
    ],
    ["an unknown critical chunk", file(head, chunk("ABCD"), chunk("IDAT", pixels), chunk("IEND")), "ABCD"],
    ["a chunk whose name is no word", file(head, chunk("a1b2"), chunk("IEND")), "no chunk begins at byte 34"],
    [
      "parted IDAT",
      file(
        head,
        chunk("IDAT", pixels.subarray(0, 4)),
        chunk("tIME"),
        chunk("IDAT", pixels.subarray(4)),
        chunk("IEND"),
      ),
      "parts the IDAT",
    ],
    [
      "a palette in grey",
      file(head, chunk("PLTE", [1, 2, 3]), chunk("IDAT", pixels), chunk("IEND")),
      "has a palette",
    ],
    [
      "a palette picture without palette",
      file(header(1, 2, 8, 3), chunk("IDAT", pixels), chunk("IEND")),
      "without PLTE",
    ],
    [
      "a palette too long",
      file(
        header(1, 2, 1, 3),
        chunk("PLTE", [1, 1, 1, 2, 2, 2, 3, 3, 3]),
        chunk("IDAT", pixels),
        chunk("IEND"),
      ),
      "9 bytes long",
    ],
    [
      "a late palette",
      file(header(1, 2, 8, 2), chunk("IDAT", pixels), chunk("PLTE", [1, 1, 1]), chunk("IEND")),
      "wrong place",
    ],
    [
      "tRNS of the wrong length",
      file(head, chunk("tRNS", [1]), chunk("IDAT", pixels), chunk("IEND")),
      "tRNS of 1 bytes",
    ],
    ["a late tRNS", file(head, chunk("IDAT", pixels), chunk("tRNS", [0, 1]), chunk("IEND")), "wrong place"],
    [
      "too few rows",
      file(header(1, 3, 16, 0), chunk("IDAT", pixels), chunk("IEND")),
      "6 bytes where its size needs 9",
    ],
    [
      "too many rows",
      file(header(1, 1, 16, 0), chunk("IDAT", pixels), chunk("IEND")),
      "more than the 3 bytes",
    ],
    [
      "a filter of 5",
      file(head, chunk("IDAT", deflateSync(Buffer.from([0, 1, 2, 5, 3, 4]))), chunk("IEND")),
      "row 1 of the picture has filter 5",
    ],
    ["no zlib stream", file(head, chunk("IDAT", [1, 2, 3, 4]), chunk("IEND")), "can't be inflated"],
    [
      "a stream cut short",
      file(head, chunk("IDAT", pixels.subarray(0, 6)), chunk("IEND")),
      "can't be inflated",
    ],
  ];
  it.each(cases)("%s", (_, bytes, why) => {
    const error = caught(() => decode(bytes));
    expect(error.code).toBe("E_PNG_CORRUPT");
    expect(error.message).toContain(why);
  });
  it("a flipped bit anywhere behind the signature", () => {
    for (let at = 8; at < good.length; at++) {
      const bad = Buffer.from(good);
      bad[at]! ^= 1 << (at % 8);
      expect(caught(() => decode(bad)).code, `byte ${at}`).toBe("E_PNG_CORRUPT");
    }
  });
  it("a picture too large, before memory is taken for it", () => {
    const huge = file(header(70_000, 70_000, 16, 0), chunk("IDAT", pixels), chunk("IEND"));
    expect(caught(() => decode(huge)).code).toBe("E_FRAME_LARGE");
  });
  it("bytes after the end are passed over", () => {
    expect([...decode(Buffer.concat([good, Buffer.from("more")])).image.levels]).toEqual(LEVELS.flat());
  });
});
