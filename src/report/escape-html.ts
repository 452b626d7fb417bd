// report: any string → text that is safe inside HTML and SVG, in elements and in quoted attributes.
import { visibleText } from "./visible-text.js";

const ENTITIES: Readonly<Record<string, string>> = Object.freeze({
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
  "`": "&#96;",
});

/** Escape a string for the text of an element or for an attribute in quotes; control characters become visible first.
 *  Not for scripts, styles, addresses or unquoted attributes: the report has none that hold foreign text.
 */
export function escapeHtml(text: string): string {
  return visibleText(text).replace(/[&<>"'`]/g, (character) => ENTITIES[character] ?? character);
}
