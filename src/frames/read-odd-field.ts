// frames: the text of a field that the fast scanner passed over → a number, no reading, or text.

/** What a field of a text matrix holds. `value` is NaN unless `kind` is `number`. */
export type OddField = { readonly kind: "number" | "no reading" | "empty" | "text"; readonly value: number };

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const INFINITE = /^([+-]?)(?:inf|infinity|1\.#INF0*)$/i;
/** Words for "no reading" that programs and people write: IEEE 754's, R's, spreadsheets' and plain dashes. */
const NO_READING =
  /^(?:[+-]?nan(?:\((?:ind|snan)\))?|[+-]?1\.#(?:qnan|ind|snan)0*|n\/a|na|#n\/a|null|none|-{1,5})$/i;

const EMPTY: OddField = { kind: "empty", value: Number.NaN };
const NOTHING_READ: OddField = { kind: "no reading", value: Number.NaN };
const TEXT: OddField = { kind: "text", value: Number.NaN };

/** Read one field of any style; the slow way, for the fields that are not plain numbers.
 *  @param text the field, quotes already removed.
 *  @param decimalComma whether a comma stands for the decimal point; then a point is no part of a number.
 *  @returns infinite words as infinite numbers: a frame that holds one is refused later, with its place.
 */
export function readOddField(text: string, decimalComma: boolean): OddField {
  let field = text.trim();
  if (field === "") return EMPTY;
  if (NO_READING.test(field)) return NOTHING_READ;
  const infinite = INFINITE.exec(field);
  if (infinite !== null) return { kind: "number", value: infinite[1] === "-" ? -Infinity : Infinity };
  if (decimalComma) {
    if (field.includes(".")) return TEXT;
    field = field.replace(",", ".");
  }
  // U+2212 is the typographic minus sign.
  if (field.charCodeAt(0) === 0x2212) field = `-${field.slice(1)}`;
  return NUMBER.test(field) ? { kind: "number", value: Number(field) } : TEXT;
}
