// evaluate: figures and curves of calibration → tables for people.
import type { ReliabilityBin } from "./calibration.js";
import { type Figure, reached, type Wanted } from "./figure.js";
import { layTable, numberText } from "./lay-table.js";

const MARKS = { aim: "aim", bar: "bar", miss: "✗ MISSES", unsure: "✗ misses?" } as const;

/** The yardstick: each figure beside its bar and its aim, with a mark where it misses the bar: one with a question mark
 *  where its interval still holds the bar, so that more scenes might reach it.
 */
export function printFigures(figures: readonly Figure[]): string {
  const rows = figures.map((figure) => {
    const { name, value, low, high, of, unit, digits, bar, aim, remark } = figure;
    const known = low !== null && high !== null && !Number.isNaN(low) && !Number.isNaN(high);
    const interval = known ? ` [${endText(low, digits)} ${endText(high, digits)}]` : "";
    const mark = markOf(figure);
    return [
      name,
      value === null ? "–" : `${value.toFixed(digits)}${unit === "" ? "" : ` ${unit}`}${interval}`,
      String(of),
      wantedText(bar),
      wantedText(aim),
      mark === null ? "" : MARKS[mark],
      remark ?? "",
    ];
  });
  return layTable([["figure", "measured [95 %]", "n", "bar", "aim", "reached", ""], ...rows]);
}

function markOf(figure: Figure): keyof typeof MARKS | null {
  const mark = reached(figure);
  if (mark !== "miss") return mark;
  const ends = [figure.low, figure.high].filter((end) => end !== null && !Number.isNaN(end));
  return ends.some((end) => reached({ ...figure, value: end }) !== "miss") ? "unsure" : mark;
}

function endText(value: number, digits: number): string {
  return Number.isFinite(value) ? value.toFixed(digits) : value < 0 ? "−∞" : "∞";
}

function wantedText(wanted: Wanted | null): string {
  if (wanted === null) return "";
  if ("atLeast" in wanted) return `≥ ${wanted.atLeast}`;
  if ("atMost" in wanted) return `≤ ${wanted.atMost}`;
  return `${wanted.between[0]}–${wanted.between[1]}`;
}

/** The curve of calibration: what was said against what came true, bin by bin; empty bins are left out. */
export function printReliability(title: string, bins: readonly ReliabilityBin[]): string {
  const full = bins.filter((bin) => bin.came !== null);
  const rows = full.map(({ from, to, said, came, honest }) => [
    `${from} – ${to}`,
    String(came?.of ?? 0),
    numberText(said, 3),
    numberText(came?.share, 3),
    came === null ? "" : `${came.low.toFixed(3)} ${came.high.toFixed(3)}`,
    honest === false ? "✗" : "",
  ]);
  return layTable([[title, "n", "said", "came true", "95 %", "off"], ...rows]);
}
