import { describe, expect, it } from "vitest";
import { note } from "../../../src/core/notes.js";
import { describePlate, isTimeAsked } from "../../../src/findings/describe-plate.js";
import { PlateConstants } from "../../../src/sources/plate-constants.js";
import type { PlateState } from "../../../src/sources/plate-state.js";
import { SOURCE_MODEL_DEFAULTS } from "../../../src/sources/source-model.js";

const RISING: PlateState = { kind: "rising", lengthMm: 9.6 };
const STEADY: PlateState = { kind: "steady", lengthMm: 26 };
const TOLD = { plate: { conductanceWPerK: 0.02, lossWPerM2K: 16 }, thicknessMm: 1.6 };

/** A state of a told plate: heat that was seen to spread so far has spread for a time in the plate's own constants. */
const toldState = (lengthMm: number, { restMm }: Pick<PlateConstants, "restMm">): PlateState => ({
  kind: "rising",
  lengthMm,
  timeConstants: (lengthMm / restMm) ** 2,
});

/** The power of one constant of the map that watts are as. */
function powerOf(of: keyof (typeof TOLD)["plate"], seen: PlateState | number, timeS: number | null): number {
  const perWatt = (factor: number) => {
    const board = { ...TOLD, plate: { ...TOLD.plate, [of]: TOLD.plate[of] * factor } };
    const plate = new PlateConstants(board, timeS, SOURCE_MODEL_DEFAULTS);
    return plate.perWatt(typeof seen === "number" ? toldState(seen, plate) : seen);
  };
  return Math.abs(Math.log(perWatt(1.01) / perWatt(1)) / Math.log(1.01));
}

describe("describePlate", () => {
  it("names the loss at rest", () => {
    expect(describePlate({}, STEADY, null)).toBe(
      "Watts rest on a loss of 20 W/m²K for both faces together (a default; it varies by a quarter from bench to bench). Heat had spread over 26 mm when the frames were taken, and the board had come to rest.",
    );
    expect(describePlate(TOLD, STEADY, null)).toContain(
      "a loss of 16 W/m²K for both faces together (from the board map).",
    );
  });

  it("names how far heat had spread and the conductance where the board warms for a time that is not known", () => {
    const text = describePlate({}, RISING, null);
    expect(text).toMatch(
      /^Watts rest on how far heat had spread; on a conductance of 0\.0\d+ W\/K \(the likeliest where it spreads so far\)\. Heat had spread over 9\.6 mm/,
    );
    expect(text).toContain("the board was still warming");
    expect(text).not.toContain("loss");
    expect(text).toMatch(
      / Say how many seconds after power-on they were taken, and the watts are better known\.$/,
    );
    for (const [board, state, timeS] of [
      [TOLD, RISING, null],
      [{}, STEADY, null],
      [{}, RISING, 20],
    ] as const)
      expect(describePlate(board, state, timeS)).not.toContain("Say how many seconds");
    // Where frames were averaged their note asks for it.
    expect(`${describePlate({}, RISING, null, false)} Say how many`).toBe(
      text.slice(0, text.indexOf("Say how many") + 12),
    );
    expect(describePlate(TOLD, RISING, null)).toContain("a conductance of 0.020 W/K (from the board map)");
  });

  it("names the time and the heat capacity after a known time, and the loss as far as it tells by then", () => {
    expect(describePlate({}, RISING, 0.5)).toMatch(
      /^Watts rest on 0\.5 s since power-on; on the heat that the board holds, 2400 J\/m²K \(that of a usual board\)\. /,
    );
    expect(describePlate(TOLD, RISING, 95)).toMatch(
      /^Watts rest on 95 s since power-on; on the heat that the board holds, 3660 J\/m²K \(by its thickness\); on a loss of 16 /,
    );
    expect(describePlate(TOLD, STEADY, 3600)).toMatch(/^Watts rest on a loss of 16 /);
  });

  it.each([
    ["at rest, no time", STEADY, null],
    ["told and early", 4.8, null],
    ["told and half way", 35, null],
    ["at once", RISING, 0.5],
    ["after a time", RISING, 95],
    ["after an hour", RISING, 3600],
  ] as const)("names what the model's watts change with: %s", (_, seen, timeS) => {
    const plate = new PlateConstants(TOLD, timeS, SOURCE_MODEL_DEFAULTS);
    const told = describePlate(TOLD, typeof seen === "number" ? toldState(seen, plate) : seen, timeS);
    expect(told.includes("conductance")).toBe(powerOf("conductanceWPerK", seen, timeS) > 0.1);
    expect(told.includes("a loss of")).toBe(powerOf("lossWPerM2K", seen, timeS) > 0.1);
  });
});

it("the time of frames is asked for in one place", () => {
  expect(isTimeAsked([])).toBe(false);
  expect(isTimeAsked([note("N_NOTHING_HOT", "no matter")])).toBe(false);
  expect(isTimeAsked([note("N_POWERED_AVERAGED", "when?")])).toBe(true);
  expect(isTimeAsked([note("N_NOTHING_HOT", "no matter"), note("N_RATE_UNUSED", "when?")])).toBe(true);
});
