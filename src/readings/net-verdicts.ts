// readings: judged readings → what each net reads in each state of the board, as far as it says something of heat.
import type { JudgedReading } from "./classify-readings.js";
import { sameName } from "./classify-readings.js";

/** What the readings of a net say of the parts on it. */
export type NetOutcome = "short" | "low" | "ordinary";

/** What a net reads while the board is in one state. */
export interface NetVerdict {
  readonly board: string | null;
  readonly net: string;
  readonly state: number;
  readonly outcome: NetOutcome;
  /** `seq` of the last reading that it rests on. */
  readonly seq: number;
  /** The reading that decides, in words. */
  readonly text: string;
}

const OUTCOMES: Readonly<Record<string, NetOutcome>> = Object.freeze({
  short: "short",
  low: "low",
  asExpected: "ordinary",
});

/** Sum up what is read on each net. A net is one conductor, so that several pins of it are one piece of evidence: the
 *  worst of them counts, and where one is as expected and another is not, none does. What is open, high, drifting or
 *  unjudged, volts and amperes, and readings that name no net say nothing of what heats.
 */
export function netVerdicts(judged: readonly JudgedReading[]): NetVerdict[] {
  const groups = new Map<string, JudgedReading[]>();
  for (const reading of judged) {
    if (reading.net === null || (reading.measure !== "diode" && reading.measure !== "resistance")) continue;
    const key = [sameName(reading.board ?? ""), sameName(reading.net), reading.state].join("\n");
    groups.set(key, [...(groups.get(key) ?? []), reading]);
  }
  return [...groups.values()].flatMap((group): NetVerdict[] => {
    const telling = group.filter((reading) => OUTCOMES[reading.class] !== undefined);
    const outcomes = new Set(telling.map((reading) => OUTCOMES[reading.class]!));
    if (outcomes.size === 0 || (outcomes.has("ordinary") && outcomes.size > 1)) return [];
    const outcome = outcomes.has("short") ? "short" : outcomes.has("low") ? "low" : "ordinary";
    const decides = telling.find((reading) => OUTCOMES[reading.class] === outcome)!;
    const seq = Math.max(...telling.flatMap(({ seqs }) => seqs));
    return [
      { board: decides.board, net: decides.net!, state: decides.state, outcome, seq, text: decides.why },
    ];
  });
}
