// What varying judged constants gave, as the page of constants keeps it: the table, and a sentence for the row of each.
import { readVaried, type VariedRow } from "../evaluate/varied/print-varied.js";
import { readText } from "./project.js";

export const CONSTANTS_PAGE = "src/guide/constants.md";
const BLOCK = /<!-- varied -->\n[\s\S]*<!-- \/varied -->/;

/** The part of the page that holds the table; null before one was put there. */
export function variedBlock(): string | null {
  return BLOCK.exec(readText(CONSTANTS_PAGE))?.[0] ?? null;
}

/** Lines of the table on the page. */
export function variedRows(): VariedRow[] {
  return readVaried(variedBlock() ?? "");
}

/** What the row of a constant says of its changes. */
export function variedSentence(rows: readonly VariedRow[]): string {
  if (rows.length === 0) return "";
  const both = (of: (row: VariedRow) => string): string => [...new Set(rows.map(of))].join(" and ");
  const to = `Changed to ${rows.map((row) => row.to.join(", ")).join(" or ")}`;
  const scenes = `${both((row) => `${row.scenes}`)} scenes`;
  if (rows.every((row) => row.changed === 0)) return `${to}: nothing in ${scenes}.`;
  const firsts = rows.every((row) => row.firsts === 0)
    ? `the same first part in ${scenes}`
    : `another first part in ${both((row) => `${row.firsts}`)} of ${scenes}`;
  const alarms = rows.every((row) => row.falseHotspots === 0)
    ? ""
    : `, ${both((row) => signed(row.falseHotspots))} false hotspots`;
  return `${to}: ${firsts}${alarms}, a probability moves by up to ${both((row) => row.chance.toFixed(3))}.`;
}

const signed = (count: number): string => (count > 0 ? `+${count}` : String(count));
