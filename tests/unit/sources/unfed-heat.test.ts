import { describe, expect, it } from "vitest";
import { showRise } from "./relaxed-plate.js";
import { faultsOf, fitRise, modelOf } from "./small-model.js";

const model = modelOf();
/** About as much as can be told, and much more. */
const MILLIWATTS = [0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.4, 60];
const listed = (fedW: number | null) =>
  MILLIWATTS.filter((milli) => {
    const rise = showRise({ U1: milli / 1000 }, 0.04, `u U1 ${milli} 0.1`, { U1: 0.1 }).data;
    return faultsOf(fitRise(model, rise, { options: { fedW } })).includes("U1");
  });

describe("where the meter showed no power", () => {
  it("more is asked of heat, and strong heat is told all the same", () => {
    const [unknown, none] = [listed(null), listed(0)];
    expect(unknown).toEqual(expect.arrayContaining(none));
    expect(none.length).toBeLessThan(unknown.length);
    expect(none).toContain(60);
  });
});
