// report: plots of one size → rows of plots on the pages of a PDF.
import { LINE, MARGIN, type PdfFlow, TEXT_WIDTH, TYPES } from "./pdf-flow.js";
import type { Plot } from "./plot.js";
import type { DocumentFigure } from "./report-document.js";

const GAP = 10;

interface FigureRow {
  readonly cells: readonly {
    readonly plot: Plot;
    readonly titles: readonly string[];
    readonly lines: readonly string[];
  }[];
  readonly cellWidth: number;
  readonly scale: number;
  readonly titleHeight: number;
  readonly plotHeight: number;
  readonly height: number;
}

/** Paint plots beside each other, as many as fit, titles above and captions below; a row is kept on one page. */
export function paintFigures(flow: PdfFlow, figures: readonly DocumentFigure[]): void {
  for (const row of layRows(flow, figures)) {
    flow.room(row.height);
    row.cells.forEach(({ plot, titles, lines }, i) => {
      const x = MARGIN.left + i * (row.cellWidth + GAP);
      const write = (
        texts: readonly string[],
        top: number,
        style: typeof TYPES.figure | typeof TYPES.caption,
      ): void =>
        texts.forEach((text, k) => {
          flow.sheet.text(text, x, top + k * style.size * LINE + style.size, style);
        });
      write(titles, flow.y, TYPES.figure);
      flow.sheet.plot(plot, x, flow.y + row.titleHeight, row.scale);
      write(lines, flow.y + row.titleHeight + row.plotHeight + 2, TYPES.caption);
    });
    flow.y += row.height;
  }
}

/** Height of the first row: what a heading above it has to be kept with. */
export function figuresHeight(flow: PdfFlow, figures: readonly DocumentFigure[]): number {
  return layRows(flow, figures)[0]?.height ?? 0;
}

function layRows(flow: PdfFlow, figures: readonly DocumentFigure[]): FigureRow[] {
  const widest = Math.max(1, ...figures.map(({ plot }) => plot.width));
  const scale = Math.min(1, TEXT_WIDTH / widest);
  const cellWidth = widest * scale;
  const perRow = Math.max(1, Math.floor((TEXT_WIDTH + GAP + 0.01) / (cellWidth + GAP)));
  const rows: FigureRow[] = [];
  for (let from = 0; from < figures.length; from += perRow) {
    const cells = figures.slice(from, from + perRow).map(({ plot, title, lines }) => ({
      plot,
      titles: title === "" ? [] : flow.wrap(title, cellWidth, TYPES.figure),
      lines: lines.flatMap((line) => flow.wrap(line, cellWidth, TYPES.caption)),
    }));
    const most = (count: (cell: (typeof cells)[number]) => number): number => Math.max(...cells.map(count));
    const titleHeight = most(({ titles }) => titles.length) * TYPES.figure.size * LINE;
    const plotHeight = most(({ plot }) => plot.height) * scale;
    const lineHeight = most(({ lines }) => lines.length) * TYPES.caption.size * LINE;
    rows.push({
      cells,
      cellWidth,
      scale,
      titleHeight,
      plotHeight,
      height: titleHeight + plotHeight + lineHeight + 10,
    });
  }
  return rows;
}
