// cli: the notes of a result → lines under it; warnings stand out.
import type { Findings } from "../findings/findings-schema.js";
import { visibleText } from "../report/visible-text.js";
import type { Styles } from "./command-output.js";

/** Word notes, with a blank line and a title above them; no lines where there are none. */
export function noteLines(notes: Findings["notes"], styles: Styles): string[] {
  if (notes.length === 0) return [];
  const lines = notes.map(({ code, severity, text }) => {
    const line = `  ${visibleText(`${code}: ${text}`)}`;
    return severity === "warning" ? styles.warn(line) : line;
  });
  return ["", "Notes:", ...lines];
}
