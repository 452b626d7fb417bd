// report: watts fed and seen → bars, two for each attempt.
import { formatPower, formatPowerSize } from "../core/format-quantity.js";
import { fitText } from "./fit-text.js";
import { PLOT_COLOURS, type Plot, type PlotItem, plotBox, plotLine } from "./plot.js";
import { scaleTicks } from "./scale-ticks.js";

/** Watts of one attempt. */
export interface WattsBar {
  readonly name: string;
  /** What the supply gave; null where it was not noted. */
  readonly fedW: number | null;
  /** Sum of the sources that were found; null where it is not known. */
  readonly seenW: number | null;
  readonly seenSigmaW: number | null;
}

const LEFT = 74;
const ROOM = 92;
const ROW = 27;
const BAR = 9;
const TYPE = 7;
const BOTTOM = 24;

/** Draw watts fed (hollow bar) over watts seen (full bar, with a line of one sigma), numbers beside them.
 *  @returns null where no attempt has a number.
 */
export function wattsPlot(bars: readonly WattsBar[], width: number): Plot | null {
  const known = bars.filter(({ fedW, seenW }) => fedW !== null || seenW !== null);
  const most = Math.max(
    0,
    ...known.flatMap(({ fedW, seenW, seenSigmaW }) => [fedW ?? 0, (seenW ?? 0) + (seenSigmaW ?? 0)]),
  );
  if (!(most > 0)) return null;
  const right = width - ROOM;
  const x = (watts: number): number => LEFT + ((right - LEFT) * watts) / most;
  const height = ROW * known.length + BOTTOM + 4;
  const bottom = height - BOTTOM;
  const items: PlotItem[] = [];
  const say = (
    at: readonly [number, number],
    text: string,
    anchor: "start" | "middle" | "end",
    colour: string,
    bold = false,
  ): void => {
    items.push({ kind: "text", at, text, size: TYPE, anchor, colour, bold });
  };
  for (const { at, text } of scaleTicks(0, most, 6)) {
    items.push(
      plotLine(
        [
          [x(at), 2],
          [x(at), bottom],
        ],
        PLOT_COLOURS.faint,
        0.5,
      ),
    );
    say([x(at), bottom + 9], text, "middle", PLOT_COLOURS.ink);
  }
  say([(LEFT + right) / 2, height - 4], "watts", "middle", PLOT_COLOURS.quiet);
  known.forEach(({ name, fedW, seenW, seenSigmaW }, i) => {
    const y = 4 + i * ROW;
    say([2, y + BAR + TYPE * 0.35], fitText(name, LEFT - 8, TYPE, true), "start", PLOT_COLOURS.ink, true);
    if (fedW !== null) {
      items.push(
        plotBox(LEFT, y, x(fedW) - LEFT, BAR, { stroke: PLOT_COLOURS.ink, width: 0.9, fill: "#ffffff" }),
      );
    }
    say(
      [right + 5, y + BAR - 1.5],
      fedW === null ? "fed: not noted" : `fed ${formatPowerSize(fedW)}`,
      "start",
      PLOT_COLOURS.ink,
    );
    if (seenW !== null) {
      items.push(plotBox(LEFT, y + BAR + 1, x(seenW) - LEFT, BAR, { fill: "#b5523b" }));
      if (seenSigmaW !== null && seenSigmaW > 0) {
        const middle = y + 1.5 * BAR + 1;
        items.push(
          plotLine(
            [
              [x(Math.max(0, seenW - seenSigmaW)), middle],
              [x(seenW + seenSigmaW), middle],
            ],
            PLOT_COLOURS.ink,
            0.9,
          ),
        );
      }
    }
    const seen = seenW === null ? "seen: not known" : `seen ${formatPower(seenW, seenSigmaW).text}`;
    say([right + 5, y + 2 * BAR], seen, "start", PLOT_COLOURS.mark);
  });
  items.push(
    plotLine(
      [
        [LEFT, 2],
        [LEFT, bottom],
      ],
      PLOT_COLOURS.line,
      0.8,
    ),
  );
  return { width, height, description: describe(known), items };
}

function describe(bars: readonly WattsBar[]): string {
  const parts = bars.map(({ name, fedW, seenW, seenSigmaW }) => {
    const fed = fedW === null ? "not noted" : formatPowerSize(fedW);
    return `${name}: fed ${fed}, seen ${seenW === null ? "not known" : formatPower(seenW, seenSigmaW).text}`;
  });
  return `Watts fed and seen. ${parts.join("; ")}.`;
}
