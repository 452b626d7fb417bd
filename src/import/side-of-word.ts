// import: a word of a table or drawing → the side of the board it stands for.
import type { Region } from "../board/board-schema.js";

/** Common practice of the programs that export tables, no source; O, U, BS, LS, L: German for top, bottom, component
 *  side and solder side. */
const TOP =
  /^(?:t|top|f|front|c|comp|component|componentside|primary|primaryside|1|o|oben|upper|bs)(?:layer|side|cu)?$/;
const BOTTOM =
  /^(?:b|bot|bottom|back|rear|s|solder|solderside|secondary|secondaryside|2|l|u|unten|lower|ls)(?:layer|side|cu)?$/;

/** Read a word as a side: Top, B, "Bottom Layer", front …
 *  @returns null for any other word. */
export function sideOfWord(text: string): Region["side"] | null {
  const word = text.toLowerCase().replace(/[^a-z0-9]/g, "");
  if (TOP.test(word)) return "top";
  return BOTTOM.test(word) ? "bottom" : null;
}

/** Read what stands in a column that says whether a part is mirrored.
 *  @returns null for neither yes nor no. */
export function sideOfMirror(text: string): Region["side"] | null {
  const word = text.trim().toLowerCase();
  if (/^(?:no|n|false|0)$/.test(word)) return "top";
  return /^(?:yes|y|true|1)$/.test(word) ? "bottom" : null;
}
