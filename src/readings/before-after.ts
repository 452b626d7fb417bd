// readings: judged readings → for each place what it showed before the last change of the board and what it shows
// after.
import type { ReadingClass } from "./classify-reading.js";
import { type JudgedReading, placeKey, type ReadingPlace } from "./classify-readings.js";

/** What a change of the board did to the reading of a place. `unknown`: one of the two can't be judged. */
export type ReadingChange = "cleared" | "worse" | "same" | "moved" | "unknown";

/** One row of the table. */
export interface BeforeAfter extends ReadingPlace {
  /** The last reading before; null if the place was not read in an earlier state. */
  readonly before: JudgedReading | null;
  readonly after: JudgedReading;
  /** Null without a reading before. */
  readonly change: ReadingChange | null;
}

/** How far a class is from what is expected. */
const BADNESS: Readonly<Record<ReadingClass, number | null>> = Object.freeze({
  asExpected: 0,
  high: 1,
  low: 1,
  short: 2,
  open: 2,
  drifting: null,
  unjudged: null,
});

/** Lay every place's last reading beside the one of the last state before it in which it was read. */
export function beforeAfter(judged: readonly JudgedReading[]): BeforeAfter[] {
  const places = new Map<string, JudgedReading[]>();
  for (const reading of judged) {
    const key = placeKey(reading);
    places.set(key, [...(places.get(key) ?? []), reading]);
  }
  return [...places.values()].map((all) => {
    const states = [...all].sort((a, b) => a.state - b.state);
    const after = states.at(-1)!;
    const before = states.at(-2) ?? null;
    const { board, net, ref, pin, measure } = after;
    return { board, net, ref, pin, measure, before, after, change: before && changeOf(before, after) };
  });
}

function changeOf(before: JudgedReading, after: JudgedReading): ReadingChange {
  const [from, to] = [BADNESS[before.class], BADNESS[after.class]];
  if (from === null || to === null) return "unknown";
  if (before.class === after.class) return "same";
  if (to === 0) return "cleared";
  return to > from ? "worse" : "moved";
}
