// Whatever is in a file, an import gives a map that can be used, or an error that says what is wrong.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkBoard } from "../../../src/board/check-board.js";
import { ToolError } from "../../../src/core/errors.js";
import { importBoard } from "../../../src/import/import-board.js";

/** Pieces of which tables and drawings are made, right and wrong, in any order. */
const TABLE = [
  "Ref",
  "X",
  "Y (mm)",
  "Rot",
  "Side",
  "Package",
  ",",
  ";",
  "\t",
  "|",
  " ",
  "\n",
  "\r\n",
  '"',
  "C1",
  "U2",
  "FID1",
  "1.5",
  "2,5",
  "-3e2",
  "1e999",
  "0402",
  "SOT-23",
  "QFN_5x5mm",
  "top",
  "B",
  "mm",
  "mil",
  "°",
  "#",
  "Unit: inch",
  "µ",
  "\ufeff",
];
const DRAWING = [
  "<svg>",
  '<svg width="40mm" height="26mm" viewBox="0 0 40 26">',
  "</svg>",
  "<g id='top'>",
  "</g>",
  '<rect id="outline" width="40" height="26"/>',
  '<rect id="U1" x="2" y="3" width="5" height="4"/>',
  '<path id="C1" d="',
  "M1 1h3v2z",
  "A1 2 30 1 0 9 9",
  "c1 2 3 4 5 6",
  "T9",
  '"/>',
  '<polygon id="Q1" points="',
  "1,2 5,2 3,7",
  "NaN",
  ' transform="',
  "rotate(30)",
  "scale(0)",
  "matrix(1 0 0 1 1e308 1e308)",
  '"',
  "<!--",
  "-->",
  "&amp;",
  "&x;",
  "<![CDATA[",
  "]]>",
  '<circle id="R1" cx="9" cy="9" r="1"/>',
  " data-side='bottom'",
  "<!DOCTYPE svg>",
];
const made = (pieces: readonly string[]) =>
  fc.array(
    fc.oneof(
      { arbitrary: fc.constantFrom(...pieces), weight: 9 },
      { arbitrary: fc.string({ maxLength: 3 }), weight: 1 },
    ),
    {
      maxLength: 40,
    },
  );

function holds(text: string): void {
  try {
    const { board } = importBoard(new TextEncoder().encode(text), "a file");
    expect(checkBoard(board).filter((problem) => problem.severity === "error")).toEqual([]);
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    expect(error.parts.place?.file ?? "a file").toBe("a file");
  }
}

describe("any file", () => {
  it("made of pieces of tables is imported or refused", () => {
    fc.assert(
      fc.property(made(TABLE), fc.boolean(), (pieces, withHead) => {
        holds((withHead ? "Ref,X,Y,Rot,Side,Package\n" : "") + pieces.join(""));
      }),
      { numRuns: 1500 },
    );
  });

  it("made of pieces of drawings is imported or refused", () => {
    fc.assert(
      fc.property(made(DRAWING), fc.boolean(), (pieces, whole) => {
        const body = pieces.join("");
        holds(whole ? `<svg><rect id="outline" width="400" height="260"/>${body}</svg>` : body);
      }),
      { numRuns: 1500 },
    );
  });

  it("of any bytes is imported or refused", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        try {
          importBoard(bytes, "a file");
        } catch (error) {
          expect(error).toBeInstanceOf(ToolError);
        }
      }),
      { numRuns: 1000 },
    );
  });
});
