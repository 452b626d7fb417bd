// report: any text → text whose characters the fonts of a PDF have.
import { visibleText } from "./visible-text.js";

/** Make a text fit for a PDF: what is invisible or commanding becomes visible, letters with marks become one character
 *  where there is one, and what no font has becomes its number, as `[U+D55C]`.
 *  @param missing characters that the fonts have not; null: not known yet.
 */
export function showable(text: string, missing: ReadonlySet<number> | null): string {
  const clean = visibleText(text.normalize("NFC"));
  if (missing === null || missing.size === 0) return clean;
  let shown = "";
  for (const character of clean) {
    const codePoint = character.codePointAt(0) ?? 0;
    shown += missing.has(codePoint)
      ? `[U+${codePoint.toString(16).toUpperCase().padStart(4, "0")}]`
      : character;
  }
  return shown;
}
