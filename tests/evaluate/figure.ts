// evaluate: a measured number and what it is held against → whether it reaches the bar or the aim.
import type { Estimate, Share } from "./statistics.js";

/** A number must be at least, at most, or between. */
export type Wanted =
  | { readonly atLeast: number }
  | { readonly atMost: number }
  | { readonly between: readonly [number, number] };

/** One line of the yardstick. */
export interface Figure {
  readonly name: string;
  /** Null: not measured. */
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** How many measurements it stands on. */
  readonly of: number;
  readonly unit: "" | "px" | "%" | "s";
  readonly digits: number;
  readonly bar: Wanted | null;
  readonly aim: Wanted | null;
  /** What a reader must know beside the number. */
  readonly remark?: string;
}

/** What a figure reaches; null where nothing is asked or measured. */
export function reached({ value, bar, aim }: Figure): "aim" | "bar" | "miss" | null {
  if (value === null || bar === null) return null;
  if (aim !== null && isWanted(value, aim)) return "aim";
  return isWanted(value, bar) ? "bar" : "miss";
}

function isWanted(value: number, wanted: Wanted): boolean {
  // A number that is not a number reaches nothing.
  if ("atLeast" in wanted) return value >= wanted.atLeast;
  if ("atMost" in wanted) return value <= wanted.atMost;
  return value >= wanted.between[0] && value <= wanted.between[1];
}

/** A figure from a share. */
export function shareFigure(
  name: string,
  share: Share | null,
  bar: Wanted | null,
  aim: Wanted | null,
): Figure {
  return {
    name,
    value: share?.share ?? null,
    low: share?.low ?? null,
    high: share?.high ?? null,
    of: share?.of ?? 0,
    unit: "",
    digits: 3,
    bar,
    aim,
  };
}

/** A figure from an estimate. `scale` turns shares to percent. */
export function estimateFigure(
  name: string,
  estimate: Estimate | null,
  form: { readonly unit: Figure["unit"]; readonly digits: number; readonly scale?: number },
  bar: Wanted | null,
  aim: Wanted | null,
): Figure {
  const scale = form.scale ?? 1;
  const times = (value: number | undefined): number | null => (value === undefined ? null : scale * value);
  return {
    name,
    value: times(estimate?.value),
    low: times(estimate?.low),
    high: times(estimate?.high),
    of: estimate?.of ?? 0,
    unit: form.unit,
    digits: form.digits,
    bar,
    aim,
  };
}
