// evaluate: scores of the tool with one ingredient left out at a time → a table of what each is worth.
import type { Kind } from "../simulate/scene.js";
import { layTable, numberText, percentText, shareText } from "./lay-table.js";
import type { Score } from "./score.js";
import { summarise } from "./summary.js";

/** A line for each version with its figures, in the order of the names. */
export function printAblations(
  names: readonly string[],
  kinds: readonly Kind[],
  scores: readonly Score[],
): string {
  const rows = names.map((name) => {
    const own = scores.filter((score) => score.variant === name);
    const powered = own.filter((score) => score.rightFirst !== null);
    const cold = own.filter((score) => score.rightFirst === null);
    const all = summarise(powered);
    return [
      name,
      ...kinds.map((kind) => {
        const some = summarise(own.filter((score) => score.kind === kind));
        return some.rightFirst === null ? shareText(some.clean) : shareText(some.rightFirst);
      }),
      shareText(all.rightFirst),
      cold.length === 0 ? "–" : shareText(summarise(cold).clean),
      `${numberText(all.alignMedianPx, 3)}/${numberText(all.align95Px, 2)}`,
      percentText(all.wattsMedian),
      shareText(all.wattsInside90),
      numberText(all.calibrationError, 3),
      numberText(all.brier, 3),
      numberText(all.analysisMedianMs, 0),
    ];
  });
  const head = [
    "right first (unpowered: clean)",
    ...kinds,
    "all powered",
    "unpowered",
    "align px",
    "watts off",
  ];
  return layTable([[...head, "90 % covers", "calibration", "Brier", "ms"], ...rows]);
}
