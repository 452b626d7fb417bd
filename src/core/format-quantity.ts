// core: a number and its uncertainty → text with as many digits as the uncertainty allows.

/** A number ready to be printed, and its parts for tables that set them apart. */
export interface QuantityText {
  readonly value: string;
  /** Null where the uncertainty is not known. */
  readonly sigma: string | null;
  /** Value, uncertainty and unit in one string, such as `0.24 ± 0.03 W` or `0.09 (0 to 0.25) W`. */
  readonly text: string;
}

/** Significant digits of a number whose uncertainty is unknown: more would pretend to knowledge. */
const DIGITS_WITHOUT_SIGMA = 3;
/** toFixed takes no more than 100; nothing measured here needs more than 12. */
const MAX_DECIMALS = 12;

/** Format a value with its standard uncertainty: the uncertainty to one or two digits, the value to the same place.
 *  Method: Particle Data Group, Review of Particle Physics, Introduction, §5.3 "Rounding": with the three highest
 *  digits of the uncertainty between 100 and 354 two digits are kept, between 355 and 949 one, and from 950 on it is
 *  rounded up to 1000 and two are kept. Differs: without an uncertainty the value gets three significant digits.
 *  @param value NaN and infinities print as a dash: they are "not known" to a reader.
 *  @param sigma standard uncertainty, same unit; null, zero or not finite = unknown.
 *  @param unit printed after a space; "" for none.
 */
export function formatQuantity(value: number | null, sigma: number | null, unit: string): QuantityText {
  if (value === null || !Number.isFinite(value)) return { value: "–", sigma: null, text: "–" };
  const tail = unit === "" ? "" : ` ${unit}`;
  if (sigma === null || !Number.isFinite(sigma) || sigma <= 0) {
    const text = formatSignificant(value, DIGITS_WITHOUT_SIGMA);
    return { value: text, sigma: null, text: `${text}${tail}` };
  }
  const rounded = roundSigma(sigma);
  const valueText = fixed(value, rounded.decimals);
  const sigmaText = fixed(rounded.sigma, rounded.decimals);
  return { value: valueText, sigma: sigmaText, text: `${valueText} ± ${sigmaText}${tail}` };
}

/** Format a value that can't be below zero: where the interval of one standard uncertainty would reach below, it is
 *  said as a range from 0 on, for nobody can use `0.09 ± 0.16 W`.
 *  @param value zero or more. @param most the range ends here at most, same unit.
 *  @returns `0.09 (0 to 0.25) W`, or `0 to 0.16 W` where nothing is left of the value at the last digit; else as
 *    `formatQuantity`.
 */
export function formatPositive(
  value: number | null,
  sigma: number | null,
  unit: string,
  most = Number.POSITIVE_INFINITY,
): QuantityText {
  const plain = formatQuantity(value, sigma, unit);
  if (plain.sigma === null || value! < 0) return plain;
  const { decimals, sigma: rounded } = roundSigma(sigma!);
  if (Number(plain.value) > Number(plain.sigma)) return plain;
  const range = `0 to ${fixed(Math.min(most, value! + rounded), decimals)}`;
  const tail = unit === "" ? "" : ` ${unit}`;
  return {
    ...plain,
    text: Number(plain.value) === 0 ? `${range}${tail}` : `${plain.value} (${range})${tail}`,
  };
}

/** Format a value to the place that its uncertainty allows, the uncertainty itself left out: `6.14 K`.
 *  For sentences and pictures where the uncertainty stands nearby.
 */
export function formatToSigma(value: number | null, sigma: number | null, unit: string): string {
  const quantity = formatQuantity(value, sigma, unit);
  return quantity.value === "–" || unit === "" ? quantity.value : `${quantity.value} ${unit}`;
}

/** Below these, watts and ohms read better in thousandths. */
const LEAST_WATTS = 0.1;
const LEAST_OHM = 0.1;

/** Format a power with its uncertainty, in W or, where both are small, in mW: `0.244 ± 0.030 W`, `3.0 ± 0.4 mW`, and
 *  where the uncertainty reaches below nothing `70 (0 to 160) mW`.
 *  @param mostW there can't be more than that.
 */
export function formatPower(powerW: number | null, sigmaW: number | null, mostW?: number): QuantityText {
  const largest = Math.max(Math.abs(powerW ?? 0), sigmaW ?? 0);
  if (powerW === null || largest === 0 || !(largest < LEAST_WATTS))
    return formatPositive(powerW, sigmaW, "W", mostW);
  const milli = (watts: number | null) => (watts === null ? null : watts * 1000);
  return formatPositive(milli(powerW), milli(sigmaW), "mW", mostW === undefined ? undefined : mostW * 1000);
}

/** Format a power of which the size alone matters, to two digits: `32 mW`, `0.14 W`. */
export function formatPowerSize(powerW: number): string {
  if (!Number.isFinite(powerW)) return "–";
  if (powerW === 0 || Math.abs(powerW) >= LEAST_WATTS) return `${formatSignificant(powerW, 2)} W`;
  return `${formatSignificant(powerW * 1000, 2)} mW`;
}

/** Format a resistance to two digits, in Ω or, where it is small, in mΩ: `0.14 Ω`, `48 mΩ`. */
export function formatResistance(ohm: number): string {
  if (!Number.isFinite(ohm)) return "–";
  if (Math.abs(ohm) < LEAST_OHM) return `${formatSignificant(ohm * 1000, 2)} mΩ`;
  return `${formatSignificant(ohm, 2)} Ω`;
}

/** Format a number to so many significant digits; whole numbers keep theirs, and 1e-6 to 1e9 have no exponent. */
export function formatSignificant(value: number, digits: number): string {
  if (!Number.isFinite(value)) return "–";
  if (value === 0) return "0";
  const magnitude = Math.abs(value);
  if (magnitude < 1e-6 || magnitude >= 1e9) return minus(value.toExponential(digits - 1));
  // The exponent after rounding: 9.96 to two digits is 10, not 10.0.
  const exponent = Number(magnitude.toExponential(digits - 1).split("e")[1]);
  const decimals = digits - 1 - exponent;
  return decimals >= 0 ? fixed(value, decimals) : minus(String(Math.round(value)));
}

/** Format seconds that were told, or that a told rate makes: three digits, whole seconds wholly, and no zeros that
 *  nobody told: `20 s`, `0.02 s`.
 */
export function formatSeconds(seconds: number): string {
  return `${formatSignificant(seconds, 3)
    .replace(/(\.\d*?)0+$/, "$1")
    .replace(/\.$/, "")} s`;
}

/** Format a probability as a percentage; the ends read "< 1 %" and "> 99 %", since neither is ever certain. */
export function formatProbability(probability: number): string {
  const percent = probability * 100;
  if (!Number.isFinite(percent)) return "–";
  if (percent < 1) return "< 1 %";
  if (percent > 99) return "> 99 %";
  return `${Math.round(percent)} %`;
}

/** Decimal places that an uncertainty leaves: 0.119 → 2, 0.367 → 1, 56 → −1; and the uncertainty, rounded up where the
 *  rule says so, since 0.95 in binary lies below 0.95 and would print as 0.9. */
function roundSigma(sigma: number): { sigma: number; decimals: number } {
  const exponent = Math.floor(Math.log10(sigma));
  const lead = Math.round(sigma / Number(`1e${exponent - 2}`));
  if (lead <= 354) return { sigma, decimals: 1 - exponent };
  return { sigma: lead >= 950 ? Number(`1e${exponent + 1}`) : sigma, decimals: -exponent };
}

function fixed(value: number, decimals: number): string {
  if (decimals >= 0) return minus(value.toFixed(Math.min(decimals, MAX_DECIMALS)));
  const step = Number(`1e${-decimals}`);
  return minus((Math.round(value / step) * step).toFixed(0));
}

/** A true minus sign, and no minus before a zero. */
function minus(text: string): string {
  if (!text.startsWith("-")) return text;
  return /[1-9]/.test(text) ? `−${text.slice(1)}` : text.slice(1);
}
