// page: a temperature as it was typed, and the unit that is read now → the same temperature in that unit.
import { readNumber } from "./read-number.js";
import { fromUnit, type TemperatureUnit, toUnit } from "./show-temperature.js";

/** What stands in a field, and the unit that was read when it was typed. */
export interface TypedTemperature {
  readonly text: string;
  readonly unit: TemperatureUnit;
}

/** Give a typed temperature in another unit, to a thousandth; in its own, or where it is no number, it stays as it was
 *  typed. */
export function convertTyped({ text, unit }: TypedTemperature, to: TemperatureUnit): string {
  const value = unit === to ? null : readNumber(text);
  return value === null ? text : String(Number(toUnit(fromUnit(value, unit), to).toFixed(3)));
}
