// readings: what a good board is said to show, a value, a range or a value with a tolerance → numbers.
import { normalise } from "./parse-quantity.js";
import { parseReading, type ReadValue, readingError } from "./parse-reading.js";
import type { Measure } from "./reading-schema.js";

/** A value to be expected, as fields of a reference. */
export interface ExpectedValue extends ReadValue {
  /** Upper end of a range; `value` is then the lower one. */
  readonly upTo?: number;
  /** In the unit of the value. */
  readonly tolerance?: number;
  /** As a share of the value. */
  readonly toleranceShare?: number;
}

const TO = /-|\.\.\.?|…|~|\bto\b/g;
const PLUS_MINUS = /^(.+?)\s*(?:±|\+\/-|\+-)\s*(.+)$/;
/** What stands behind the number. */
const UNIT_TEXT = /[^\d.,\s-]+$/;

/** Parse a value to be expected: all that `parseReading` takes, a range (`0.40-0.45`, `400 … 450 mV`), or a value with
 *  a tolerance (`0.45 ± 0.02`, `450 mV ± 5 %`). A unit at the end of a range stands for both ends.
 *  @throws ToolError E_READING_VALUE if it is none of these, or may mean two things (`900-1.2k`, `3-450`).
 */
export function parseExpected(raw: string, measure: Measure): ExpectedValue {
  const text = normalise(raw);
  const spread = PLUS_MINUS.exec(text);
  if (spread !== null) {
    const base = parseReading(spread[1]!, measure);
    if (base.overRange) throw readingError(raw, measure);
    // "450 ± 5" in diode mode: what the number was read as goes for its tolerance too.
    const unit = isBareMillivolts(spread[1]!, base) ? "1 mV" : spread[1]!;
    return { ...base, ...parseTolerance(withUnitOf(spread[2]!, unit), measure) };
  }
  const single = attempt(text, measure);
  if (single !== null) return single;
  // A minus may be a sign or stand between two numbers: the first place where both sides read as numbers parts them.
  for (const { index, 0: mark } of text.matchAll(TO)) {
    const right = text.slice(index + mark.length).trim();
    const high = attempt(right, measure);
    const written = text.slice(0, index).trim();
    const left = withUnitOf(written, right);
    const low = attempt(left, measure);
    if (low === null || high === null || low.value === null || high.value === null) continue;
    // "900-1.2k": with the unit the range runs downwards, without it upwards. Nobody says which is meant.
    const bareLow = left === written ? null : attempt(written, measure);
    if (low.value > high.value && typeof bareLow?.value === "number" && bareLow.value <= high.value)
      throw readingError(raw, measure);
    // "3-450": one end would be volts and the other millivolts.
    const bare = !/[^\d.,\s+-]/.test(left + right);
    const mixed = isBareMillivolts(left, low) !== isBareMillivolts(right, high);
    if (bare && mixed && low.value !== 0 && high.value !== 0) throw readingError(raw, measure);
    const [least, most] = low.value <= high.value ? [low.value, high.value] : [high.value, low.value];
    return { value: least, upTo: most, overRange: false, assumed: low.assumed ?? high.assumed };
  }
  throw readingError(raw, measure);
}

/** True where a whole number without a unit was read as millivolts. */
function isBareMillivolts(text: string, { value }: ReadValue): boolean {
  return /^[+-]?\d+$/.test(text.trim()) && value !== Number(text);
}

/** Parse a tolerance: `10 %`, `0.02`, `20 mV`; without a unit it is in that of the measure.
 *  @throws ToolError E_READING_VALUE.
 */
export function parseTolerance(
  raw: string,
  measure: Measure,
): { tolerance: number } | { toleranceShare: number } {
  const text = normalise(raw).replace(/^(?:±|\+\/-|\+-)\s*/, "");
  const percent = /^(\d+(?:[.,]\d*)?|[.,]\d+)\s*%$/.exec(text);
  if (percent !== null) {
    const share = Number(percent[1]!.replace(",", ".")) / 100;
    if (share > 1) throw readingError(raw, measure);
    return { toleranceShare: share };
  }
  const { value } = parseReading(text, measure);
  if (value === null || value < 0) throw readingError(raw, measure);
  return { tolerance: value };
}

function attempt(text: string, measure: Measure): ReadValue | null {
  try {
    return parseReading(text, measure);
  } catch {
    return null;
  }
}

/** Give a bare number the unit that its partner has. */
function withUnitOf(text: string, partner: string): string {
  const unit = UNIT_TEXT.exec(normalise(partner))?.[0];
  return unit === undefined || unit.endsWith("%") || /[^\d.,\s-]/.test(text) ? text : `${text} ${unit}`;
}
