// frames: header lines of a text → the unit of temperature that they state.
import { ToolError } from "../core/errors.js";
import { readUnitWord, type TemperatureUnit, UNIT_SIGNS } from "./temperature-unit.js";

/** A header line of a text frame. */
export interface HeaderLine {
  readonly text: string;
  /** Line of the file, from 1. */
  readonly line: number;
}

/** `key=value`, `key: value`, `key;value`, `key,value` or TAB between the two, after a comment sign. */
const PAIR = /^[\s#%/;!*"]*([^=:;,\t]*?)"?\s*[=:;,\t]\s*(.*)$/;
/** Words for "unit" in the languages in which headers are most often written (from memory). */
const UNIT_KEY =
  /(?:^|[\s_.-])(?:units?|einheit|unit[ée]|unidad|unit[àa])$|^(?:temp|temperature)[\s_-]*units?$/i;
/** A unit in brackets, as in `Temperature [°C]` or `values (K)`. */
const BRACKETED = /[[(]\s*((?:°|º|\uFFFD|deg\.? ?)?[CFK]|℃|℉|Celsius|Fahrenheit|Kelvin)\s*[\])]/i;
/** A title that says in what its numbers are, as in `temperatures in °F`. */
const IN_UNIT = /\bin\s+(?:degrees?\s+)?((?:°|º|\uFFFD)[CFK]|℃|℉|Celsius|Fahrenheit|Kelvin|K)(?![A-Za-z])/i;

/** Find the unit that a text frame states of itself.
 *  A line whose key is "unit" counts before a title with a unit in brackets or after "in". The unit of some other
 *  value (`reflected = 20 °C`) is no statement on the matrix and is passed over.
 *  @returns null if no line states a unit.
 *  @throws ToolError E_UNIT if a line states a unit that is none of temperature, or two lines differ.
 */
export function findUnit(headers: readonly HeaderLine[], file?: string): TemperatureUnit | null {
  const keyed = onlyOne(headers, unitByKey, file);
  return keyed ?? onlyOne(headers, unitInTitle, file);
}

type Reader = (header: HeaderLine, file?: string) => TemperatureUnit | null;

function onlyOne(headers: readonly HeaderLine[], read: Reader, file?: string): TemperatureUnit | null {
  let found: { unit: TemperatureUnit; line: number } | null = null;
  for (const header of headers) {
    const unit = read(header, file);
    if (unit === null) continue;
    if (found !== null && found.unit !== unit) {
      throw new ToolError("E_UNIT", {
        problem: `line ${found.line} states ${UNIT_SIGNS[found.unit]}, line ${header.line} states ${UNIT_SIGNS[unit]}`,
        fix: "Say which one holds by the option for the unit (C, F or K)",
        place: { file, line: header.line },
      });
    }
    found ??= { unit, line: header.line };
  }
  return found?.unit ?? null;
}

function unitByKey(header: HeaderLine, file?: string): TemperatureUnit | null {
  const pair = PAIR.exec(header.text);
  if (pair === null || !UNIT_KEY.test(pair[1]!.trim())) return null;
  const word = pair[2]!.replace(/[";,\t\s]+$/, "").replace(/^"/, "");
  if (word === "") return null;
  const unit = readUnitWord(word.replace(/^[[(](.*)[\])]$/, "$1"));
  if (unit !== null) return unit;
  // A distance has a unit as well; only what calls itself the unit of the whole is held against the three.
  if (!/^(?:temp(?:erature)?[\s_-]*)?units?$/i.test(pair[1]!.trim())) return null;
  throw new ToolError("E_UNIT", {
    problem: `°C, °F or K was expected as the unit, but the header says ${JSON.stringify(word)}`,
    fix: "Say the unit by the option for it, or give gain and offset if the numbers are counts of the sensor",
    place: { file, line: header.line },
  });
}

function unitInTitle(header: HeaderLine): TemperatureUnit | null {
  const pair = PAIR.exec(header.text);
  const value = pair?.[2] ?? "";
  // A pair with a number in its value is about that number, not about the matrix.
  if (pair !== null && pair[1] !== "" && /\d/.test(value)) return null;
  const word = BRACKETED.exec(header.text)?.[1] ?? IN_UNIT.exec(header.text)?.[1];
  return word === undefined ? null : readUnitWord(word);
}
