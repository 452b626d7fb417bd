// page: text from a spreadsheet → readings or references of a job.

import type { Calls } from "../../api/calls.js";
import { countOf } from "../../core/count-of.js";
import { parseReading } from "../../readings/parse-reading.js";
import { parseReadingTable } from "../../readings/parse-reading-table.js";
import type { Measure } from "../../readings/reading-schema.js";
import type { TypedPlace } from "./read-place.js";

/** A line for the journal. */
export type SaidLine = Calls["say"]["request"]["body"]["said"][number];
/** Which of the two columns is being filled. */
export type Filling = "reading" | "reference";

/** Make the line of one value.
 *  @throws ToolError E_READING_VALUE if the value can't be understood.
 */
export function lineOf(place: TypedPlace, raw: string, measure: Measure, filling: Filling): SaidLine {
  const { value, overRange } = parseReading(raw, measure);
  const reading = { ...place, measure, value, overRange, raw: raw.trim() };
  return filling === "reading"
    ? { type: "reading", reading }
    : { type: "reference", reference: { ...reading, source: "good board" } };
}

/** Take what was pasted into a cell. One column fills the cells from there down; more columns are a table of places and
 *  values of their own.
 *  @param places rows from the cell down.
 *  @returns lines, and what was taken for granted; null where it is a single value, which the cell takes by itself.
 *  @throws ToolError if a cell can't be understood; nothing is taken then.
 */
export function takePasted(
  text: string,
  places: readonly TypedPlace[],
  measure: Measure,
  filling: Filling,
): { readonly lines: readonly SaidLine[]; readonly assumed: readonly string[] } | null {
  const rows = text.replace(/\r\n?/g, "\n").replace(/\n+$/, "").split("\n");
  if (rows.some((row) => /[\t;]/.test(row))) {
    const table = parseReadingTable(new TextEncoder().encode(text), "the pasted table", {
      measure,
      unnamed: filling,
    });
    const lines = [
      ...table.readings.map((reading): SaidLine => ({ type: "reading", reading })),
      ...table.references.map((reference): SaidLine => ({ type: "reference", reference })),
    ];
    return { assumed: table.assumed, lines };
  }
  if (rows.length < 2) return null;
  const lines: SaidLine[] = [];
  rows.slice(0, places.length).forEach((row, i) => {
    const place = places[i];
    if (row.trim() !== "" && place !== undefined) lines.push(lineOf(place, row, measure, filling));
  });
  const left = rows.length - places.length;
  return {
    lines,
    assumed:
      left > 0
        ? [
            `${countOf(left, "pasted value")} ${left === 1 ? "has no row and was" : "have no row and were"} left out`,
          ]
        : [],
  };
}
