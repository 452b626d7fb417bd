// What varying judged constants gave, as the page of constants keeps it: the table, and a sentence for the row of each.
import { readVaried, type VariedRow } from "../evaluate/varied/print-varied.js";
import { readText } from "./project.js";

export const CONSTANTS_PAGE = "src/guide/constants.md";
const [OPEN, CLOSE] = ["<!-- varied -->", "<!-- /varied -->"] as const;
const BLOCK = new RegExp(`${OPEN}\\n[\\s\\S]*${CLOSE}`);

/** The part of the page that holds the table; null before one was put there. */
export function variedBlock(): string | null {
  return BLOCK.exec(readText(CONSTANTS_PAGE))?.[0] ?? null;
}

/** Make a table the part of the page that holds it, or put it there after those that the page has.
 *  @param keeps the tables of the page stay.
 *  @throws Error if a constant of it stands in one of them already.
 */
export function addVaried(table: string, keeps: boolean, had = variedBlock()): string {
  const before = keeps && had !== null ? `${had.slice(OPEN.length + 1, -CLOSE.length - 1)}\n\n` : "";
  const nameOf = ({ path, name }: VariedRow): string => `${path} ${name}`;
  const known = new Set(readVaried(before).map(nameOf));
  const twice = readVaried(table).find((row) => known.has(nameOf(row)));
  if (twice !== undefined)
    throw new Error(`${nameOf(twice)} was varied before: one of its runs must go, or all be of one run`);
  return `${OPEN}\n${before}${table}\n${CLOSE}`;
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
