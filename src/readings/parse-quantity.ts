// readings: a number with its unit as people write it → the value in V, Ω or A.
import type { Measure } from "./reading-schema.js";

/** A number as it was written, before it is known whether its unit was meant. */
export interface Quantity {
  /** Without unit and prefix. */
  readonly number: number;
  /** What it is multiplied by; null where neither unit nor prefix is written. */
  readonly factor: number | null;
  /** A comma stands before exactly three digits and after a number above 0: it may have been meant to part
   *  thousands. */
  readonly maybeThousands: boolean;
}

/** Symbols of the unit of each measure; case matters in prefixes alone. */
const UNITS: Readonly<Record<Measure, string>> = Object.freeze({
  diode: "v|volts?",
  voltage: "v|volts?",
  resistance: "ω|ohms?|r",
  current: "a|amps?|amperes?",
});
/** Prefixes of SI. */
const PREFIXES: Readonly<Record<string, number>> = Object.freeze({
  n: 1e-9,
  µ: 1e-6,
  u: 1e-6,
  m: 1e-3,
  k: 1e3,
  K: 1e3,
  M: 1e6,
  G: 1e9,
});
const NUMBER = String.raw`\d+(?:[.,]\d*)?|[.,]\d+`;
const PREFIX = "[nµumkKMG]";

/** Parse a number with an optional prefix and unit: `0.45`, `0,45`, `.45`, `450 mV`, `-0.3`, `1.2k`, `12 Ω`, `1.2 MΩ`;
 *  also with the letter in the place of the decimal mark, as parts are marked: `4k7`, `2R2`, `1V8` (IEC 60062, from
 *  memory). A comma is a decimal mark. Prefixes are told apart by case: `m` is a thousandth, `M` a million.
 *  @returns null if it is none, or the unit is that of another measure.
 */
export function parseQuantity(text: string, measure: Measure): Quantity | null {
  const plain = normalise(text);
  const unit = `(?:${UNITS[measure]})`;
  const written = new RegExp(`^([+-]?)\\s*(${NUMBER})\\s*(${PREFIX}?)(${anyCase(unit)}?)$`).exec(plain);
  if (written !== null) {
    const [, sign, digits, prefix, symbol] = written as unknown as [string, string, string, string, string];
    const number = Number(digits.replace(",", "."));
    return {
      number: sign === "-" ? -number : number,
      factor: prefix === "" && symbol === "" ? null : (PREFIXES[prefix] ?? 1),
      maybeThousands: /^[1-9]\d*,\d{3}$/.test(digits),
    };
  }
  const marked = new RegExp(`^([+-]?)(\\d+)(${PREFIX}|[rRvVaA])(\\d+)(${anyCase(unit)}?)$`).exec(plain);
  if (marked === null) return null;
  const [, sign, whole, letter, decimals] = marked as unknown as [string, string, string, string, string];
  const factor = PREFIXES[letter];
  if (factor === undefined && !new RegExp(`^(?:${UNITS[measure]})$`).test(letter.toLowerCase())) return null;
  const number = Number(`${whole}.${decimals}`);
  return { number: sign === "-" ? -number : number, factor: factor ?? 1, maybeThousands: false };
}

/** One sort of minus, of micro, of ohm and of blank. */
export function normalise(text: string): string {
  return text
    .trim()
    .replace(/[\u2212\u2010-\u2014]/g, "-")
    .replace(/\u03bc/g, "µ")
    .replace(/\u2126/g, "Ω")
    .replace(/[\u00a0\u2007\u2009\u202f]/g, " ");
}

/** A pattern that takes either case of its letters; not by a flag, for prefixes keep theirs. */
function anyCase(pattern: string): string {
  return pattern.replace(/[a-zω]/g, (letter) => `[${letter}${letter.toUpperCase()}]`);
}
