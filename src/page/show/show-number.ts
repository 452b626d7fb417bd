// page: a number that the engine has put into words → the same digits with the decimal mark that the user reads.

/** How decimals are marked. */
export type DecimalMark = "." | ",";

/** A number with decimals that is no part of a word, a file's name or a version: `0.45`, not `frame-1.2.csv`. */
const DECIMAL = /(?<![\w.,/-])([<>≈±−+]?\d+)\.(\d+)(?![\w/]|[.,]\w|-\w)/g;

/** Mark the decimals of all numbers in a text. Digits stay as they are.
 *  @param text as the engine words it, with points.
 */
export function markDecimals(text: string, mark: DecimalMark): string {
  return mark === "." ? text : text.replace(DECIMAL, "$1,$2");
}
