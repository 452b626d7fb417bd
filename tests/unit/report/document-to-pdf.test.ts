import { afterEach, describe, expect, it, vi } from "vitest";
import { documentToPdf } from "../../../src/report/document-to-pdf.js";
import { PdfSheet } from "../../../src/report/pdf-sheet.js";
import type { DocumentBlock } from "../../../src/report/report-document.js";

const HEADING: DocumentBlock = { kind: "heading", level: 2, text: "Suspects" };
const COLUMNS = [{ title: "Part" }, { title: "For", as: "words" as const }];

/** The page that each text is laid on, by its first words. */
async function pagesOf(blocks: readonly DocumentBlock[]): Promise<Map<string, number>> {
  const pages = new Map<string, number>();
  const original = PdfSheet.prototype.text;
  const spy = vi.spyOn(PdfSheet.prototype, "text").mockImplementation(function (
    this: PdfSheet,
    text,
    x,
    y,
    style,
    anchor,
  ) {
    pages.set(text, this.pages);
    original.call(this, text, x, y, style, anchor);
  });
  await documentToPdf({
    title: "A job",
    subtitle: "begun",
    at: new Date("2031-02-03T12:00:00Z"),
    foot: "made",
    blocks,
  });
  spy.mockRestore();
  return pages;
}

const filler = (lines: number): DocumentBlock[] =>
  Array.from({ length: lines }, (_, k) => ({ kind: "paragraph" as const, text: `line ${k}` }));

afterEach(() => vi.restoreAllMocks());

describe("a heading", () => {
  it.each([1, 9])("is on the page of its table, whose first row has %i sentences", async (sentences) => {
    const row = ["U7", Array.from({ length: sentences }, (_, k) => `reason ${k}`)];
    let turned = 0;
    // Line by line down the page, so that it meets each place at the foot.
    for (let lines = 30; lines < 50; lines++) {
      const pages = await pagesOf([
        ...filler(lines),
        HEADING,
        { kind: "table", label: "suspects", columns: COLUMNS, rows: [row] },
      ]);
      expect(pages.get("Suspects"), `${lines} lines above`).toBe(pages.get("U7"));
      turned += pages.get("Suspects")! - 1;
    }
    // Some stand on the first page and some on the second.
    expect(turned).toBeGreaterThan(0);
    expect(turned).toBeLessThan(20);
  });

  it("keeps the sentence under it, and the remark on the table", async () => {
    for (let lines = 30; lines < 50; lines++) {
      const pages = await pagesOf([
        ...filler(lines),
        HEADING,
        { kind: "paragraph", text: "It moved", tone: "strong" },
        { kind: "paragraph", text: "Divided out", tone: "quiet" },
        { kind: "table", label: "parts", columns: COLUMNS, rows: [["U7", "gone"]] },
      ]);
      for (const text of ["It moved", "Divided out", "U7"]) {
        expect(pages.get(text), `${text}, ${lines} lines above`).toBe(pages.get("Suspects"));
      }
    }
  });
});

describe("a table", () => {
  it("breaks no number from its unit, however little room its column has", async () => {
    const whole = (k: number) => `${k}`.repeat(14);
    const columns = [
      { title: "Part" },
      ...Array.from({ length: 6 }, () => ({ title: "x", as: "whole" as const })),
      { title: "Heat" },
    ];
    const row = ["U7", ...[1, 2, 3, 4, 5, 6].map(whole), "a b 0.244 ± 0.030 W"];
    const pages = await pagesOf([{ kind: "table", label: "parts", columns, rows: [row] }]);
    expect([...pages.keys()].some((text) => text.includes("0.244\u00a0±\u00a00.030\u00a0W"))).toBe(true);
  });
});
