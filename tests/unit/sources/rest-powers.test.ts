import { describe, expect, it } from "vitest";
import { randomCopper } from "../../simulate/copper.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD, type Copper, showRise } from "./relaxed-plate.js";
import { fitRise, modelOf } from "./small-model.js";

const WATTS = 0.4;
function found(copper: Copper, seed: string) {
  const rise = showRise({ U1: WATTS }, 0.04, seed, {}, {}, copper).data;
  const { sources, state } = fitRise(modelOf(), rise);
  expect(state.kind).toBe("steady");
  const source = sources.find(({ candidate }) => candidate.ref === "U1")!;
  return { byRise: source.powerW / WATTS, atRest: source.atRest!.powerW / WATTS };
}

describe("watts at rest", () => {
  it("on even copper: those of the fit", () => {
    const { byRise, atRest } = found(() => 1, "even");
    expect(Math.abs(byRise - 1)).toBeLessThan(0.06);
    expect(Math.abs(atRest - byRise)).toBeLessThan(0.03);
  });

  it("go less with uneven copper than those of the rise, most of which is close by", () => {
    const errors = Array.from({ length: 10 }, (_, k) => {
      const copper = randomCopper(makeRandom(`copper ${k}`), BOARD.outline);
      return found(copper, `copper ${k}`);
    });
    const off = (one: "byRise" | "atRest") =>
      Math.sqrt(errors.reduce((sum, each) => sum + Math.log(each[one]) ** 2, 0) / errors.length);
    expect(off("byRise")).toBeGreaterThan(0.05);
    expect(off("atRest")).toBeLessThan(0.96 * off("byRise"));
  }, 60_000);

  it("are not told while the plate still warms", () => {
    const model = modelOf(undefined, undefined, 3);
    const state = model.states.find(({ kind }) => kind !== "steady");
    if (state === undefined) throw new RangeError("no state of a plate that warms");
    const rise = showRise({}, 0.04, "warming").data;
    const column = model.plateColumn(model.candidates.find(({ ref }) => ref === "U1")!, state);
    column.values.forEach((value, k) => {
      rise[column.at === null ? k : column.at[k]!]! += 2 * value;
    });
    const { sources, state: fitted } = fitRise(model, rise);
    expect(fitted.kind).not.toBe("steady");
    expect(sources.map(({ atRest }) => atRest)).toEqual([null]);
  });
});
