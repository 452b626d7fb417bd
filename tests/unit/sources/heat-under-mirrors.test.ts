import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { addColumn } from "../../../src/sources/column.js";
import { heatUnderMirrors } from "../../../src/sources/heat-under-mirrors.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf, statePools } from "./small-model.js";

const NOISE_K = 0.04;
/** U2 is a can here, and what the plate conducts is not told. */
const CAN: BoardMap = {
  ...BOARD,
  plate: undefined,
  regions: BOARD.regions.map((one) => (one.ref === "U2" ? { ...one, finish: "bare-metal" } : one)),
};
const model = modelOf(CAN);
const [can, q1, c1] = [partOf(model, "U2"), partOf(model, "Q1"), partOf(model, "C1")];
const stateOf = (kind: string, mm: number) =>
  PLATE_STATES.find((one) => one.kind === kind && one.lengthMm === mm)!;
const EARLY = stateOf("rising", 3.4);

/** A search that settled on a set in a state in which heat has spread far, where the can heats seconds after
 *  power-on. */
function settledOn(set: Candidate[], powerW: number) {
  const random = makeRandom("can");
  const rise = Float32Array.from({ length: model.size }, () => NOISE_K * random.normal());
  addColumn(rise, model.plateColumn(can, EARLY), powerW);
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  // The can's own face shows the room.
  for (const [k, pixel] of partOf(modelOf(), "U2").body!.at!.entries())
    if (partOf(modelOf(), "U2").body!.values[k]! > 0.02) variance[pixel] = Number.NaN;
  const fit = new ProjectedFit(rise, variance, levelColumns(model, 0.3));
  const state = stateOf("steady", 40);
  const { pool } = statePools(model, fit).find((one) => one.pool.state === state)!;
  return { model, fit, pool, set, answer: pool.fitSet(set), scale: 1, state };
}

describe("heatUnderMirrors", () => {
  it("finds the can that heats, in its own state of the plate, alone and in the place of another part", () => {
    for (const set of [[], [q1]]) {
      const found = heatUnderMirrors(settledOn(set, 0.6), model.candidates, () => 62.5);
      expect(found?.set).toEqual([can]);
      expect(found?.pool.state.kind).toBe("rising");
      expect(Math.abs(Math.log(found!.pool.state.lengthMm / EARLY.lengthMm))).toBeLessThan(0.5);
    }
  });

  it("finds none where it brings too little, or two faults were found", () => {
    expect(heatUnderMirrors(settledOn([], 0), model.candidates, () => 62.5)).toBeNull();
    expect(heatUnderMirrors(settledOn([], 0.6), model.candidates, () => 1e9)).toBeNull();
    expect(heatUnderMirrors(settledOn([q1, c1], 0.6), model.candidates, () => 62.5)).toBeNull();
  });
});
