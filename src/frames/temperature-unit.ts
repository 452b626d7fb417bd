// frames: a word for a unit of temperature → °C, °F or K; a value in that unit → °C.

/** The units in which a text frame may hold its temperatures. */
export type TemperatureUnit = "C" | "F" | "K";

/** How a unit is written in messages. */
export const UNIT_SIGNS: Readonly<Record<TemperatureUnit, string>> = Object.freeze({
  C: "°C",
  F: "°F",
  K: "K",
});

const WORDS: Readonly<Record<TemperatureUnit, RegExp>> = {
  // U+FFFD stands where a degree sign was written in another encoding than UTF-8.
  C: /^(?:(?:°|º|\uFFFD|deg\.? ?|degrees? ?)?c|℃|(?:degrees? )?(?:celsius|centigrade))$/i,
  F: /^(?:(?:°|º|\uFFFD|deg\.? ?|degrees? ?)?f|℉|(?:degrees? )?fahrenheit)$/i,
  K: /^(?:k|\u212A|kelvins?)$/i,
};

/** Read a word such as `K`, `°F`, `degC` or `celsius`.
 *  @returns null if the word is no unit of temperature.
 */
export function readUnitWord(word: string): TemperatureUnit | null {
  const text = word.trim();
  if (WORDS.C.test(text)) return "C";
  if (WORDS.F.test(text)) return "F";
  if (WORDS.K.test(text)) return "K";
  return null;
}

/** Turn values into °C; °C = (°F − 32)·5/9 and °C = K − 273.15 are exact by definition (SI brochure, 2.3.1).
 *  @param values in `unit`, read as doubles; not modified.
 *  @returns °C, rounded once to single precision; NaN stays NaN.
 */
export function toCelsius(values: Float64Array, unit: TemperatureUnit): Float32Array {
  if (unit === "C") return new Float32Array(values);
  const result = new Float32Array(values.length);
  if (unit === "K") {
    for (let i = 0; i < values.length; i++) result[i] = values[i]! - 273.15;
  } else {
    for (let i = 0; i < values.length; i++) result[i] = ((values[i]! - 32) * 5) / 9;
  }
  return result;
}
