// report: the rises of all attempts → one scale of colours for all of them, in bands with numbers.
import { formatSignificant } from "../core/format-quantity.js";
import type { BoardRise } from "./board-rise.js";
import { hexColour, riseColour } from "./colour-scale.js";
import { PLOT_COLOURS, type Plot, type PlotItem, plotBox, plotLine } from "./plot.js";
import { scaleTicks } from "./scale-ticks.js";

/** A band of the scale: from here on up to the next one. */
interface RiseBand {
  readonly fromK: number;
  readonly colour: string;
}

/** One scale for all attempts. */
export interface RiseScale {
  readonly bands: readonly RiseBand[];
  readonly topK: number;
}

/** A band narrower than this share of its beginning would hardly show: the first one swallows it. */
const LEAST_FIRST_BAND = 0.2;
/** Bands, at most: so many colours are still told apart on paper. */
const MOST_BANDS = 9;
/** The first band begins where the most sensitive attempt shows something, but not below this share of the whole. */
const LEAST_SHARE = 0.02;

/** Make the scale that all attempts share, so that the same colour is the same rise everywhere.
 *  @returns null where no attempt shows a rise that is to be drawn.
 */
export function riseScale(rises: readonly BoardRise[]): RiseScale | null {
  const shown = rises.filter((rise) => rise.peakRiseK >= rise.leastRiseK);
  if (shown.length === 0) return null;
  const topK = Math.max(...shown.map((rise) => rise.peakRiseK));
  const leastK = Math.max(LEAST_SHARE * topK, Math.min(...shown.map((rise) => rise.leastRiseK)));
  const steps = scaleTicks(0, topK, MOST_BANDS)
    .map(({ at }) => at)
    .filter((at) => at > leastK * (1 + LEAST_FIRST_BAND) && at < topK);
  const starts = [leastK, ...steps];
  return {
    bands: starts.map((fromK, i) => ({
      fromK,
      colour: hexColour(riseColour(starts.length === 1 ? 0.5 : i / (starts.length - 1))),
    })),
    topK,
  };
}

/** The scale as a bar of bands with numbers under it.
 *  @param words what the numbers are, above the bar.
 */
export function riseLegend({ bands, topK }: RiseScale, width: number, words: string): Plot {
  const right = width - 26;
  const across = (riseK: number): number => 2 + ((right - 2) * riseK) / topK;
  const items: PlotItem[] = [
    {
      kind: "text",
      at: [2, 8],
      text: words,
      size: 7,
      anchor: "start",
      colour: PLOT_COLOURS.quiet,
    },
  ];
  bands.forEach(({ fromK, colour }, i) => {
    const from = across(fromK);
    items.push(plotBox(from, 12, across(bands[i + 1]?.fromK ?? topK) - from, 8, { fill: colour }));
  });
  items.push(plotBox(across(0), 12, right - across(0), 8, { stroke: PLOT_COLOURS.line, width: 0.5 }));
  for (const { at, text } of scaleTicks(0, topK, MOST_BANDS)) {
    if (topK - at < 0.05 * topK && at !== topK) continue;
    items.push(
      plotLine(
        [
          [across(at), 20],
          [across(at), 22.5],
        ],
        PLOT_COLOURS.line,
        0.5,
      ),
    );
    items.push({
      kind: "text",
      at: [across(at), 29.5],
      text,
      size: 6.5,
      anchor: "middle",
      colour: PLOT_COLOURS.ink,
    });
  }
  items.push({
    kind: "text",
    at: [right + 2, 19],
    text: formatSignificant(topK, 2),
    size: 6.5,
    anchor: "start",
    colour: PLOT_COLOURS.ink,
  });
  return {
    width,
    height: 32,
    description: `Scale of the rise from 0 to ${formatSignificant(topK, 2)} K`,
    items,
  };
}
