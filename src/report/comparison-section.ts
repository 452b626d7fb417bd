// report: a comparison → the sections of a page that tell it, each a piece of HTML or "" where it has nothing to say.
import type { Comparison } from "../compare/comparison-schema.js";
import { actionsText, attemptText, CHANGE_WORDS, PART_COLUMNS, partCells } from "./describe-comparison.js";
import { htmlTable } from "./html-table.js";
import { proseHtml } from "./prose-html.js";

/** Verdict, what was done, and where to look next. */
export function comparisonVerdict(comparison: Comparison): string {
  const done = actionsText(comparison);
  const next = comparison.lookAt.map(({ ref, why }) => `${ref}: ${why}`);
  return [
    `<p class="verdict">${proseHtml(comparison.verdict)}</p>`,
    done === "" ? "" : `<p>${proseHtml(done)}</p>`,
    next.length === 0 ? "" : `<p class="next"><b>Look at</b> ${proseHtml(next.join("; "))}</p>`,
  ].join("");
}

/** Which attempts were compared. */
export function comparedAttempts({ before, after }: Comparison): string {
  return `<p class="quiet">Earlier: ${proseHtml(attemptText(before))}. Later: ${proseHtml(attemptText(after))}.</p>`;
}

/** Every part that heats in an attempt, with its numbers and the reason. */
export function comparedParts({ parts }: Comparison): string {
  if (parts.length === 0) return "";
  const columns = [
    ...PART_COLUMNS.map((title, i) => ({ title, as: i < 2 ? ("name" as const) : ("number" as const) })),
    { title: "Why", as: "words" as const },
  ];
  const rows = parts.map((part) => [...partCells(part), part.why]);
  return `<section><h2>Parts, earlier → later</h2>${htmlTable("parts that heat in either attempt", columns, rows)}</section>`;
}

/** Hotspots without a part, which would be lost otherwise. */
export function comparedHotspots({ hotspots }: Comparison): string {
  const unnamed = hotspots.filter(({ ref }) => ref === null);
  if (unnamed.length === 0) return "";
  const rows = unnamed.map(({ before, after, change, distanceMm }) => [
    before === null ? "–" : String(before),
    after === null ? "–" : String(after),
    CHANGE_WORDS[change],
    distanceMm === null ? "–" : distanceMm.toFixed(2),
  ]);
  const columns = [
    { title: "Earlier, no.", as: "number" as const },
    { title: "Later, no.", as: "number" as const },
    { title: "Change" },
    { title: "Apart, mm", as: "number" as const },
  ];
  return `<section><h2>Hotspots whose part is not known</h2>${htmlTable("hotspots without a part", columns, rows)}</section>`;
}

/** What the comparison rests on. */
export function comparisonNotes({ notes }: Comparison): string {
  if (notes.length === 0) return "";
  const items = notes.map(({ code, severity, text }) => {
    const shown = proseHtml(`${code}: ${text}`);
    return `<li>${severity === "warning" ? `<span class="warning">${shown}</span>` : shown}</li>`;
  });
  return `<section><h2>What it rests on</h2><ul class="cautions">${items.join("")}</ul></section>`;
}
