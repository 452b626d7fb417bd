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
  /** Frames per second of a burst; asked for where there are several powered frames. */
  readonly rateHz: string;
  /** From power-on to the frames that are no burst, s; asked for where no rate is in force. */
  readonly afterS: string;
  /** One on and one off together, s; "find" has it found. Asked for where there are several powered frames. */
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

/** Fields that want a number above 0, and what they are called, on the page and where one is wrong. */
export const NUMBERS = {
  volts: "Volts",
  amps: "Amps",
  limitA: "Limit",
  rateHz: "Frames per second",
  afterS: "Seconds since power-on",
  cycleS: "Rhythm",
} as const;
type NumberName = keyof typeof NUMBERS;

/** Whether a field is asked for. What was typed into one that is not stays there, for when it is asked for again. */
export function isAsked(name: keyof TypedConditions, typed: TypedConditions, powered: number): boolean {
  const isBurst = powered > 1;
  // A burst's frames have times of their own.
  if (name === "afterS") return !isBurst || typed.rateHz.trim() === "";
  return isBurst || (name !== "rateHz" && name !== "cycleS");
}

/** Read the conditions; a field that is not asked for counts as empty.
 *  @param powered how many powered frames there are.
 *  @returns the parts of the request, or the name of the first field that can't be understood.
 */
export function readConditions(
  typed: TypedConditions,
  powered: number,
): { readonly ok: Pick<MakeAttempt, "conditions" | "options"> } | { readonly wrong: string } {
  const numbers: Partial<Record<NumberName, number | "find">> = {};
  for (const name of Object.keys(NUMBERS) as NumberName[]) {
    const text = typed[name].trim();
    if (text === "" || !isAsked(name, typed, powered)) continue;
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
        ...(typeof afterS === "number" ? { afterS } : {}),
        ...(cycleS === undefined ? {} : { cycleS }),
      },
    },
  };
}
