// evaluate: scores → two pictures as SVG: the curve of calibration, and how far places are off.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import {
  PLOT_COLOURS,
  type Plot,
  type PlotItem,
  type PlotPoint,
  plotBox,
  plotLine,
} from "../../src/report/plot.js";
import { plotToSvg } from "../../src/report/plot-to-svg.js";
import { reliability } from "./calibration.js";
import { ofWholeTool, type Score } from "./score.js";
import { present } from "./statistics.js";
import { firstCalls } from "./summary.js";

/** Names of the files. */
export const PICTURES = Object.freeze({ calibration: "calibration.svg", position: "position-error.svg" });

/** Write both pictures into a folder, which is made if need be.
 *  @returns paths of the files. */
export function writePictures(folder: string, scores: readonly Score[]): string[] {
  mkdirSync(folder, { recursive: true });
  return [
    [PICTURES.calibration, drawCalibration(scores)] as const,
    [PICTURES.position, drawPositions(scores)] as const,
  ].map(([name, plot]) => {
    const path = join(folder, name);
    writeFileSync(path, standAlone(plot));
    return path;
  });
}

/** A plot as a file of its own. */
function standAlone(plot: Plot): string {
  const svg = plotToSvg(plot, "plot");
  return `${svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" font-family="sans-serif" ')}\n`;
}

/** The field of a plot, pt, inside room for words. */
const FIELD = Object.freeze({ left: 56, top: 24, width: 340, height: 260 });
const SIZE = Object.freeze({ width: 420, height: 336 });
const TEXT_PT = 11;

/** Where a point of the unit square lies in the plot. */
const inField = (x: number, y: number): PlotPoint => [
  FIELD.left + x * FIELD.width,
  FIELD.top + (1 - y) * FIELD.height,
];

/** One tick of an axis, at a place from 0 to 1. */
interface Tick {
  readonly at: number;
  readonly text: string;
}

const SHARES: readonly Tick[] = [0, 0.2, 0.4, 0.6, 0.8, 1].map((at) => ({
  at,
  text: `${Math.round(100 * at)} %`,
}));

function axes(xTicks: readonly Tick[], xTitle: string, yTitle: string): PlotItem[] {
  const { ground, faint, ink, line, quiet } = PLOT_COLOURS;
  const text = { kind: "text", size: TEXT_PT, colour: quiet } as const;
  return [
    plotBox(0, 0, SIZE.width, SIZE.height, { fill: ground }),
    ...xTicks.flatMap(({ at, text: words }): PlotItem[] => {
      const [x, y] = inField(at, 0);
      return [
        plotLine([inField(at, 0), inField(at, 1)], faint, 0.75),
        { ...text, at: [x, y + 15], text: words, anchor: "middle" },
      ];
    }),
    ...SHARES.flatMap(({ at, text: words }): PlotItem[] => {
      const [x, y] = inField(0, at);
      return [
        plotLine([inField(0, at), inField(1, at)], faint, 0.75),
        { ...text, at: [x - 6, y + 4], text: words, anchor: "end" },
      ];
    }),
    plotBox(FIELD.left, FIELD.top, FIELD.width, FIELD.height, { stroke: line, width: 1 }),
    { ...text, colour: ink, at: [inField(0.5, 0)[0], SIZE.height - 14], text: xTitle, anchor: "middle" },
    { ...text, colour: ink, at: [8, 14], text: yTitle, anchor: "start" },
  ];
}

/** What was stated against what came true, with 95 % intervals, for the first suspects and for all. */
function drawCalibration(scores: readonly Score[]): Plot {
  const tool = ofWholeTool(scores);
  const first = firstCalls(tool);
  const all = tool.flatMap(({ calls }) => calls);
  const items = axes(SHARES, "probability stated", "came true, with 95 % interval");
  items.push(plotLine([inField(0, 0), inField(1, 1)], PLOT_COLOURS.quiet, 1, [4, 3]));
  for (const [calls, filled] of [
    [all, false],
    [first, true],
  ] as const) {
    const colour = filled ? PLOT_COLOURS.mark : PLOT_COLOURS.ink;
    for (const { said, came } of reliability(calls)) {
      if (said === null || came === null) continue;
      items.push(plotLine([inField(said, came.low), inField(said, came.high)], colour, 1));
      items.push(dot(inField(said, came.share), colour, filled));
    }
  }
  items.push(
    ...legend(
      [
        [PLOT_COLOURS.mark, `first suspects (${first.length})`, true],
        [PLOT_COLOURS.ink, `all suspects (${all.length})`, false],
      ],
      // Beside the line, where no interval reaches.
      0.55,
      0.16,
    ),
  );
  return {
    ...SIZE,
    description:
      "Probability stated against the share that came true, in bins, with the line on which both are equal",
    items,
  };
}

/** Least and largest error of the axis, px; both ends take in what lies beyond. */
const LEAST_PX = 0.01;
const MOST_PX = 6;
const alongLog = (px: number): number =>
  Math.log(Math.min(MOST_PX, Math.max(LEAST_PX, px)) / LEAST_PX) / Math.log(MOST_PX / LEAST_PX);

/** The share of single sources placed within a distance, for the tool and the plain chain. */
function drawPositions(scores: readonly Score[]): Plot {
  const ticks = [0.01, 0.03, 0.1, 0.3, 1, 3].map((px) => ({ at: alongLog(px), text: String(px) }));
  const items = axes(
    ticks,
    "distance from the true place, px",
    "share of the sources placed within that distance",
  );
  const chains = [
    ["faultglow", ofWholeTool(scores), PLOT_COLOURS.mark, undefined],
    ["plain chain", scores.filter(({ chain }) => chain === "plain"), PLOT_COLOURS.ink, [4, 3]],
  ] as const;
  for (const [, some, colour, dash] of chains) {
    const errors = present(some.map(({ positionErrorPx }) => positionErrorPx)).sort((a, b) => a - b);
    if (errors.length === 0) continue;
    const steps = errors.flatMap((px, k): PlotPoint[] => [
      inField(alongLog(px), k / errors.length),
      inField(alongLog(px), (k + 1) / errors.length),
    ]);
    items.push(plotLine([inField(0, 0), ...steps, inField(1, 1)], colour, 1.75, dash));
  }
  items.push(
    ...legend(
      chains.map(([name, some, colour]) => {
        const count = present(some.map(({ positionErrorPx }) => positionErrorPx)).length;
        return [colour, `${name} (${count} sources)`, colour === PLOT_COLOURS.mark] as const;
      }),
      0.05,
      0.95,
    ),
  );
  return {
    ...SIZE,
    description:
      "Cumulative shares of the errors of place of single sources, on a logarithmic axis of pixels",
    items,
  };
}

/** A filled or a hollow square: told apart without colour, too. */
function dot([x, y]: PlotPoint, colour: string, filled: boolean): PlotItem {
  return plotBox(x - 3, y - 3, 6, 6, {
    fill: filled ? colour : PLOT_COLOURS.ground,
    stroke: colour,
    width: 1.25,
  });
}

function legend(
  entries: readonly (readonly [colour: string, text: string, filled: boolean])[],
  x: number,
  y: number,
): PlotItem[] {
  const [left, top] = inField(x, y);
  return entries.flatMap(([colour, text, filled], k): PlotItem[] => [
    dot([left + 3, top + 16 * k], colour, filled),
    {
      kind: "text",
      at: [left + 12, top + 16 * k + 4],
      text,
      size: TEXT_PT,
      anchor: "start",
      colour: PLOT_COLOURS.ink,
      halo: true,
    },
  ]);
}
