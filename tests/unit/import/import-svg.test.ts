import { describe, expect, it } from "vitest";
import { signedArea } from "../../../src/board/polygon.js";
import type { ImportOptions } from "../../../src/import/import-options.js";
import { importSvg } from "../../../src/import/import-svg.js";

const HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="26mm" viewBox="0 0 40 26">';
const EDGE = '<rect id="outline" width="40" height="26"/>';
const take = (body: string, options: ImportOptions = {}, head = HEAD) =>
  importSvg(`${head}\n${EDGE}\n${body}\n</svg>`, "board.svg", options);
const regionOf = (body: string, options?: ImportOptions, head?: string) =>
  take(body, options, head).board.regions[0]!;
const boxOf = (polygon: readonly (readonly number[])[]) => {
  const [xs, ys] = [0, 1].map((axis) => polygon.map((point) => point[axis]!));
  return [Math.min(...xs!), Math.min(...ys!), Math.max(...xs!), Math.max(...ys!)];
};

describe("importSvg", () => {
  it("makes regions of shapes with ids, and the outline of the shape called outline", () => {
    const { board, notes, from } = take(
      '<g id="top"><rect id="U3" x="4" y="5" width="6" height="3"/></g>\n' +
        '<g id="Bottom parts"><polygon id="C7" points="20,10 22,10 22,11 20,11"><title>filter</title></polygon></g>',
    );
    expect([from, notes]).toEqual(["svg", []]);
    expect(board.outline).toEqual([
      [0, 0],
      [40, 0],
      [40, 26],
      [0, 26],
    ]);
    expect(board.regions).toMatchObject([
      { ref: "U3", side: "top", kind: "ic" },
      { ref: "C7", side: "bottom", kind: "passive", label: "filter" },
    ]);
    expect(boxOf(board.regions[0]!.polygon)).toEqual([4, 5, 10, 8]);
  });

  it.each([
    ["rect", '<rect id="A1" x="4" y="5" width="6" height="3"/>', 18],
    [
      "rect with round corners",
      '<rect id="A1" x="4" y="5" width="6" height="3" rx="1"/>',
      18 - (4 - Math.PI),
    ],
    ["circle", '<circle id="A1" cx="7" cy="6.5" r="1.5"/>', Math.PI * 2.25],
    ["ellipse", '<ellipse id="A1" cx="7" cy="6.5" rx="3" ry="1.5"/>', Math.PI * 4.5],
    ["polyline", '<polyline id="A1" points="4 5,10,5 10,8 4,8"/>', 18],
    ["lines", '<path id="A1" d="M4 5H10V8h-6z"/>', 18],
    ["pairs after a move", '<path id="A1" d="m4,5 6,0 0,3 -6,0z"/>', 18],
    // y = 3·h·t·(1 − t) over x = w·(3t² − 2t³): the area is 18·w·h·∫ t²·(1 − t)² dt = 0.6·w·h.
    ["cubic curves", '<path id="A1" d="M4 5C4 9 10 9 10 5z"/>', 0.6 * 6 * 4],
    // Under a parabola with its handle h above the middle of its chord w: w·h/3.
    ["quadratic curves", '<path id="A1" d="M4 5Q7 11 10 5z"/>', (6 * 6) / 3],
    ["smooth curves", '<path id="A1" d="M4 8Q5.5 5 7 8T10 8V12H4z"/>', 24],
    ["smooth cubic curves", '<path id="A1" d="M4 8c1 -2 2 -2 3 0s2 2 3 0V12H4z"/>', 24],
    ["arcs with flags run together", '<path id="A1" d="M4 5a3 3 0 016 0z"/>', (Math.PI * 9) / 2],
    ["arcs whose radius is too short", '<path id="A1" d="M4 5a1 1 0 0 1 6 0z"/>', (Math.PI * 9) / 2],
    ["large arcs", '<path id="A1" d="M13 11A3 3 0 1 1 10 8V11z"/>', (Math.PI * 9 * 3) / 4],
  ])("measures a %s", (_, body, area) => {
    const { polygon } = regionOf(body, { toleranceMm: 1e-4 });
    // An edge misses the curve by 0.0001 mm at most, along some 20 mm of edges: 0.002 mm².
    expect(Math.abs(Math.abs(signedArea(polygon)) - area)).toBeLessThan(0.002);
  });

  it("follows curves to a hundredth of a millimetre", () => {
    const { polygon } = regionOf('<circle id="A1" cx="20" cy="12" r="10"/>');
    for (let i = 0; i < polygon.length; i++) {
      const [a, b] = [polygon[i]!, polygon[(i + 1) % polygon.length]!];
      expect(10 - Math.hypot((a[0] + b[0]) / 2 - 20, (a[1] + b[1]) / 2 - 12)).toBeLessThan(0.0102);
    }
    expect(polygon.length).toBeLessThan(200);
  });

  it("applies transforms from the inside out", () => {
    const body =
      '<g transform="translate(10 4) scale(2)"><g transform="rotate(90)">' +
      '<rect id="A1" width="3" height="1" transform="translate(0,-5)"/></g></g>';
    // 3 × 1 at (0, −5), turned by a quarter from x to y: 1 × 3 at (4, 0); doubled and moved: (18, 4) to (20, 10).
    expect(boxOf(regionOf(body).polygon)).toEqual([18, 4, 20, 10]);
    expect(
      boxOf(
        regionOf('<rect id="A1" x="4" y="5" width="2" height="2" transform="matrix(1 0 0 3 1,-2)"/>').polygon,
      ),
    ).toEqual([5, 13, 7, 19]);
    expect(
      boxOf(
        regionOf('<rect id="A1" x="4" y="5" width="2" height="4" transform="rotate(90, 5, 7)"/>').polygon,
      ),
    ).toEqual([3, 6, 7, 8]);
    const skewed = regionOf(
      '<rect id="A1" x="4" y="5" width="2" height="2" transform="skewX(45) skewY(0)"/>',
    ).polygon;
    expect(boxOf(skewed)).toEqual([9, 5, 13, 7]);
  });

  const heads: readonly (readonly [string, string, number])[] = [
    ["mm and a viewBox of the same numbers", 'width="40mm" height="26mm" viewBox="0 0 40 26"', 1],
    ["a viewBox ten times as fine", 'width="4mm" height="2.6mm" viewBox="0 0 40 26"', 0.1],
    ["centimetres", 'width="4cm" height="2.6cm" viewBox="0 0 40 26"', 1],
    ["inches", 'width="1in" height="1in" viewBox="0 0 25.4 25.4"', 1],
    ["pixels of 1/96 inch", 'width="40" height="26"', 25.4 / 96],
    ["a box that is wider than its content", 'width="90mm" height="26mm" viewBox="0 0 40 26"', 1],
    ["a viewBox that begins elsewhere", 'width="40mm" height="26mm" viewBox="-3 -7 40 26"', 1],
  ];
  it.each(heads)("takes the size from %s", (_, attributes, mm) => {
    const head = `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>`;
    const [left, top, right, bottom] = boxOf(
      importSvg(
        `${head}<rect id="edge" width="400" height="260"/><rect id="A1" x="4" y="5" width="6" height="3"/></svg>`,
        "a.svg",
      ).board.regions[0]!.polygon,
    );
    // Four digits are kept.
    for (const [found, wanted] of [
      [left, 4],
      [top, 5],
      [right, 10],
      [bottom, 8],
    ] as const) {
      expect(found).toBeCloseTo(wanted * mm, 3);
    }
  });

  it("stretches both ways only if the drawing says so", () => {
    const head = '<svg width="80mm" height="26mm" viewBox="0 0 40 26" preserveAspectRatio="none">';
    expect(boxOf(regionOf('<rect id="A1" x="4" y="5" width="6" height="3"/>', {}, head).polygon)).toEqual([
      8, 5, 20, 8,
    ]);
  });

  it("reads units as millimetres where the drawing has no size, and says so", () => {
    const head = '<svg viewBox="0 0 40 26">';
    const { board, notes } = take(
      '<rect id="A1" data-side="top" x="4" y="5" width="6" height="3"/>',
      {},
      head,
    );
    expect(boxOf(board.outline)).toEqual([0, 0, 40, 26]);
    expect(notes).toMatchObject([{ code: "N_IMPORT_ASSUMED" }]);
    const shapes =
      '<rect id="outline" width="80" height="26"/><rect id="A1" data-side="top" x="4" y="5" width="6" height="3"/>';
    const large = importSvg(`<svg viewBox="0 0 80 26">${shapes}</svg>`, "board.svg", { unit: "inch" });
    expect(boxOf(large.board.outline)).toEqual([0, 0, 2032, 660.4]);
    expect(large.notes.map((note) => note.code)).toEqual(["N_BOARD_DOUBT"]);
  });

  it("reads lengths with units by the pixel of CSS", () => {
    const head = '<svg width="40" height="26">';
    const text = `${head}<rect id="edge" width="40mm" height="26mm"/><circle id="A1" cx="1cm" cy="10mm" r="2mm"/></svg>`;
    const { board } = importSvg(text, "a.svg");
    expect(boxOf(board.outline)).toEqual([0, 0, 40, 26]);
    expect(boxOf(board.regions[0]!.polygon)[0]).toBeCloseTo(8, 3);
  });

  it("finds the outline by the id that is given, in a group too, and takes its largest shape", () => {
    const body =
      '<g id="cut"><circle cx="9" cy="9" r="1"/><path d="M1 1h30v20H1z"/></g><rect id="A1" data-side="top" x="4" y="5" width="6" height="3"/>';
    const { board } = importSvg(`${HEAD}${body}</svg>`, "a.svg", { outline: "cut" });
    expect(boxOf(board.outline)).toEqual([1, 1, 31, 21]);
    expect(board.regions.map((region) => region.ref)).toEqual(["A1"]);
    const sized = importSvg(`${HEAD}<rect id="A1" x="4" y="5" width="6" height="3"/></svg>`, "a.svg", {
      outline: { widthMm: 33, heightMm: 17 },
    });
    expect(boxOf(sized.board.outline)).toEqual([0, 0, 33, 17]);
  });

  it("takes the side of the nearest group or of the shape itself", () => {
    const rect = (id: string, rest = "") => `<rect id="${id}" x="4" y="5" width="6" height="3" ${rest}/>`;
    const { board } = take(
      `<g id="F.parts">${rect("A1")}</g><g id="B.parts">${rect("A2")}${rect("A3", 'data-side="top"')}` +
        `<g class="parts-top">${rect("A4")}</g></g><g id="layer1" xmlns:i="urn:i" i:label="Back side">${rect("A5")}</g>` +
        `<g id="top and bottom">${rect("A6")}</g>`,
    );
    expect(board.regions.map(({ side }) => side)).toEqual(["top", "bottom", "top", "top", "bottom", "top"]);
  });

  it("mirrors the bottom if it was drawn as seen from below", () => {
    const body =
      '<g id="bottom"><rect id="A1" x="4" y="5" width="6" height="3"/></g><g id="top"><rect id="A2" x="4" y="5" width="6" height="3"/></g>';
    const boxes = take(body, { bottomX: "mirrored" }).board.regions.map(({ polygon }) => boxOf(polygon));
    expect(boxes).toEqual([
      [30, 5, 36, 8],
      [4, 5, 10, 8],
    ]);
  });

  it("names shapes by a group that is named like a part, and keeps its largest one", () => {
    const { board, notes } = take(
      '<g id="U3"><circle cx="5" cy="6" r="0.2"/><rect x="4" y="5" width="6" height="3"/></g>' +
        '<g id="g12"><rect x="14" y="5" width="6" height="3"/></g><text x="1" y="1">U3</text><use href="#U3"/>',
    );
    expect(board.regions.map(({ ref, polygon }) => [ref, boxOf(polygon)])).toEqual([["U3", [4, 5, 10, 8]]]);
    const left = notes.find((note) => note.code === "N_IMPORT_LEFT_OUT")?.text;
    expect(left).toBe(
      "board.svg: left out: 1 shape without a name; all but the largest shape of U3; 1 text element; 1 use element.",
    );
  });

  it("keeps the largest piece of a shape with holes, and says so", () => {
    const { board, notes } = take(
      '<path id="SH1" data-side="top" d="M5 5h1v1h-1zM4 4h9v7h-9zm2 2v2h2v-2z"/>',
    );
    expect(boxOf(board.regions[0]!.polygon)).toEqual([4, 4, 13, 11]);
    expect(notes[0]?.text).toMatch(/holes and further pieces of SH1/);
  });

  it("takes what the attributes say", () => {
    const region = regionOf(
      '<rect id="box" data-ref="U&lt;7&gt;" data-label="a &amp; b" data-side="bottom" data-kind="shield" ' +
        'data-finish="bare-metal" data-emissivity="0.12" data-nets="VSYS, GND" data-normally-warm="true" ' +
        'x="4" y="5" width="6" height="3"/>',
    );
    expect(region).toMatchObject({
      ref: "U<7>",
      label: "a & b",
      side: "bottom",
      kind: "shield",
      finish: "bare-metal",
      emissivity: 0.12,
      nets: ["VSYS", "GND"],
      normallyWarm: true,
    });
  });

  it("leaves out what is not shown", () => {
    const rect = (id: string, rest: string) => `<rect id="${id}" ${rest} x="4" y="5" width="6" height="3"/>`;
    const { board } = take(
      `${rect("A1", 'display="none"')}${rect("A2", 'style="fill:red; display:none"')}<defs>${rect("A3", "")}</defs>` +
        `<g visibility="hidden">${rect("A4", "")}</g><symbol>${rect("A5", "")}</symbol>` +
        '<rect id="A6" x="1" y="1" width="0" height="4"/><path id="A7" d=""/><path id="A8" d="M1 1h4"/>',
    );
    expect(board.regions).toEqual([]);
  });

  const shape = (attributes: string) => `<rect id="A1" x="4" y="5" width="6" height="3" ${attributes}/>`;
  it.each([
    ["no XML", "<rect", /^E_SVG_SYNTAX: .*line 4, column 1/],
    ["an unclosed group", "<g>", /^E_SVG_SYNTAX: .*missing end tag/],
    ["an entity of its own", "<title>&bomb;</title>", /^E_SVG_SYNTAX: .*entity/],
    ["a part twice", `${shape("")}\n${shape("")}`, /^E_BOARD_REF: .*line 4, column 1/],
    [
      "a part that crosses itself",
      '<path id="A1" d="M4 4L9 9V4L4 9z"/>',
      /^E_BOARD_POLYGON: .*A1.*line 3, column 1/,
    ],
    [
      "a part off the board",
      '<rect id="A1" x="50" y="5" width="6" height="3"/>',
      /^E_BOARD_OUTSIDE: A1.*line 3/,
    ],
    ["a broken path", '<path id="A1" d="M4 4L9 x"/>', /^E_SVG_VALUE: a number .*letter 8, found "x".*line 3/],
    ["a path that ends early", '<path id="A1" d="M4 4C9 9"/>', /^E_SVG_VALUE: a number .*found its end/],
    ["a path that does not begin with a move", '<path id="A1" d="L4 4"/>', /^E_SVG_VALUE: a move/],
    ["an unknown command", '<path id="A1" d="M4 4K3"/>', /^E_SVG_VALUE: a command .*found "K3"/],
    ["an odd number of numbers", '<polygon id="A1" points="1 2 3"/>', /^E_SVG_VALUE: pairs .*3 numbers/],
    ["an unknown transform", shape('transform="spin(3)"'), /^E_SVG_VALUE: .*spin/],
    ["a transform with too few numbers", shape('transform="matrix(1 2)"'), /^E_SVG_VALUE/],
    ["a transform in the style", shape('style="transform: scale(2)"'), /^E_SVG_VALUE: .*style/],
    ["a drawing inside the drawing", '<svg viewBox="0 0 1 1"/>', /^E_SVG_VALUE: one scale/],
    ["percentages", '<rect id="A1" width="10%" height="3"/>', /^E_SVG_VALUE: .*"10%"/],
    ["an unknown side", shape('data-side="left"'), /^E_SVG_VALUE: .*"left"/],
    ["an unknown finish", shape('data-finish="gold"'), /^E_SVG_VALUE: .*moulded.*"gold"/],
    ["an emissivity above 1", shape('data-emissivity="1.2"'), /^E_SVG_VALUE: .*"1\.2"/],
  ])("refuses %s", (_, body, message) => expect(() => take(body)).toThrow(message));

  it.each([
    ["a viewBox of three numbers", '<svg viewBox="0 0 3"/>', /^E_SVG_VALUE/],
    ["another sort of XML", "<html/>", /^E_SVG_SYNTAX: .*found html/],
    ["a plate that is no JSON", `<svg data-plate="{">${EDGE}</svg>`, /^E_SVG_VALUE: JSON/],
    ["no outline", `<svg>${shape("")}</svg>`, /^E_IMPORT_OUTLINE: .*--outline/],
    ["elements nested to exhaust the stack", "<svg>".repeat(50_000), /^E_IMPORT_LARGE/],
    [
      "entities that multiply",
      '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><svg id="&b;"/>',
      /^E_SVG_SYNTAX: .*entity/,
    ],
  ])("refuses %s in the whole file", (_, text, message) =>
    expect(() => importSvg(text, "a.svg")).toThrow(message),
  );

  it("refuses an id that the drawing does not have, and lists those it has", () => {
    expect(() => take(shape(""), { outline: "edge" })).toThrow(/^E_IMPORT_OUTLINE: .*"edge".*outline, A1/);
  });

  it("reads over a document type, comments, CDATA and namespaces", () => {
    const text =
      '<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">' +
      '<s:svg xmlns:s="http://www.w3.org/2000/svg" width="40mm" height="26mm" viewBox="0 0 40 26"><!-- <g> -->' +
      "<s:style><![CDATA[ <a> ]]></s:style>" +
      '<s:rect id="outline" width="40" height="26"/><s:rect id="A1" x="4" y="5" width="6" height="3"/></s:svg>';
    expect(importSvg(text, "a.svg").board.regions).toHaveLength(1);
  });
});
