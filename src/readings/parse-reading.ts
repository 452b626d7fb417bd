// readings: what a person types off a meter → its value in V, Ω or A, or over-range.
import { ToolError } from "../core/errors.js";
import { normalise, parseQuantity } from "./parse-quantity.js";
import type { Measure } from "./reading-schema.js";

/** A reading as a number. */
export interface ReadValue {
  /** V for diode and voltage, Ω for resistance, A for current; null: over-range. */
  readonly value: number | null;
  readonly overRange: boolean;
  /** What was taken for granted, for the user to see; null if nothing was. */
  readonly assumed: string | null;
}

/** Units by measure, for messages. */
export const UNIT_OF: Readonly<Record<Measure, string>> = Object.freeze({
  diode: "V",
  voltage: "V",
  resistance: "Ω",
  current: "A",
});

/** No diode test reaches so many volts: meters stop at 1.5 to 4 V (common practice, no source) … */
const MOST_DIODE_V = 5;
/** … and many show millivolts as a whole number without a unit; from here on it can't be volts. */
const LEAST_BARE_MV = 20;
/** What meters show, and people write, where the value is more than the meter can show. */
const OVER_RANGE = /^(?:[o0]\.?l\.?|\.[o0]l|over(?:[- ]?(?:load|range|limit))?|open|inf(?:inite|inity)?|∞)$/i;

/** Parse a reading: a number with or without unit, or over-range (`OL`, `0L`, `O.L`, `open`, `∞`).
 *  A whole number from 20 up without a unit is millivolts in diode mode, and `assumed` says so.
 *  @throws ToolError E_READING_VALUE if it is neither, has the unit of another measure, or may mean two things.
 */
export function parseReading(raw: string, measure: Measure): ReadValue {
  const text = normalise(raw);
  if (OVER_RANGE.test(text)) return { value: null, overRange: true, assumed: null };
  const quantity = text === "1." ? null : parseQuantity(text, measure);
  if (quantity === null) throw readingError(raw, measure);
  const { number, factor } = quantity;
  const assumed: string[] = [];
  if (quantity.maybeThousands) assumed.push(`the comma in "${raw.trim()}" was read as a decimal mark`);
  let scale = factor ?? 1;
  if (measure === "diode" && factor === null && Math.abs(number) > MOST_DIODE_V) {
    if (!Number.isInteger(number) || Math.abs(number) < LEAST_BARE_MV) throw readingError(raw, measure);
    scale = 1e-3;
    assumed.push(`"${raw.trim()}" was read as millivolts`);
  }
  if (measure === "diode" && Math.abs(number * scale) > MOST_DIODE_V) throw readingError(raw, measure);
  // Twelve digits: 450 × 0.001 is not 0.45 in binary, and no meter has more.
  const value = Number((number * scale).toPrecision(12));
  return { value, overRange: false, assumed: assumed.length === 0 ? null : assumed.join("; ") };
}

/** Make the error of a text that is no reading. */
export function readingError(raw: string, measure: Measure): ToolError {
  const examples: Record<Measure, string> = {
    diode: "0.45, 450 mV or OL",
    voltage: "1.8, 1800 mV or -0.3",
    resistance: "12, 4k7, 1.2 MΩ or OL",
    current: "0.12 or 120 mA",
  };
  const shown = raw.trim() === "" ? "nothing" : `"${raw.trim()}"`;
  return new ToolError("E_READING_VALUE", {
    problem: `${shown} is no reading in ${measure} mode that can be understood; one number in ${UNIT_OF[measure]} was expected`,
    fix: `Write it like ${examples[measure]}, with its unit where it may mean two things`,
  });
}
