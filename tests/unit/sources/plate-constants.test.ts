import { describe, expect, it } from "vitest";
import { PlateConstants } from "../../../src/sources/plate-constants.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { SOURCE_MODEL_DEFAULTS } from "../../../src/sources/source-model.js";

const PLATE = { lossWPerM2K: 20, heatCapacityJPerM2K: 2000 };
/** Time constant 100 s. */
const known = (timeS: number | null) => new PlateConstants({ plate: PLATE }, timeS, SOURCE_MODEL_DEFAULTS);
const untold = (timeS: number) => new PlateConstants({}, timeS, SOURCE_MODEL_DEFAULTS);
const [rising, steady] = (["rising", "steady"] as const).map(
  (kind) => PLATE_STATES.find((one) => one.kind === kind)!,
);

describe("PlateConstants after a known time", () => {
  it("a watt makes what went in until then and was not lost, however far heat seems to have spread", () => {
    for (const state of PLATE_STATES) {
      expect(known(100).perWatt(state)).toBeCloseTo((1 - Math.exp(-1)) / 20, 12);
      expect(known(1e-3).perWatt(state)).toBeCloseTo(1e-3 / 2000, 10);
      expect(known(1e5).perWatt(state)).toBeCloseTo(1 / 20, 12);
    }
  });

  it("watts are at least as well known as at rest where nobody told the time, and the better the surer the capacity", () => {
    expect(known(1e5).powerError(rising!)).toBeCloseTo(known(null).powerError(steady!), 3);
    expect(known(1e5).copperError(rising!)).toBeLessThan(known(null).copperError(steady!));
    expect(known(1).powerError(rising!)).toBeLessThan(known(null).powerError(rising!));
    expect(untold(1).capacityBy).toBe("usual");
    expect(known(1).copperError(rising!)).toBeLessThan(untold(1).copperError(rising!));
    // At rest the capacity counts for nothing.
    expect(untold(1e5).copperError(rising!)).toBeCloseTo(known(1e5).copperError(rising!), 6);
  });

  it("no error is less than what copper leaves, and none between is less than at either end", () => {
    for (const error of ["powerError", "copperError"] as const) {
      const between = [1, 30, 100, 300, 1e4].map((timeS) => known(timeS)[error](rising!));
      expect(Math.min(...between)).toBeGreaterThan(0.15);
    }
  });
});
