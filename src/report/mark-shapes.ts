// report: the name of a mark → its shape as a small plot.
import { PLOT_COLOURS, type Plot, type PlotItem, type PlotPoint } from "./plot.js";
import type { MarkShape } from "./report-document.js";

/** Width and height of a mark, pt. */
export const MARK_SIZE = 8;

/** Draw a mark; the word beside it says what it means. */
export function markPlot(shape: MarkShape): Plot {
  return { width: MARK_SIZE, height: MARK_SIZE, description: "", items: SHAPES[shape] };
}

const INK = PLOT_COLOURS.ink;
const full = (ring: readonly PlotPoint[]): PlotItem => ({
  kind: "path",
  rings: [ring],
  closed: true,
  fill: INK,
});
const line = (...rings: readonly (readonly PlotPoint[])[]): PlotItem => ({
  kind: "path",
  rings,
  closed: false,
  stroke: INK,
  width: 1.2,
});
const circle = (radius: number): PlotPoint[] =>
  Array.from({ length: 20 }, (_, k) => [
    4 + radius * Math.cos((Math.PI * k) / 10),
    4 + radius * Math.sin((Math.PI * k) / 10),
  ]);

const SHAPES: Readonly<Record<MarkShape, readonly PlotItem[]>> = Object.freeze({
  square: [
    full([
      [1, 1],
      [7, 1],
      [7, 7],
      [1, 7],
    ]),
  ],
  down: [
    full([
      [0.8, 1.5],
      [7.2, 1.5],
      [4, 7],
    ]),
  ],
  up: [
    full([
      [0.8, 6.5],
      [7.2, 6.5],
      [4, 1],
    ]),
  ],
  ring: [{ kind: "path", rings: [circle(2.8)], closed: true, stroke: INK, width: 1.2 }],
  disc: [full(circle(3.2))],
  gap: [
    line(
      [
        [0.8, 4],
        [3, 4],
      ],
      [
        [5, 4],
        [7.2, 4],
      ],
      [
        [3, 1.6],
        [3, 6.4],
      ],
      [
        [5, 1.6],
        [5, 6.4],
      ],
    ),
  ],
  wave: [
    line([
      [0.6, 5.5],
      [2.3, 2.5],
      [4, 5.5],
      [5.7, 2.5],
      [7.4, 5.5],
    ]),
  ],
  dash: [
    line([
      [1.5, 4],
      [6.5, 4],
    ]),
  ],
  cross: [
    line(
      [
        [1.5, 1.5],
        [6.5, 6.5],
      ],
      [
        [6.5, 1.5],
        [1.5, 6.5],
      ],
    ),
  ],
  plus: [
    line(
      [
        [4, 1],
        [4, 7],
      ],
      [
        [1, 4],
        [7, 4],
      ],
    ),
  ],
});
