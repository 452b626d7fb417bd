// evaluate: rows of cells → a table for people; how numbers are written in it.
import type { Share } from "./statistics.js";

/** Lay rows out in columns, the first flush left, the others flush right; the first row is the head. */
export function layTable(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, c) => Math.max(...rows.map((row) => row[c]!.length)));
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, c) => (c === 0 ? cell.padEnd(widths[c]!) : cell.padStart(widths[c]!)))
      .join("  ")
      .trimEnd();
  return [line(rows[0]!), line(widths.map((w) => "-".repeat(w))), ...rows.slice(1).map(line)].join("\n");
}

/** `0.980 [0.95 0.99]` */
export function withInterval(share: Share | null | undefined): string {
  if (share === null || share === undefined) return "–";
  return `${share.share.toFixed(3)} [${share.low.toFixed(2)} ${share.high.toFixed(2)}]`;
}

/** `0.980` */
export function shareText(share: Share | null | undefined): string {
  return share === null || share === undefined ? "–" : share.share.toFixed(3);
}

/** A number, or a dash where there is none. */
export function numberText(value: number | null | undefined, digits: number): string {
  return value === null || value === undefined || Number.isNaN(value) ? "–" : value.toFixed(digits);
}

/** A share of one as percent. */
export function percentText(value: number | null | undefined): string {
  return value === null || value === undefined ? "–" : `${(100 * value).toFixed(0)} %`;
}
