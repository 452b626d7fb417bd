// report: a comparison → the words and cells that terminal and page have in common.
import type { Change, ComparedPart, Comparison } from "../compare/comparison-schema.js";
import { sizeWords } from "../compare/size-words.js";
import { formatProbability, formatSignificant } from "../core/format-quantity.js";

/** What each change is called. */
export const CHANGE_WORDS: Readonly<Record<Change, string>> = Object.freeze({
  persisted: "still there",
  gone: "gone",
  new: "new",
  hotter: "hotter",
  cooler: "cooler",
  unsure: "unsure",
});

/** Titles of the columns of `partCells`; the first two are words, the others numbers. */
export const PART_COLUMNS = Object.freeze([
  "Part",
  "Change",
  "Rise, K",
  "Heat, W",
  "Per watt fed in",
  "z",
  "Chance",
]);

/** What became of a part's heat, with what its strength rests on where a number beside it says otherwise. */
export function changeText(part: Pick<ComparedPart, "change" | "riseK" | "powerW" | "perWatt">): string {
  return `${CHANGE_WORDS[part.change]}${sizeWords(part)}`;
}

/** One part's row: plain text, to be made safe by whoever shows it. */
export function partCells(part: ComparedPart): string[] {
  const warm = part.normallyWarm ? ", warm anyway" : "";
  const side = part.side === "bottom" ? " (bottom)" : "";
  return [
    `${part.ref}${side}`,
    `${changeText(part)}${warm}`,
    fromTo(part.riseK, 2),
    fromTo(part.powerW, 2),
    fromTo(part.perWatt, 2),
    part.z === null ? "" : formatSignificant(part.z, 2),
    formatProbability(part.probability),
  ];
}

/** `6.1 → 5.0`; a dash for what is not known, nothing where neither is. */
function fromTo([a, b]: readonly [number | null, number | null], digits: number): string {
  if (a === null && b === null) return "";
  const text = (value: number | null) => (value === null ? "–" : formatSignificant(value, digits));
  return `${text(a)} → ${text(b)}`;
}

/** What was done between the attempts, as a sentence; "" if nothing was told. */
export function actionsText({ actions }: Comparison): string {
  if (actions.length === 0) return "";
  return `In between: ${actions.map(({ what, ref }) => `${ref} ${what}`).join(", ")}.`;
}

/** An attempt in a few words: its file, the side it shows, and what was fed in. */
export function attemptText({ file, sides, fedW }: Comparison["before"]): string {
  const parts = [
    file ?? "findings",
    ...(sides.length === 0 ? [] : [`${sides.join(" and ")} side`]),
    ...(fedW === null ? [] : [`${formatSignificant(fedW, 3)} W fed`]),
  ];
  return parts.join(", ");
}
