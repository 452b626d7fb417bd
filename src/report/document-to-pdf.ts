// report: a document → the bytes of a PDF of A4 pages.
import { figuresHeight, paintFigures } from "./pdf-figures.js";
import { BOTTOM, LINE, MARGIN, PdfFlow, TEXT_WIDTH, TYPES } from "./pdf-flow.js";
import { PAGE, PdfSheet } from "./pdf-sheet.js";
import { layTable, paintTable } from "./pdf-table.js";
import { PLOT_COLOURS } from "./plot.js";
import { type DocumentBlock, documentTexts, type ReportDocument } from "./report-document.js";
import { reportFonts } from "./report-fonts.js";
import { showable } from "./showable-text.js";

const BODY_STEP = TYPES.body.size * LINE;
/** Space above headings. */
const ABOVE = Object.freeze({ 2: 12, 3: 7 });
/** The least that a heading wants under it of what has no height of its own to keep. */
const SOME_LINES = 3 * BODY_STEP;
/** Printable ASCII, and what the layout itself writes. */
const OWN_LETTERS = [...Array.from({ length: 95 }, (_, k) => 32 + k), 0x2022, 0x2013, 0xa0];

/** Lay a document out on A4 pages.
 *  Texts are measured with the very fonts that are embedded, broken into lines and pages, and never cut; characters
 *  that no font has stand as their number, and the last page says so. The same document gives the same bytes.
 */
export async function documentToPdf(document: ReportDocument): Promise<Uint8Array> {
  const letters = documentTexts(document).flatMap((text) =>
    [...showable(text, null)].map((letter) => letter.codePointAt(0) ?? 0),
  );
  const fonts = reportFonts([...OWN_LETTERS, ...letters]);
  const missing = new Set(fonts.missing);
  const clean = (text: string): string => showable(text, missing);
  const flow = new PdfFlow(new PdfSheet(fonts, { title: clean(document.title), at: document.at }), clean);
  flow.lines(document.title, TYPES.title);
  flow.lines(document.subtitle, TYPES.quiet);
  flow.y += 4;
  document.blocks.forEach((block, i) => {
    flow.room(keptHeight(flow, document.blocks, i));
    paintBlock(flow, block);
  });
  sayMissing(flow, fonts.missing);
  paintFeet(flow, document.foot);
  return flow.sheet.finish();
}

/** Height of a block with what must not be parted from it: a heading alone at the foot of a page says nothing. */
function keptHeight(flow: PdfFlow, blocks: readonly DocumentBlock[], i: number): number {
  const block = blocks[i];
  const next = (): number => keptHeight(flow, blocks, i + 1);
  switch (block?.kind) {
    case "heading": {
      const type = block.level === 2 ? TYPES.heading2 : TYPES.heading3;
      return ABOVE[block.level] + flow.heightOf(block.text, type) + 2 + next();
    }
    case "paragraph": {
      const follower = blocks[i + 1];
      const remark = follower?.kind === "paragraph" && follower.tone === "quiet";
      const leads = remark || ["plots", "table", "list"].includes(follower?.kind ?? "");
      return flow.heightOf(block.text, TYPES[block.tone ?? "body"]) + 3 + (leads ? next() : 0);
    }
    case "plots":
      return figuresHeight(flow, block.figures) + (blocks[i + 1]?.kind === "plots" ? next() : 0);
    case "table":
      return layTable(flow, block.columns, block.rows).beginHeight;
    case undefined:
      return 0;
    default:
      return SOME_LINES;
  }
}

function paintBlock(flow: PdfFlow, block: DocumentBlock): void {
  switch (block.kind) {
    case "heading":
      flow.y += flow.y === MARGIN.top ? 0 : ABOVE[block.level];
      if (block.level === 2) flow.sheet.bookmark(flow.clean(block.text));
      flow.lines(block.text, block.level === 2 ? TYPES.heading2 : TYPES.heading3);
      flow.y += 2;
      break;
    case "paragraph":
      flow.lines(block.text, TYPES[block.tone ?? "body"]);
      flow.y += block.tone === "verdict" ? 6 : 3;
      break;
    case "next":
      paintNext(flow, `${block.label}: ${block.text}`);
      break;
    case "list":
      for (const item of block.items) paintItem(flow, item);
      flow.y += 3;
      break;
    case "facts":
      paintFacts(flow, block.rows);
      break;
    case "table":
      paintTable(flow, block.columns, block.rows);
      break;
    case "plots":
      paintFigures(flow, block.figures);
      break;
  }
}

/** A band with a bar at its left; one that is longer than a page is written as plain lines. */
function paintNext(flow: PdfFlow, text: string): void {
  const pad = 7;
  const indent = pad + 4;
  const lines = flow.wrap(text, TEXT_WIDTH - indent - pad, TYPES.body);
  const height = lines.length * BODY_STEP + 2 * pad;
  if (height > BOTTOM - MARGIN.top) {
    flow.lines(text, TYPES.body);
    return;
  }
  flow.room(height);
  flow.sheet.box(MARGIN.left, flow.y, TEXT_WIDTH, height, PLOT_COLOURS.board);
  flow.sheet.box(MARGIN.left, flow.y, 3, height, PLOT_COLOURS.mark);
  lines.forEach((line, k) => {
    flow.sheet.text(line, MARGIN.left + indent, flow.y + pad + k * BODY_STEP + TYPES.body.size, TYPES.body);
  });
  flow.y += height + 4;
}

function paintItem(flow: PdfFlow, text: string): void {
  flow.room(BODY_STEP);
  flow.sheet.text("•", MARGIN.left + 2, flow.y + TYPES.body.size, TYPES.body);
  flow.lines(text, TYPES.body, 12);
  flow.y += 1.5;
}

function paintFacts(flow: PdfFlow, rows: readonly (readonly [string, string])[]): void {
  const widest = Math.max(0, ...rows.map(([name]) => flow.sheet.widthOf(flow.clean(name), TYPES.name)));
  const indent = Math.min(TEXT_WIDTH / 3, widest + 12);
  for (const [name, text] of rows) {
    const names = flow.wrap(name, indent - 6, TYPES.name);
    flow.room(names.length * BODY_STEP);
    const before = { y: flow.y, pages: flow.sheet.pages };
    names.forEach((line, k) => {
      flow.sheet.text(line, MARGIN.left, flow.y + k * BODY_STEP + TYPES.name.size, TYPES.name);
    });
    flow.lines(text, TYPES.body, indent);
    if (flow.sheet.pages === before.pages) flow.y = Math.max(flow.y, before.y + names.length * BODY_STEP);
    flow.y += 1;
  }
  flow.y += 3;
}

/** Say which characters the PDF can't show. */
function sayMissing(flow: PdfFlow, codePoints: readonly number[]): void {
  if (codePoints.length === 0) return;
  const names = codePoints.map((codePoint) => `U+${codePoint.toString(16).toUpperCase().padStart(4, "0")}`);
  flow.y += 8;
  flow.lines(
    `The fonts of this PDF have no shape for ${names.length === 1 ? "a character" : `${names.length} characters`} of the job: ` +
      `${names.join(", ")}. Each stands as its number in square brackets; the HTML report shows it with the fonts of the reader's machine.`,
    TYPES.quiet,
  );
}

/** Page numbers and the last line, on every page: documents keep it so short that it fits on one. */
function paintFeet(flow: PdfFlow, foot: string): void {
  const { sheet } = flow;
  const [line = ""] = flow.wrap(foot, TEXT_WIDTH - 60, TYPES.foot);
  for (let page = 0; page < sheet.pages; page++) {
    sheet.turnTo(page);
    const y = PAGE.height - 26;
    sheet.rule(MARGIN.left, y - 12, TEXT_WIDTH, PLOT_COLOURS.line, 0.5);
    sheet.text(line, MARGIN.left, y, TYPES.foot);
    sheet.text(`${page + 1} / ${sheet.pages}`, PAGE.width - MARGIN.right, y, TYPES.foot, "end");
  }
}
