import { describe, expect, it } from "vitest";
import { importBoard } from "../../../src/import/import-board.js";
import { importCentroids } from "../../../src/import/import-centroids.js";
import type { ImportOptions } from "../../../src/import/import-options.js";

const OUTLINE = { widthMm: 40, heightMm: 26 };
const take = (text: string, options: ImportOptions = {}) =>
  importCentroids(text, "parts.csv", { outline: OUTLINE, ...options });
const boxOf = (text: string, options: ImportOptions = {}, ref = "C1") => {
  const region = take(text, options).board.regions.find((one) => one.ref === ref)!;
  const [xs, ys] = [0, 1].map((axis) => region.polygon.map((point) => point[axis]!));
  return [Math.min(...xs!), Math.min(...ys!), Math.max(...xs!), Math.max(...ys!)];
};
/** C1, 1.0 × 0.5 mm, at 12.5, 7 from the lower left corner: y from the top is 19. */
const BOX = [12, 18.75, 13, 19.25];
const TURNED = [12.25, 18.5, 12.75, 19.5];

describe("importCentroids", () => {
  it("makes a region of each part, as it is seen from the top with y down", () => {
    const { board, notes, from } = take(
      "Designator,Center-X(mm),Center-Y(mm),Rotation,Layer,Footprint,Comment\n" +
        "C1,12.5,7,0,TopLayer,C0402,100n\n" +
        "U2,30,20,90,BottomLayer,SOIC-8,driver\n",
    );
    expect(from).toBe("table");
    expect(notes).toEqual([]);
    expect(board).toEqual({
      kind: "faultglow/board",
      version: 1,
      outline: [
        [0, 0],
        [40, 0],
        [40, 26],
        [0, 26],
      ],
      regions: [
        {
          ref: "C1",
          label: "100n",
          side: "top",
          kind: "passive",
          polygon: [
            [12, 18.75],
            [13, 18.75],
            [13, 19.25],
            [12, 19.25],
          ],
        },
        {
          ref: "U2",
          label: "driver",
          side: "bottom",
          kind: "ic",
          // 3.9 × 4.9 turned by a quarter.
          polygon: [
            [27.55, 7.95],
            [27.55, 4.05],
            [32.45, 4.05],
            [32.45, 7.95],
          ],
        },
      ],
    });
  });

  it.each([
    ["commas", "Ref,X (mm),Y (mm),Rot,Side,Package\nC1,12.5,7,90,T,0402\n"],
    ["semicolons and decimal commas", "Ref;X (mm);Y (mm);Rot;Side;Package\nC1;12,5;7,0;90,0;F;0402\n"],
    ["TABs", "Ref\tPosX[mm]\tPosY[mm]\tRot\tSide\tPackage\nC1\t12.5\t7\t90\ttop\t0402\n"],
    ["bars", "RefDes|X mm|Y mm|Angle|Layer|Case\nC1|12.5|7|90|Top|0402\n"],
    ["quotes", '"Ref","X, mm","Y, mm","Rot","Side","Package"\n"C1","12,5","7,0","90","T","0402"\n'],
    [
      "blanks, with titles and remarks",
      "# Positions\n## Unit: mm\n# Ref  Val  Package  PosX  PosY  Rot  Side\n" +
        "C1  100n  C0402  12.5  7.0  90.0  top\n## that is all\n",
    ],
    [
      "carriage returns and a line of sums",
      "Ref,X (mm),Y (mm),Rot,Side,Package\r\n\r\nC1,12.5,7,90,T,0402\r\nTotal,1\r\n",
    ],
    ["units in the cells", "Ref,X,Y,Rot,Side,Package\nC1,12.5mm,7 mm,90°,T,0402\n"],
    ["inches", "Ref,X (inch),Y (inch),Rot,Side,Package\nC1,0.492126,0.275591,90,T,0402\n"],
    ["mils", "Ref,X-mil,Y-mil,Rot,Side,Package\nC1,492.126,275.591,90,T,0402\n"],
    ["columns in German", "Bauteil;X;Y;Drehung;Seite;Gehäuse;Einheit\nC1;12,5mm;7,0mm;90;oben;0402;\n"],
    ["a column for mirrored parts", "Ref,X_mm,Y_mm,Rot,Mirror,Package\nC1,12.5,7,90,No,0402\n"],
  ])("reads tables with %s", (_, text) => {
    // 0.492126 in = 12.5000004 mm: rounded to a tenth of a micrometre it is the same.
    expect(boxOf(text)).toEqual(TURNED);
    expect(take(text).notes).toEqual([]);
  });

  it("takes the centre of the body before a pin's place", () => {
    expect(
      boxOf("Ref,Ref-X (mm),Ref-Y (mm),Mid-X (mm),Mid-Y (mm),Side,Package\nC1,1,2,12.5,7,T,0402\n"),
    ).toEqual(BOX);
  });

  it.each([
    ["T", "top"],
    ["F cu", "top"],
    ["Component Side", "top"],
    ["B", "bottom"],
    ["L", "bottom"],
    ["bottom layer", "bottom"],
    ["Back", "bottom"],
  ])("reads the side %s", (word, side) => {
    expect(take(`Ref,X (mm),Y (mm),Side,Package\nC1,12.5,7,${word},0402\n`).board.regions[0]?.side).toBe(
      side,
    );
  });

  it("turns anticlockwise as seen from the top, or clockwise if told so", () => {
    const table = "Ref,X (mm),Y (mm),Rot,Side,Package\nC1,12.5,7,30,T,0402\n";
    const [cos, sin] = [Math.cos(Math.PI / 6), 0.5];
    // The right end of a part of 1.0 × 0.5 mm that is turned by 30°: y grows downwards on the board.
    const end = (sign: 1 | -1) => [12.5 + 0.5 * cos, 19 - sign * 0.5 * sin];
    const rightEnd = (options: ImportOptions) => {
      const [, b, c] = take(table, options).board.regions[0]!.polygon;
      return [(b![0] + c![0]) / 2, (b![1] + c![1]) / 2];
    };
    for (const [options, sign] of [
      [{}, 1],
      [{ turn: "clockwise" }, -1],
    ] as const) {
      const [x, y] = rightEnd(options);
      // Three digits: corners are written down to a tenth of a micrometre.
      expect(x).toBeCloseTo(end(sign)[0]!, 3);
      expect(y).toBeCloseTo(end(sign)[1]!, 3);
    }
  });

  it("can count y downwards", () => {
    expect(boxOf("Ref,X (mm),Y (mm),Side,Package\nC1,12.5,19,T,0402\n", { yAxis: "down" })).toEqual(BOX);
  });

  it("can count x of the bottom from the other edge, or as negative numbers", () => {
    const table = (x: string) => `Ref,X (mm),Y (mm),Rot,Side,Package\nC1,${x},7,0,B,0402\n`;
    expect(boxOf(table("12.5"))).toEqual(BOX);
    expect(boxOf(table("27.5"), { bottomX: "mirrored" })).toEqual(BOX);
    expect(boxOf(table("-12.5"), { bottomX: "negated" })).toEqual(BOX);
  });

  it("turns mirrored parts below the other way", () => {
    const table = (side: string, angle: number) =>
      `Ref,X (mm),Y (mm),Rot,Side,Package\nC1,20,7,${angle},${side},0402\n`;
    const sorted = (text: string, options: ImportOptions) =>
      take(text, options)
        .board.regions[0]!.polygon.map((point) => point.join())
        .sort();
    expect(sorted(table("B", 30), { bottomX: "mirrored" })).toEqual(sorted(table("T", -30), {}));
  });

  it("takes the lower left corner from where it is said to be", () => {
    expect(boxOf("Ref,X (mm),Y (mm),Side,Package\nC1,112.5,-3,T,0402\n", { originMm: [100, -10] })).toEqual(
      BOX,
    );
  });

  it("takes an outline of any shape", () => {
    const outline = [
      [3, 5],
      [43, 5],
      [43, 31],
      [3, 20],
    ] as const;
    const text = "Ref,X (mm),Y (mm),Side,Package\nC1,12.5,17,T,0402\n";
    expect(boxOf(text, { outline })).toEqual([15, 13.75, 16, 14.25]);
  });

  it("draws a rectangle around the parts without an outline, and says so", () => {
    const { board, notes } = importCentroids(
      "Ref,X (mm),Y (mm),Side,Package\nC1,5,5,T,0402\nC2,15,9,T,0402\n",
      "parts.csv",
    );
    // From 4.5 to 15.5 and from 4.75 to 9.25, and a millimetre all around.
    expect(board.outline[2]).toEqual([13, 6.5]);
    expect(notes.map((note) => note.code)).toEqual(["N_IMPORT_ASSUMED"]);
  });

  it("takes body sizes from columns, options and the default, in this order", () => {
    const table =
      "Ref,X (mm),Y (mm),Side,Package,Width (mm),Length (mm)\nC1,12.5,7,T,ODD,2,3\nC2,25,7,T,ODD,,\nC3,5,7,T,WEIRD,,\n";
    const options: ImportOptions = {
      sizes: { odd: { widthMm: 4, heightMm: 1 } },
      defaultSize: { widthMm: 3, heightMm: 5 },
    };
    expect(boxOf(table, options)).toEqual([11.5, 17.5, 13.5, 20.5]);
    expect(boxOf(table, options, "C2")).toEqual([23, 18.5, 27, 19.5]);
    expect(boxOf(table, options, "C3")).toEqual([3.5, 16.5, 6.5, 21.5]);
    expect(take(table, options).notes.map(({ text }) => text)).toEqual([
      expect.stringMatching(/"WEIRD" \(C3\) is not known; 3 × 5 mm/),
    ]);
  });

  it("leaves marks and holes out, and says so", () => {
    const { board, notes } = take(
      "Ref,X (mm),Y (mm),Side,Package\nFID1,1,1,T,F\nTP12,2,2,T,\nC1,12.5,7,T,0402\n",
    );
    expect(board.regions.map((region) => region.ref)).toEqual(["C1"]);
    expect(notes).toMatchObject([{ code: "N_IMPORT_LEFT_OUT", text: expect.stringContaining("FID1, TP12") }]);
  });

  it("says what it had to assume", () => {
    const { notes } = take("Ref,X,Y,Package\nC1,12.5,7,0402\n");
    expect(notes.map((note) => note.code)).toEqual(["N_IMPORT_ASSUMED", "N_IMPORT_ASSUMED"]);
    expect(notes[0]?.text).toMatch(/no unit.*--unit/);
    expect(notes[1]?.text).toMatch(/no column tells the side/);
    const metric = take("Ref,X (mm),Y (mm),Side,Package\nC1,12.5,7,T,0603\nC2,20,7,T,1608\n").notes;
    expect(metric[0]?.text).toMatch(/"0603" could be metric codes, as "1608" is/);
  });

  it("lets an option go before what the file says", () => {
    expect(boxOf("Ref,X (mm),Y (mm),Side,Package\nC1,0.492126,0.275591,T,0402\n", { unit: "inch" })).toEqual(
      BOX,
    );
  });

  const refused = (text: string, options: ImportOptions = {}) => {
    try {
      take(text, options);
    } catch (error) {
      return (error as Error).message;
    }
    throw new Error("it was taken");
  };
  it.each([
    ["no heads", "C1,1,2\nC2,3,4\n", /^E_IMPORT_HEADER: .*parts\.csv/],
    ["nothing at all", "", /^E_IMPORT_HEADER: /],
    ["no parts", "Ref,X,Y\n", /^E_IMPORT_CELL: parts were expected/],
    [
      "a word for a number",
      "Ref,X,Y,Package\nC1,five,7,0402\n",
      /^E_IMPORT_CELL: .*"five".*line 2, column 4/,
    ],
    ["a missing number", "Ref,X,Y,Package\nC1,,7,0402\n", /^E_IMPORT_CELL: .*found nothing.*line 2/],
    ["a missing designator", "Ref,X,Y,Package\n,3,7,0402\n", /^E_IMPORT_CELL: a designator.*line 2/],
    ["an unknown unit", "Ref,X,Y,Package\nC1,3 furlong,7,0402\n", /^E_IMPORT_CELL: .*furlong/],
    [
      "an unknown side",
      "Ref,X,Y,Side,Package\nC1,3,7,left,0402\n",
      /^E_IMPORT_CELL: .*"left".*line 2, column 8/,
    ],
    ["an angle in radians", "Ref,X,Y,Rot,Package\nC1,3,7,1.5 rad,0402\n", /^E_IMPORT_CELL: .*degrees/],
    ["marks for thousands", "Ref;X;Y;Package\nC1;1.234,5;7;0402\n", /^E_IMPORT_CELL: /],
    ["two marks of decimals", "Ref;X;Y;Package\nC1;1,5;7.5;0402\n", /^E_IMPORT_CELL: .*differently/],
    [
      "a quote that never closes",
      'Ref,X,Y,Package\nC1,3,7,"0402\n',
      /^E_IMPORT_CELL: a quoted cell.*line 2, column 8/,
    ],
    ["a part twice", "Ref,X,Y,Package\nC1,3,7,0402\nc1,9,7,0402\n", /^E_BOARD_REF: .*line 2 .*line 3/],
    [
      "a part off the board",
      "Ref,X,Y,Package\nC1,3,7,0402\nC2,300,7,0402\n",
      /^E_BOARD_OUTSIDE: C2 .*line 3/,
    ],
    [
      "packages of unknown size",
      "Ref,X,Y,Package\nC1,3,7,0402\nU1,9,7,FOO\nU2,9,9,FOO\nX1,15,9,\n",
      /^E_IMPORT_PACKAGE: .*2 packages are not known: "FOO" \(U1, U2\), no package \(X1\).*line 3.*--default-size/,
    ],
  ])("refuses %s", (_, text, message) => expect(refused(text)).toMatch(message));

  it("refuses the id of a shape as outline, for a table has none", () => {
    expect(refused("Ref,X,Y,Package\nC1,3,7,0402\n", { outline: "edge" })).toMatch(/^E_IMPORT_OUTLINE/);
  });

  it("refuses a table with more cells than a table of parts has", () => {
    expect(refused(`Ref,X,Y${",".repeat(300)}\n`)).toMatch(/^E_IMPORT_LARGE: at most 200 columns/);
  });
});

describe("importBoard", () => {
  const bytesOf = (text: string, encoding: "utf8" | "utf16le" | "latin1") =>
    new Uint8Array(Buffer.from(text, encoding));
  const table = "Bauteil;X (mm);Y (mm);Seite;Gehäuse\nC1;12,5;7;oben;0402\n";
  it.each(["utf8", "utf16le", "latin1"] as const)("reads a table in %s", (encoding) => {
    const { board } = importBoard(bytesOf(table, encoding), "parts.csv", { outline: OUTLINE });
    expect(board.regions[0]?.polygon[0]).toEqual([12, 18.75]);
  });

  it("knows a drawing by its first letters", () => {
    const svg =
      '\ufeff\n<svg xmlns="http://www.w3.org/2000/svg"><rect id="outline" width="200" height="90"/></svg>';
    expect(importBoard(bytesOf(svg, "utf8"), "a.csv").from).toBe("svg");
  });

  it("refuses what is no text", () => {
    const bytes = new Uint8Array([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 7]);
    expect(() => importBoard(bytes, "a.svgz")).toThrow(/^E_TEXT_ENCODING: .*centroid table or an SVG/);
  });
});
