// page: what was typed about an attempt → the words of the request that makes it.
import type { Calls } from "../../api/calls.js";
import { readNumber } from "../show/read-number.js";

type MakeAttempt = Calls["makeAttempt"]["request"]["body"];

/** The fields as they were typed. */
export interface TypedConditions {
  readonly volts: string;
  readonly amps: string;
  readonly limitA: string;
  readonly rail: string;
  readonly connected: string;
  readonly remark: string;
  readonly healthy: boolean;
  /** Frames per second of a burst. */
  readonly rateHz: string;
  /** From power-on to the frames that are no burst, s. */
  readonly afterS: string;
  /** One on and one off together, s; "find" has it found. */
  readonly cycleS: string;
}

/** Nothing said yet. */
export const NO_CONDITIONS: TypedConditions = Object.freeze({
  volts: "",
  amps: "",
  limitA: "",
  rail: "",
  connected: "",
  remark: "",
  healthy: false,
  rateHz: "",
  afterS: "",
  cycleS: "",
});

/** Fields that want a number above 0, and what they are called. */
export const NUMBERS = {
  volts: "Volts",
  amps: "Amps",
  limitA: "Limit",
  rateHz: "Rate",
  afterS: "Seconds on",
  cycleS: "Rhythm",
} as const;
type NumberName = keyof typeof NUMBERS;

/** Read the conditions.
 *  @returns the parts of the request, or the name of the first field that can't be understood.
 */
export function readConditions(
  typed: TypedConditions,
): { readonly ok: Pick<MakeAttempt, "conditions" | "options"> } | { readonly wrong: string } {
  const numbers: Partial<Record<NumberName, number | "find">> = {};
  for (const name of Object.keys(NUMBERS) as NumberName[]) {
    const text = typed[name].trim();
    if (text === "") continue;
    const value = name === "cycleS" && text.toLowerCase() === "find" ? "find" : readNumber(text);
    if (value === null || (value !== "find" && !(value > 0))) return { wrong: NUMBERS[name] };
    numbers[name] = value;
  }
  const { volts, amps, limitA, rateHz, afterS, cycleS } = numbers;
  const rail = typed.rail.trim();
  const remark = typed.remark.trim();
  const connected = typed.connected
    .split(/[,;]/)
    .map((word) => word.trim())
    .filter((word) => word !== "");
  return {
    ok: {
      conditions: {
        ...(typeof volts === "number" ? { volts } : {}),
        ...(typeof amps === "number" ? { amps } : {}),
        ...(typeof limitA === "number" ? { limitA } : {}),
        ...(rail === "" ? {} : { rail }),
        ...(remark === "" ? {} : { remark }),
        connected,
        healthy: typed.healthy,
      },
      options: {
        ...(typeof rateHz === "number" ? { rateHz } : {}),
        // A burst's frames have times of their own.
        ...(typeof afterS === "number" && rateHz === undefined ? { afterS } : {}),
        ...(cycleS === undefined ? {} : { cycleS }),
      },
    },
  };
}
