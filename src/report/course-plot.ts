// report: rises against time → a plot with a line for each part.
import { formatSignificant } from "../core/format-quantity.js";
import { estimateWidth, fitText } from "./fit-text.js";
import { PLOT_COLOURS, type Plot, type PlotItem, type PlotPoint, plotBox, plotLine } from "./plot.js";
import { scaleTicks } from "./scale-ticks.js";
import { spreadLabels } from "./spread-labels.js";

/** The rise of one part in the frames of a burst. */
export interface Course {
  readonly name: string;
  readonly points: readonly { readonly timeS: number; readonly riseK: number; readonly sigmaK: number }[];
}

/** Colours for lines that an eye without colour tells apart too: Okabe & Ito, "Color Universal Design", 2008, darkened
 *  a little for white paper. Marks and dashes differ as well, and each line has its name at its end. */
const LINES: readonly { readonly colour: string; readonly dash?: readonly number[]; readonly mark: Mark }[] =
  [
    { colour: "#8a1c3c", mark: "disc" },
    { colour: "#0065a3", dash: [5, 2], mark: "square" },
    { colour: "#007a58", dash: [1.5, 1.5], mark: "triangle" },
    { colour: "#9a5b00", dash: [6, 2, 1.5, 2], mark: "diamond" },
  ];
type Mark = "disc" | "square" | "triangle" | "diamond";

const LEFT = 34;
const BOTTOM = 26;
const TOP = 14;
const TYPE = 7;
const MARK = 1.9;
/** Lines keep clear of the frame. */
const HEADROOM = 1.06;

/** Lines that a plot holds; more would hide each other. */
export const MOST_COURSES = LINES.length;

/** Draw rises against time from power-on, with their uncertainty as bars of one sigma.
 *  @param courses the first `MOST_COURSES` are drawn.
 *  @returns null where there is nothing to draw.
 */
export function coursePlot(courses: readonly Course[], width: number, height: number): Plot | null {
  const drawn = courses.slice(0, MOST_COURSES).filter(({ points }) => points.length > 1);
  if (drawn.length === 0) return null;
  const all = drawn.flatMap(({ points }) => points);
  // Not by Math.max(...all): a long burst has more points than a call may have arguments.
  const endS = all.reduce((most, { timeS }) => Math.max(most, timeS), 0);
  const highK = HEADROOM * all.reduce((most, { riseK, sigmaK }) => Math.max(most, riseK + sigmaK), -Infinity);
  const lowK = all.reduce((least, { riseK, sigmaK }) => Math.min(least, riseK - sigmaK), 0);
  if (!(endS > 0) || !(highK > lowK)) return null;
  const room = Math.min(
    width / 3,
    Math.max(...drawn.map(({ name }) => estimateWidth(name, true) * TYPE)) + 10,
  );
  const right = width - room;
  const x = (timeS: number): number => LEFT + ((right - LEFT) * timeS) / endS;
  const y = (riseK: number): number => TOP + ((height - BOTTOM - TOP) * (highK - riseK)) / (highK - lowK);
  const items: PlotItem[] = axes(x, y, { endS, highK, lowK, right, height });
  const ends = drawn.map(({ points }) => y(points.at(-1)!.riseK));
  const labels = spreadLabels(ends, TYPE + 2, TOP, height - BOTTOM);
  drawn.forEach((course, i) => {
    const { colour, dash, mark } = LINES[i]!;
    const points = course.points.map(({ timeS, riseK }): PlotPoint => [x(timeS), y(riseK)]);
    items.push({
      kind: "path",
      rings: course.points.map(({ timeS, riseK, sigmaK }) => [
        [x(timeS), y(riseK - sigmaK)],
        [x(timeS), y(riseK + sigmaK)],
      ]),
      closed: false,
      stroke: colour,
      width: 0.6,
    });
    items.push(plotLine(points, colour, 1.1, dash));
    for (const point of points) items.push(markShape(mark, point, colour));
    items.push(plotLine([points.at(-1)!, [right + 5, labels[i]!]], PLOT_COLOURS.line, 0.4));
    items.push({
      kind: "text",
      at: [right + 7, labels[i]! + TYPE * 0.35],
      text: fitText(course.name, room - 8, TYPE, true),
      size: TYPE,
      anchor: "start",
      bold: true,
      colour,
    });
  });
  return { width, height, description: describe(drawn), items };
}

function axes(
  x: (timeS: number) => number,
  y: (riseK: number) => number,
  {
    endS,
    highK,
    lowK,
    right,
    height,
  }: { endS: number; highK: number; lowK: number; right: number; height: number },
): PlotItem[] {
  const items: PlotItem[] = [];
  const text = (at: PlotPoint, words: string, anchor: "start" | "middle" | "end"): PlotItem => ({
    kind: "text",
    at,
    text: words,
    size: TYPE,
    anchor,
    colour: PLOT_COLOURS.ink,
  });
  for (const tick of scaleTicks(lowK, highK, 5)) {
    items.push(
      plotLine(
        [
          [LEFT, y(tick.at)],
          [right, y(tick.at)],
        ],
        PLOT_COLOURS.faint,
        0.5,
      ),
    );
    items.push(text([LEFT - 3, y(tick.at) + TYPE * 0.35], tick.text, "end"));
  }
  for (const tick of scaleTicks(0, endS, 7)) {
    items.push(
      plotLine(
        [
          [x(tick.at), height - BOTTOM],
          [x(tick.at), height - BOTTOM + 3],
        ],
        PLOT_COLOURS.line,
        0.5,
      ),
    );
    items.push(text([x(tick.at), height - BOTTOM + 10], tick.text, "middle"));
  }
  items.push(
    plotBox(LEFT, TOP, right - LEFT, height - BOTTOM - TOP, { stroke: PLOT_COLOURS.line, width: 0.5 }),
  );
  items.push({
    ...(text([2, 8], "rise above the surroundings, K", "start") as object),
    colour: PLOT_COLOURS.quiet,
  } as PlotItem);
  items.push({
    ...(text([(LEFT + right) / 2, height - 5], "seconds from power-on", "middle") as object),
    colour: PLOT_COLOURS.quiet,
  } as PlotItem);
  return items;
}

function markShape(mark: Mark, [x, y]: PlotPoint, colour: string): PlotItem {
  const sides = { disc: 12, square: 4, triangle: 3, diamond: 4 }[mark];
  const turn = { disc: 0, square: Math.PI / 4, triangle: -Math.PI / 2, diamond: 0 }[mark];
  const ring = Array.from({ length: sides }, (_, k): PlotPoint => {
    const angle = turn + (2 * Math.PI * k) / sides;
    return [x + MARK * Math.cos(angle), y + MARK * Math.sin(angle)];
  });
  return { kind: "path", rings: [ring], closed: true, fill: colour };
}

function describe(courses: readonly Course[]): string {
  const parts = courses.map(({ name, points }) => {
    const last = points.at(-1)!;
    return `${name}: ${formatSignificant(last.riseK, 2)} K after ${formatSignificant(last.timeS, 2)} s`;
  });
  return `Rise against time from power-on. ${parts.join("; ")}.`;
}
