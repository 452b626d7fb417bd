// report: words and figures → HTML of them, in which no line ends between a number and its unit.
import { bindUnits } from "./bind-units.js";
import { escapeHtml } from "./escape-html.js";

/** A sentence or a cell: escaped, with numbers bound to their units. */
export function proseHtml(text: string): string {
  return escapeHtml(bindUnits(text));
}
