// frames: one line of a text and the number of a field → the text of that field.
import { closingQuote } from "./find-lines.js";
import { fieldText } from "./scan-rows.js";

/** Find field `column` (from 0) of a line again, for a message or a second look; slow and seldom needed.
 *  @param separator code of the character between fields; 32 means runs of blanks.
 *  @returns the field without its quotes; empty if the line has no such field.
 */
export function locateField(
  bytes: Uint8Array,
  from: number,
  to: number,
  separator: number,
  column: number,
): string {
  const blanks = separator === 32;
  let p = from;
  for (let field = 0; p <= to; field++) {
    while (p < to && (bytes[p] === 32 || (bytes[p] === 9 && separator !== 9))) p++;
    const start = p;
    const close = bytes[p] === 34 ? closingQuote(bytes, p, to) : -1;
    if (close >= 0) p = close + 1;
    while (p < to && bytes[p] !== separator && !(blanks && bytes[p] === 9)) p++;
    if (field === column) return fieldText(bytes, start, p);
    p++;
  }
  return "";
}
