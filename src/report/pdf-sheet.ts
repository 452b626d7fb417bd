// report: texts and plots with places → the pages of a PDF; the only file that knows the PDF library.
import PDFDocument from "pdfkit";
import type { Plot, PlotItem, PlotPath, PlotText } from "./plot.js";
import type { ReportFont, ReportFonts } from "./report-fonts.js";
import { textWidth } from "./wrap-text.js";

/** A4, pt. */
export const PAGE = Object.freeze({ width: 595.28, height: 841.89 });

/** How a text is written: height of the type, pt, and its colour. */
export interface TextStyle {
  readonly size: number;
  readonly bold?: boolean;
  readonly colour?: string;
}

/** What is written about the file itself. */
export interface SheetFacts {
  readonly title: string;
  readonly at: Date;
}

/** The paper under the painter: places in points from the top left corner of the page, y of a text is its baseline. */
export class PdfSheet {
  readonly #doc: PDFKit.PDFDocument;
  readonly #fonts: ReportFonts;
  readonly #done: Promise<Uint8Array>;

  constructor(fonts: ReportFonts, facts: SheetFacts) {
    this.#fonts = fonts;
    this.#doc = new PDFDocument({
      size: "A4",
      margin: 0,
      bufferPages: true,
      pdfVersion: "1.7",
      lang: "en",
      displayTitle: true,
      // The library would otherwise load a font of its own.
      font: Buffer.from(fonts.regular.bytes) as unknown as string,
      info: { Title: facts.title, Producer: "faultglow", Creator: "faultglow", CreationDate: facts.at },
    });
    this.#doc.registerFont("regular", Buffer.from(fonts.regular.bytes));
    this.#doc.registerFont("bold", Buffer.from(fonts.bold.bytes));
    this.#done = new Promise((resolve, reject) => {
      const parts: Uint8Array[] = [];
      this.#doc.on("data", (part: Uint8Array) => parts.push(part));
      this.#doc.on("end", () => resolve(new Uint8Array(Buffer.concat(parts))));
      this.#doc.on("error", reject);
    });
  }

  /** Width of a text on one line, pt. */
  widthOf(text: string, style: TextStyle): number {
    return textWidth(text, this.#font(style).advanceOf) * style.size;
  }

  addPage(): void {
    this.#doc.addPage({ size: "A4", margin: 0 });
  }

  get pages(): number {
    return this.#doc.bufferedPageRange().count;
  }

  /** Go back to a page, from 0. */
  turnTo(page: number): void {
    this.#doc.switchToPage(page);
  }

  /** Note a heading in the list of contents beside the pages. */
  bookmark(text: string): void {
    this.#doc.outline.addItem(text);
  }

  text(text: string, x: number, y: number, style: TextStyle, anchor: PlotText["anchor"] = "start"): void {
    if (text === "") return;
    const width = anchor === "start" ? 0 : this.widthOf(text, style);
    const left = anchor === "end" ? x - width : x - width / 2;
    this.#doc
      .font(style.bold ? "bold" : "regular")
      .fontSize(style.size)
      .fillColor(style.colour ?? "#000000")
      .text(text, anchor === "start" ? x : left, y, {
        lineBreak: false,
        baseline: "alphabetic",
        features: [],
      });
  }

  /** A line from left to right. */
  rule(x: number, y: number, width: number, colour: string, thick: number): void {
    this.#doc
      .moveTo(x, y)
      .lineTo(x + width, y)
      .lineWidth(thick)
      .strokeColor(colour)
      .stroke();
  }

  box(x: number, y: number, width: number, height: number, colour: string): void {
    this.#doc.rect(x, y, width, height).fill(colour);
  }

  /** Draw a plot with its top left corner at a place, in a size of its own times `scale`. */
  plot(plot: Plot, x: number, y: number, scale = 1): void {
    this.#doc.save().translate(x, y).scale(scale);
    for (const item of plot.items) this.#item(item);
    this.#doc.restore();
  }

  /** Close the file.
   *  @returns its bytes.
   */
  finish(): Promise<Uint8Array> {
    this.#doc.end();
    return this.#done;
  }

  #font({ bold }: TextStyle): ReportFont {
    return bold ? this.#fonts.bold : this.#fonts.regular;
  }

  #item(item: PlotItem): void {
    if (item.kind === "path") {
      this.#path(item);
    } else if (item.kind === "text") {
      this.#plotText(item);
    } else {
      this.#doc.save();
      this.#trace([item.ring], true);
      this.#doc.clip();
      for (const each of item.items) this.#item(each);
      this.#doc.restore();
    }
  }

  #trace(rings: PlotPath["rings"], closed: boolean): void {
    for (const ring of rings) {
      ring.forEach(([x, y], i) => {
        if (i === 0) this.#doc.moveTo(round(x), round(y));
        else this.#doc.lineTo(round(x), round(y));
      });
      if (closed) this.#doc.closePath();
    }
  }

  #path({ rings, closed, fill, stroke, width, dash }: PlotPath): void {
    if (fill !== undefined) {
      this.#trace(rings, closed);
      this.#doc.fill(fill, "even-odd");
    }
    if (stroke === undefined) return;
    this.#trace(rings, closed);
    this.#doc.lineWidth(width ?? 1).lineJoin("round");
    if (dash === undefined) {
      this.#doc.undash();
    } else {
      this.#doc.dash(dash[0] ?? 1, { space: dash[1] ?? 1 });
      if (dash.length > 2) this.#doc.addContent(`[${dash.join(" ")}] 0 d`);
    }
    this.#doc.stroke(stroke).undash();
  }

  /** The light edge is the same text, drawn with a white line first. */
  #plotText({ at, text, size, anchor, bold, colour, halo }: PlotText): void {
    const style = { size, bold: bold ?? false, colour };
    if (halo) {
      this.#doc
        .save()
        .lineWidth(size / 4)
        .lineJoin("round")
        .strokeColor("#ffffff");
      const left =
        anchor === "start" ? at[0] : at[0] - this.widthOf(text, style) / (anchor === "end" ? 1 : 2);
      this.#doc
        .font(style.bold ? "bold" : "regular")
        .fontSize(size)
        .text(text, left, at[1], {
          lineBreak: false,
          baseline: "alphabetic",
          features: [],
          stroke: true,
          fill: false,
        });
      this.#doc.restore();
    }
    this.text(text, at[0], at[1], style, anchor);
  }
}

/** Hundredths of a point are finer than any printer. */
function round(value: number): number {
  return Math.round(value * 100) / 100;
}
