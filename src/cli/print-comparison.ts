// cli: a comparison, an excess over healthy boards, or a profile → what a terminal shows.

import type { Comparison } from "../compare/comparison-schema.js";
import type { Excess } from "../compare/excess-schema.js";
import type { Profile } from "../compare/profile-schema.js";
import { countOf } from "../core/count-of.js";
import { formatSignificant, formatToSigma } from "../core/format-quantity.js";
import {
  actionsText,
  attemptText,
  CHANGE_WORDS,
  PART_COLUMNS,
  partCells,
} from "../report/describe-comparison.js";
import { visibleText } from "../report/visible-text.js";
import type { Styles } from "./command-output.js";
import { noteLines } from "./note-lines.js";
import { textTable } from "./text-table.js";

/** Parts of a profile or of an excess that are printed; the JSON lists them all. */
const MOST_ROWS = 12;

/** Print a comparison for a person. Every string that came from a file is made visible before it is printed.
 *  @returns text with a last line end.
 */
export function printComparison(comparison: Comparison, styles: Styles): string {
  const { verdict, before, after, parts, hotspots } = comparison;
  const lines = [styles.bold(visibleText(verdict))];
  const done = actionsText(comparison);
  if (done !== "") lines.push(visibleText(done));
  lines.push(
    styles.dim(visibleText(`Earlier: ${attemptText(before)}`)),
    styles.dim(visibleText(`Later: ${attemptText(after)}`)),
  );
  if (parts.length > 0) {
    const columns = PART_COLUMNS.map((title, i) => ({ title, right: i > 1 }));
    const [head, ...body] = textTable(
      columns,
      parts.map((part) => partCells(part).map(visibleText)),
    );
    lines.push("", styles.dim(head ?? ""), ...body, "");
    for (const { ref, why } of parts) lines.push(visibleText(`  ${ref}: ${why}`));
  }
  const unnamed = hotspots.filter(({ ref }) => ref === null);
  if (unnamed.length > 0) {
    lines.push("", "Hotspots whose part is not known:");
    for (const { before: a, after: b, change } of unnamed) {
      const which = [a === null ? "" : `earlier no. ${a}`, b === null ? "" : `later no. ${b}`];
      lines.push(`  ${which.filter((word) => word !== "").join(", ")}: ${CHANGE_WORDS[change]}`);
    }
  }
  lines.push(...noteLines(comparison.notes, styles));
  return `${lines.join("\n")}\n`;
}

/** Print by how much parts exceed what healthy boards show. */
export function printExcess(excess: Excess, styles: Styles): string {
  const lines = [styles.bold(visibleText(excess.verdict))];
  const shown = excess.parts.filter(({ exceeds }, i) => exceeds || i < MOST_ROWS);
  if (shown.length > 0) {
    const [head, ...body] = textTable(
      [
        { title: "Part" },
        { title: "Beyond, sigma", right: true },
        { title: "Shown", right: true },
        { title: "Healthy", right: true },
        { title: "What" },
      ],
      shown.map((part) => [
        visibleText(part.ref),
        formatSignificant(part.z, 2),
        formatToSigma(part.value, part.sigma, ""),
        formatToSigma(part.expected, part.sigma, ""),
        `${part.what === "contrastK" ? "contrast, K" : "log of watts"}${excess.per === "fed" ? " per watt fed in" : ""}`,
      ]),
    );
    lines.push("", styles.dim(head ?? ""), ...body);
    const rest = excess.parts.length - shown.length;
    if (rest > 0) lines.push(`and ${rest} more`);
  }
  lines.push(...noteLines(excess.notes, styles));
  return `${lines.join("\n")}\n`;
}

/** Print a profile: the parts that heat on healthy boards. */
export function printProfile(profile: Profile, styles: Styles): string {
  const warm = profile.parts.filter(({ found }) => found > 0);
  const attempts = profile.attempts === 1 ? "one healthy attempt" : `${profile.attempts} healthy attempts`;
  const per = profile.per === "fed" ? ", for each watt fed in" : "";
  const lines = [
    styles.bold(
      `${countOf(profile.parts.length, "part")} in ${attempts}${per}; ${warm.length} of them ${warm.length === 1 ? "heats" : "heat"}.`,
    ),
  ];
  if (warm.length > 0) {
    const [head, ...body] = textTable(
      [
        { title: "Part" },
        { title: "Found in", right: true },
        { title: "Watts", right: true },
        { title: "Contrast, K", right: true },
      ],
      warm.map(({ ref, attempts: seen, found, logPower, contrastK }) => [
        visibleText(ref),
        `${found} of ${seen}`,
        logPower === null ? "" : formatSignificant(Math.exp(logPower.mean), 2),
        contrastK === null ? "" : formatToSigma(contrastK.mean, contrastK.sigma, ""),
      ]),
    );
    lines.push("", styles.dim(head ?? ""), ...body);
  }
  lines.push(...noteLines(profile.notes, styles));
  return `${lines.join("\n")}\n`;
}
