// import: the size and viewBox of a drawing → how many millimetres one of its units is.
import { type LengthUnit, MM_PER_UNIT } from "./import-options.js";
import { numbersOf } from "./svg-transform.js";

/** Millimetres of the units of CSS (CSS Values and Units 3, section 5.2: 1 in = 25.4 mm = 96 px = 72 pt = 6 pc). */
const MM_PER_CSS_UNIT: Readonly<Record<string, number>> = Object.freeze({
  "": MM_PER_UNIT.px,
  px: MM_PER_UNIT.px,
  mm: 1,
  cm: 10,
  q: 0.25,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
});

const LENGTH = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*([a-z]*)$/i;

/** Read a length with a unit of CSS.
 *  @returns mm; null for percentages, relative units and anything else. */
export function lengthMm(text: string | undefined): number | null {
  const match = LENGTH.exec((text ?? "").trim());
  if (match === null) return null;
  const unit = MM_PER_CSS_UNIT[match[2]!.toLowerCase()];
  const value = Number(match[1]);
  return unit === undefined || !Number.isFinite(value) ? null : value * unit;
}

/** How large a user unit of a drawing is. */
export interface UserUnit {
  readonly xMm: number;
  readonly yMm: number;
  /** False if nothing in the drawing tells, and a millimetre was taken. */
  readonly stated: boolean;
}

/** Find out how large a user unit of a drawing is (SVG 2, section 8.2): width and height over those of the viewBox, by
 *  the smaller of both factors unless `preserveAspectRatio` is none; without a viewBox 1/96 inch.
 *  A viewBox without a size in lengths tells nothing: its unit is read as a millimetre.
 *  @param given goes before all of this. */
export function userUnit(
  attributes: Readonly<Record<string, string>>,
  given: LengthUnit | undefined,
): UserUnit | null {
  const text = attributes["viewBox"];
  const box = text === undefined ? null : numbersOf(text);
  if (text !== undefined && (box === null || box.length !== 4 || !(box[2]! > 0 && box[3]! > 0))) return null;
  if (given !== undefined) return { xMm: MM_PER_UNIT[given], yMm: MM_PER_UNIT[given], stated: true };
  if (box === null) return { xMm: MM_PER_UNIT.px, yMm: MM_PER_UNIT.px, stated: true };
  const width = lengthMm(attributes["width"]);
  const height = lengthMm(attributes["height"]);
  const x = width === null ? null : width / box[2]!;
  const y = height === null ? null : height / box[3]!;
  if (x === null && y === null) return { xMm: 1, yMm: 1, stated: false };
  const both = x === null ? y! : y === null ? x : Math.min(x, y);
  if (!(both > 0)) return null;
  const stretched = /^\s*none\b/.test(attributes["preserveAspectRatio"] ?? "");
  return { xMm: stretched ? (x ?? both) : both, yMm: stretched ? (y ?? both) : both, stated: true };
}
