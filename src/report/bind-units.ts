// report: a sentence → the same with numbers bound to their units, so that no line ends between them.

const BOUND = "\u00a0";
const BEFORE_UNIT = /(\d\)?) (?=(?:%|[mkµ]?[WVA]|[mkM]?Ω|K|°C|mm|px|s|Hz|σ|pixels)(?![\p{L}\p{N}]))/gu;
const AFTER_SIGN = /([<>±×≥≤≈]) (?=[\d.])/g;
const BEFORE_SIGN = /(\d) (?=[±×] ?\u00a0?\d)/g;

/** Put no-break spaces between a number and its unit, and around the signs between numbers. */
export function bindUnits(text: string): string {
  return text
    .replace(BEFORE_UNIT, `$1${BOUND}`)
    .replace(AFTER_SIGN, `$1${BOUND}`)
    .replace(BEFORE_SIGN, `$1${BOUND}`);
}
