// evaluate: summaries by kind → a table for people.
import type { Share, Summary } from "./summary.js";

/** One line of the table: a kind with the summaries of both chains. */
export interface Line {
  readonly name: string;
  readonly tool: Summary | null;
  readonly plain: Summary;
  readonly powered: boolean;
}

/** Two tables: what was found, then how exact it is. The plain chain's figures stand beside the tool's. */
export function printTables(lines: readonly Line[]): string {
  const found = [
    [
      "kind",
      "n",
      "right first [95 %]",
      "plain",
      "right place",
      "plain",
      "false/scene",
      "plain",
      "clean",
      "plain",
    ],
    ...lines.map(({ name, tool, plain, powered }) => [
      name,
      String(plain.scenes),
      powered ? withInterval(tool?.rightFirst) : "",
      powered ? shareText(plain.rightFirst) : "",
      powered ? shareText(tool?.rightPlace) : "",
      powered ? shareText(plain.rightPlace) : "",
      number(tool?.falseAlarmsPerScene, 2),
      number(plain.falseAlarmsPerScene, 2),
      powered ? shareText(tool?.clean) : withInterval(tool?.clean),
      shareText(plain.clean),
    ]),
  ];
  const exact = [
    [
      "kind",
      "place px",
      "plain",
      "σ said/true",
      "align px 50 %/95 %",
      "plain",
      "watts off: plate told",
      "at rest",
      "rising",
      "90 % covers",
      "calibration",
      "Brier",
      "ms",
      "failed",
    ],
    ...lines.map(({ name, tool, plain }) => [
      name,
      number(tool?.positionMedianPx, 3),
      number(plain.positionMedianPx, 3),
      number(tool?.positionSigmaRatio, 2),
      `${number(tool?.alignMedianPx, 3)}/${number(tool?.align95Px, 2)}`,
      `${number(plain.alignMedianPx, 3)}/${number(plain.align95Px, 2)}`,
      percent(tool?.wattsMedianKnown),
      percent(tool?.wattsMedianSettled),
      percent(tool?.wattsMedianRising),
      shareText(tool?.wattsInside90),
      number(tool?.calibrationError, 3),
      number(tool?.brier, 3),
      number(tool?.analysisMedianMs, 0),
      tool === null ? "" : String(tool.failures),
    ]),
  ];
  return `${lay(found)}\n\n${lay(exact)}`;
}

function lay(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, c) => Math.max(...rows.map((row) => row[c]!.length)));
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, c) => (c === 0 ? cell.padEnd(widths[c]!) : cell.padStart(widths[c]!)))
      .join("  ")
      .trimEnd();
  return [line(rows[0]!), line(widths.map((w) => "-".repeat(w))), ...rows.slice(1).map(line)].join("\n");
}

function withInterval(share: Share | null | undefined): string {
  if (share === null || share === undefined) return "–";
  return `${share.share.toFixed(3)} [${share.low.toFixed(2)} ${share.high.toFixed(2)}]`;
}

function shareText(share: Share | null | undefined): string {
  return share === null || share === undefined ? "–" : share.share.toFixed(3);
}

function number(value: number | null | undefined, digits: number): string {
  return value === null || value === undefined || Number.isNaN(value) ? "–" : value.toFixed(digits);
}

function percent(value: number | null | undefined): string {
  return value === null || value === undefined ? "–" : `${(100 * value).toFixed(0)} %`;
}
