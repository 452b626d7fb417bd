// evaluate: summaries by kind → a table for people.
import type { Share, Summary } from "./summary.js";

/** One line of the table: a kind with the summaries of both chains. */
export interface Line {
  readonly name: string;
  readonly tool: Summary | null;
  readonly plain: Summary;
  readonly powered: boolean;
}

/** Lay the lines out: for each figure the tool, then the plain chain in brackets. */
export function printTable(lines: readonly Line[]): string {
  const head = [
    "kind",
    "n",
    "right first [95 %]",
    "(plain)",
    "right place",
    "(plain)",
    "false/scene",
    "(plain)",
    "clean",
    "(plain)",
    "pos px",
    "(plain)",
    "σ said/true",
    "align px 50/95 %",
    "(plain)",
    "watts err known/unkn.",
    "90 % cover",
    "cal. err",
    "Brier",
    "ms",
    "failed",
  ];
  const rows = lines.map(({ name, tool, plain, powered }) => [
    name,
    String(plain.scenes),
    powered ? withInterval(tool?.rightFirst) : "",
    powered ? percent(plain.rightFirst) : "",
    powered ? percent(tool?.rightPlace) : "",
    powered ? percent(plain.rightPlace) : "",
    number(tool?.falseAlarmsPerScene, 2),
    number(plain.falseAlarmsPerScene, 2),
    percent(tool?.clean),
    percent(plain.clean),
    number(tool?.positionMedianPx, 3),
    number(plain.positionMedianPx, 3),
    number(tool?.positionSigmaRatio, 2),
    `${number(tool?.alignMedianPx, 3)}/${number(tool?.align95Px, 2)}`,
    `${number(plain.alignMedianPx, 3)}/${number(plain.align95Px, 2)}`,
    `${percentNumber(tool?.wattsMedianKnown)}/${percentNumber(tool?.wattsMedianUnknown)}`,
    percent(tool?.wattsInside90),
    number(tool?.calibrationError, 3),
    number(tool?.brier, 3),
    number(tool?.analysisMedianMs, 0),
    tool === null ? "" : String(tool.failures),
  ]);
  const widths = head.map((title, c) => Math.max(title.length, ...rows.map((row) => row[c]!.length)));
  const lay = (cells: readonly string[]): string =>
    cells
      .map((cell, c) => (c === 0 ? cell.padEnd(widths[c]!) : cell.padStart(widths[c]!)))
      .join("  ")
      .trimEnd();
  return [lay(head), lay(widths.map((w) => "-".repeat(w))), ...rows.map(lay)].join("\n");
}

function withInterval(share: Share | null | undefined): string {
  if (share === null || share === undefined) return "–";
  return `${share.share.toFixed(3)} [${share.low.toFixed(2)} ${share.high.toFixed(2)}]`;
}

function percent(share: Share | null | undefined): string {
  return share === null || share === undefined ? "–" : share.share.toFixed(3);
}

function number(value: number | null | undefined, digits: number): string {
  return value === null || value === undefined || Number.isNaN(value) ? "–" : value.toFixed(digits);
}

function percentNumber(value: number | null | undefined): string {
  return value === null || value === undefined ? "–" : `${(100 * value).toFixed(0)} %`;
}
