// readings: a settled reading and what a good board shows → what it means, with the tolerance it was judged by.
import { formatSignificant } from "../core/format-quantity.js";
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { UNIT_OF } from "./parse-reading.js";
import type { Measure, Reading, Reference } from "./reading-schema.js";

/** What a reading means. `unjudged`: nothing can be said, and the reason is. */
export const READING_CLASSES = [
  "short",
  "low",
  "asExpected",
  "high",
  "open",
  "drifting",
  "unjudged",
] as const;
/** One of `READING_CLASSES`. */
export type ReadingClass = (typeof READING_CLASSES)[number];

/** Defaults of `classifyReading`; all of them common practice, no source. A reference's own tolerance goes first. */
export const CLASSIFY_DEFAULTS = Object.freeze({
  /** A reading may lie off by this share of what is expected, or by the next figure where that is more: meters, their
   *  test current and boards of one model differ by about as much. */
  diodeShare: 0.1,
  diodeV: 0.015,
  /** Resistance of a net depends on the meter's current too. */
  resistanceShare: 0.25,
  resistanceOhm: 0.5,
  voltageShare: 0.05,
  voltageV: 0.02,
  currentShare: 0.2,
  currentA: 0.005,
  /** A line that reads no more than this, and less than the next figure times what is expected, is shorted to
   *  ground. */
  shortV: 0.03,
  shortOhm: 2,
  shortShare: 0.25,
  /** Against a line that reads thousands a few ohms are a short as well: leads, probes and the path through the part
   *  that is shorted have as much. No more than the first figure, and less than the second times what is expected. */
  farShortOhm: 10,
  farShortShare: 0.01,
  /** From here on one meter shows a number and another one over-range. */
  overV: 1.5,
  overOhm: 1e7,
});

/** How a reading was judged. */
export interface Judgement {
  readonly class: ReadingClass;
  /** How far it could have lain off, in the unit of the value; null where no reference was held against it. */
  readonly tolerance: number | null;
  readonly why: string;
}

/** Judge a settled reading.
 *  Against a number: no more than the limit of a short and far below what is expected is a short, and so are a few ohms
 *  where a hundred times as many are expected; over-range is open, of volts and amperes high. A number where a good
 *  board shows over-range is low: there is a path that should not be; unless it is so high that another meter shows
 *  over-range for it. Without a reference a short is told by its limit alone, and nothing else is. On rails that are
 *  low by nature nothing is called a short: a good board reads close to one there.
 *  @param reference null where none is known.
 */
export function classifyReading(
  reading: Pick<Reading, "measure" | "value" | "overRange">,
  reference: Reference | null,
  options: OptionsOf<typeof CLASSIFY_DEFAULTS> & { readonly lowByNature?: boolean } = {},
): Judgement {
  const o: ResolvedOptions<typeof CLASSIFY_DEFAULTS> = { ...CLASSIFY_DEFAULTS, ...options };
  const { measure, value } = reading;
  const lowByNature = options.lowByNature ?? reference?.lowByNature ?? false;
  const passive = measure === "diode" || measure === "resistance";
  const say = (v: number) => sayValue(v, measure);
  if (passive && value !== null && value < -floorOf(measure, o)) {
    return {
      class: "unjudged",
      tolerance: null,
      why: `${say(value)} is below zero: a charge is left on the line, or the probes are the wrong way round; discharge and read again`,
    };
  }
  const shortLimit = measure === "diode" ? o.shortV : measure === "resistance" ? o.shortOhm : null;
  const isShort = (below: number) =>
    shortLimit !== null && value !== null && !lowByNature && value <= Math.min(shortLimit, below);
  if (reference === null) {
    if (isShort(Number.POSITIVE_INFINITY)) {
      return {
        class: "short",
        tolerance: null,
        why: `${say(value!)} is no more than ${say(shortLimit!)}, a short to ground unless this rail is low by nature`,
      };
    }
    return { class: "unjudged", tolerance: null, why: "there is no reference to hold it against" };
  }
  const overFrom =
    measure === "diode" ? o.overV : measure === "resistance" ? o.overOhm : Number.POSITIVE_INFINITY;
  if (reference.value === null) {
    const isFar = measure === "resistance" && !lowByNature && value !== null && value <= o.farShortOhm;
    const isPath = passive ? isFar || isShort(Number.POSITIVE_INFINITY) : null;
    return againstOver(value, overFrom, isPath, say);
  }
  const low = reference.value;
  const high = reference.upTo ?? low;
  const isNearHigh = value === null || value - low > high - value;
  const tolerance = toleranceOf(reference, isNearHigh ? high : low, o);
  const expected = high === low ? say(low) : `${say(low)} to ${say(high)}`;
  if (value === null) {
    const over = `over-range against ${expected}`;
    if (!passive) return { class: "high", tolerance, why: `${over}: more than the meter can show` };
    return high >= overFrom
      ? { class: "asExpected", tolerance, why: `${over}, which some meters show as over-range` }
      : { class: "open", tolerance, why: `${over}: the path is broken` };
  }
  const against = `${say(value)} against ${expected} ± ${say(tolerance)}`;
  // A rounding of the last digit in binary must not decide.
  const slack = 1e-9 * Math.max(Math.abs(high), 1e-3);
  if (value > high + tolerance + slack) return { class: "high", tolerance, why: against };
  if (value >= low - tolerance - slack) return { class: "asExpected", tolerance, why: against };
  const isFar =
    measure === "resistance" && !lowByNature && value <= Math.min(o.farShortOhm, o.farShortShare * low);
  if (isFar || isShort(o.shortShare * low))
    return { class: "short", tolerance, why: `${against}: a short to ground` };
  const natural = lowByNature ? ", on a rail that is low by nature" : "";
  return { class: "low", tolerance, why: `${against}${natural}` };
}

/** Judge against a good board that shows over-range.
 *  @param isShort of a path through the board; null for volts and amperes, which tell of none. */
function againstOver(
  value: number | null,
  overFrom: number,
  isShort: boolean | null,
  say: (v: number) => string,
): Judgement {
  if (value === null) {
    return { class: "asExpected", tolerance: null, why: "over-range, as on a good board" };
  }
  if (value >= overFrom) {
    return {
      class: "asExpected",
      tolerance: null,
      why: `${say(value)} where a good board is over-range, which some meters show from there`,
    };
  }
  const against = `${say(value)} where a good board is over-range`;
  if (isShort === null) return { class: "low", tolerance: null, why: against };
  const why = `${against}: there is a path that should not be`;
  return { class: isShort ? "short" : "low", tolerance: null, why };
}

/** How far a reading may lie off.
 *  @param size what is expected; of a range the end that the reading is nearer to. */
function toleranceOf(
  { measure, tolerance, toleranceShare }: Reference,
  size: number,
  o: ResolvedOptions<typeof CLASSIFY_DEFAULTS>,
): number {
  if (tolerance !== undefined || toleranceShare !== undefined) {
    return Math.max(tolerance ?? 0, (toleranceShare ?? 0) * Math.abs(size));
  }
  const share = {
    diode: o.diodeShare,
    resistance: o.resistanceShare,
    voltage: o.voltageShare,
    current: o.currentShare,
  };
  return Math.max(share[measure] * Math.abs(size), floorOf(measure, o));
}

function floorOf(measure: Measure, o: ResolvedOptions<typeof CLASSIFY_DEFAULTS>): number {
  return { diode: o.diodeV, resistance: o.resistanceOhm, voltage: o.voltageV, current: o.currentA }[measure];
}

/** A value with its unit, in thousands or thousandths where that reads better. */
export function sayValue(value: number, measure: Measure): string {
  const unit = UNIT_OF[measure];
  const size = Math.abs(value);
  if (measure === "diode" || measure === "voltage") return `${trim(value, 3)} ${unit}`;
  if (size >= 1e6) return `${formatSignificant(value / 1e6, 3)} M${unit}`;
  if (size >= 1e3) return `${formatSignificant(value / 1e3, 3)} k${unit}`;
  if (measure === "current" && size < 1) return `${formatSignificant(value * 1e3, 3)} m${unit}`;
  return `${formatSignificant(value, 3)} ${unit}`;
}

function trim(value: number, decimals: number): string {
  const text = value.toFixed(decimals).replace(/(\.\d\d\d*?)0+$/, "$1");
  return text.replace(/^-(?=.*[1-9])/, "−").replace(/^-/, "");
}
