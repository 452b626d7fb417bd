// evaluate: summaries by kind → tables for people.
import { layTable, numberText, percentText, shareText, withInterval } from "./lay-table.js";
import type { Score } from "./score.js";
import { present, quantile, shareOf } from "./statistics.js";
import type { Summary } from "./summary.js";

/** One line of the table: a kind with the summaries of both chains. */
export interface Line {
  readonly name: string;
  readonly tool: Summary | null;
  readonly plain: Summary | null;
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
      "clean [95 %]",
      "plain",
    ],
    ...lines.map(({ name, tool, plain, powered }) => [
      name,
      String(tool?.scenes ?? plain?.scenes ?? 0),
      powered ? withInterval(tool?.rightFirst) : "",
      powered ? shareText(plain?.rightFirst) : "",
      powered ? shareText(tool?.rightPlace) : "",
      powered ? shareText(plain?.rightPlace) : "",
      numberText(tool?.falseAlarmsPerScene, 2),
      numberText(plain?.falseAlarmsPerScene, 2),
      withInterval(tool?.clean),
      shareText(plain?.clean),
    ]),
  ];
  const exact = [
    [
      "kind",
      "place px",
      "plain",
      "σ said/true",
      "90 % covers",
      "align px 50 %/95 %",
      "plain",
      "watts off",
      "90 % covers [95 %]",
      "onset off s",
      "90 % covers",
      "calibration first/all",
      "Brier first/all",
      "ms",
      "failed",
    ],
    ...lines.map(({ name, tool, plain }) => [
      name,
      numberText(tool?.positionMedianPx, 3),
      numberText(plain?.positionMedianPx, 3),
      numberText(tool?.positionSigmaRatio, 2),
      shareText(tool?.positionInside90),
      `${numberText(tool?.alignMedianPx, 3)}/${numberText(tool?.align95Px, 2)}`,
      `${numberText(plain?.alignMedianPx, 3)}/${numberText(plain?.align95Px, 2)}`,
      percentText(tool?.wattsMedian),
      withInterval(tool?.wattsInside90),
      numberText(tool?.onsetMedianS, 2),
      shareText(tool?.onsetInside90),
      `${numberText(tool?.calibrationError, 3)}/${numberText(tool?.calibrationErrorAll, 3)}`,
      `${numberText(tool?.brier, 3)}/${numberText(tool?.brierAll, 3)}`,
      numberText(tool?.analysisMedianMs, 0),
      tool === null ? "" : String(tool.failures),
    ]),
  ];
  return `${layTable(found)}\n\n${layTable(exact)}`;
}

const TOLD = { right: "plate told", off: "told, up to 20 % off", no: "plate not told" } as const;
const HEATING = ["rest", "rising", "burst", "cycled"] as const;

/** Watts of the fault: median error and how often the 90 % interval covers, by what is known of the plate. */
export function printWatts(scores: readonly Score[]): string {
  const cell = (some: readonly Score[]): string => {
    const errors = present(some.map(({ wattsError }) => wattsError));
    if (errors.length === 0) return "–";
    const inside = shareOf(present(some.map(({ wattsInside90 }) => wattsInside90)));
    return `${percentText(quantile(errors, 0.5))}, covers ${shareText(inside)} (${errors.length})`;
  };
  const rows = Object.entries(TOLD).map(([told, words]) => [
    words,
    ...HEATING.map((heating) =>
      cell(scores.filter((score) => score.plateTold === told && score.heating === heating)),
    ),
  ]);
  return layTable([["watts off by, median", "at rest", "rising", "burst", "switched"], ...rows]);
}
