// report: texts one under the other → lines on pages that begin anew where one is full.
import { bindUnits } from "./bind-units.js";
import { PAGE, type PdfSheet, type TextStyle } from "./pdf-sheet.js";
import { PLOT_COLOURS } from "./plot.js";
import { wrapText } from "./wrap-text.js";

/** White around the text, pt. */
export const MARGIN = Object.freeze({ left: 42, right: 42, top: 42, bottom: 52 });
/** Width of the text, pt. */
export const TEXT_WIDTH = PAGE.width - MARGIN.left - MARGIN.right;
/** Where a page ends, pt from its top. */
export const BOTTOM = PAGE.height - MARGIN.bottom;
/** Distance of two lines in heights of type. */
export const LINE = 1.38;

const { ink, quiet } = PLOT_COLOURS;

/** Types of the report. */
export const TYPES = Object.freeze({
  body: { size: 9.5, colour: ink },
  name: { size: 9.5, colour: quiet },
  title: { size: 11, bold: true, colour: quiet },
  heading2: { size: 12, bold: true, colour: ink },
  heading3: { size: 10, bold: true, colour: ink },
  verdict: { size: 15, bold: true, colour: ink },
  quiet: { size: 9, colour: quiet },
  warning: { size: 9.5, bold: true, colour: "#7a4a00" },
  strong: { size: 9.5, bold: true, colour: ink },
  cell: { size: 8, colour: ink },
  cellBold: { size: 8, bold: true, colour: ink },
  hash: { size: 7, colour: ink },
  figure: { size: 8.5, bold: true, colour: ink },
  caption: { size: 7.5, colour: quiet },
  foot: { size: 7.5, colour: quiet },
}) satisfies Readonly<Record<string, TextStyle>>;

/** The way down the pages. */
export class PdfFlow {
  /** Where the next thing goes, pt from the top of the page. */
  y: number = MARGIN.top;

  /** @param clean makes a text fit for the fonts. */
  constructor(
    readonly sheet: PdfSheet,
    readonly clean: (text: string) => string,
  ) {}

  newPage(): void {
    this.sheet.addPage();
    this.y = MARGIN.top;
  }

  /** Begin a new page unless so much fits; what is higher than a page begins where it stands. */
  room(height: number): void {
    if (this.y + height > BOTTOM && this.y > MARGIN.top && height <= BOTTOM - MARGIN.top) this.newPage();
  }

  /** Break a text into lines no wider than `width`. */
  wrap(text: string, width: number, style: TextStyle): string[] {
    return wrapText(bindUnits(this.clean(text)), width, (codePoint) =>
      this.sheet.widthOf(String.fromCodePoint(codePoint), style),
    );
  }

  /** Height of a text of the width of the page. */
  heightOf(text: string, style: TextStyle): number {
    return this.wrap(text, TEXT_WIDTH, style).length * style.size * LINE;
  }

  /** Write a text line by line, over pages if need be. */
  lines(text: string, style: TextStyle, indent = 0): void {
    const step = style.size * LINE;
    for (const line of this.wrap(text, TEXT_WIDTH - indent, style)) {
      this.room(step);
      this.sheet.text(line, MARGIN.left + indent, this.y + style.size, style);
      this.y += step;
    }
  }
}
