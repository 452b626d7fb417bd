// page: a temperature or a rise → text in the unit that the user reads.

/** Unit of temperatures on the page. Rises stay in kelvins, as findings and reports give them. */
export type TemperatureUnit = "C" | "F";

/** Word a temperature to a tenth: cameras are not more exact than that.
 *  @param valueC °C; NaN = no reading.
 */
export function temperatureText(valueC: number, unit: TemperatureUnit, decimals = 1): string {
  if (!Number.isFinite(valueC)) return "no reading";
  return `${withMinus(toUnit(valueC, unit).toFixed(decimals))} °${unit}`;
}

/** A temperature in °C, in the unit that the user reads. */
export function toUnit(valueC: number, unit: TemperatureUnit): number {
  return unit === "C" ? valueC : valueC * 1.8 + 32;
}

/** A temperature as the user typed it, in °C. */
export function fromUnit(value: number, unit: TemperatureUnit): number {
  return unit === "C" ? value : (value - 32) / 1.8;
}

/** Word a rise in kelvins, and beside it in °F for those who think in these.
 *  @param riseK K; NaN = no reading.
 */
export function riseText(riseK: number, unit: TemperatureUnit): string {
  if (!Number.isFinite(riseK)) return "no reading";
  const kelvins = `${withMinus(riseK.toFixed(2))} K`;
  return unit === "C" ? kelvins : `${kelvins} (${withMinus((riseK * 1.8).toFixed(2))} °F)`;
}

function withMinus(text: string): string {
  return /^-[0.]*$/.test(text) ? text.slice(1) : text.replace("-", "−");
}
