import { describe, expect, it } from "vitest";
import { addColumn } from "../../../src/sources/column.js";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import type { MirroredRoom } from "../../../src/sources/mirrored-room.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { standsByHill } from "../../../src/sources/stands-by-hill.js";
import { makeRandom } from "../../simulate/random.js";
import { levelColumns, modelOf, partOf, statePools } from "./small-model.js";

type Least = Parameters<typeof standsByHill>[4];

const NOISE_K = 0.04;
const MIN_EVIDENCE = 25;
const model = modelOf();
const state = model.firstState;
const u2 = partOf(model, "U2");

/** Whether U2 stands by its hill, which is that of some watts; its face shows what it will. */
function stands(powerW: number, mirrored: readonly MirroredRoom[] = [], least: Partial<Least> = {}): boolean {
  const random = makeRandom("hill");
  const rise = Float32Array.from({ length: model.size }, () => NOISE_K * random.normal());
  addColumn(rise, model.plateColumn(u2, state), powerW);
  addColumn(rise, u2.body!, -1.7);
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  const fit = new ProjectedFit(rise, variance, levelColumns(model, 0.3));
  const { pool } = statePools(model, fit).find((one) => one.pool.state === state)!;
  return standsByHill(model, { pool, set: [u2], scale: 1, mirrored, state, variance }, u2, MIN_EVIDENCE, {
    ...FIT_DEFAULTS,
    ...least,
  });
}

describe("standsByHill", () => {
  it("asks what a part that shows no face must bring, whatever its own face shows", () => {
    expect(stands(0.05)).toBe(true);
    expect(stands(0)).toBe(false);
    expect(stands(-0.05)).toBe(false);
    expect(stands(0.05, [], { hiddenEvidence: 1e9 })).toBe(false);
  });

  it("asks for more where the mask may mirror as high a hill", () => {
    const [x, y] = model.pictures[0]!.view.toFrame(u2.at);
    const { width } = model.pictures[0]!.seen;
    const near: MirroredRoom = {
      region: 0,
      picture: 0,
      at: [x / width, y / width],
      changeK: 900,
      warmedK: 900,
      levelK: 900,
    };
    expect(stands(0.05, [near])).toBe(true);
    expect(stands(0.05, [near], { mirroredEvidence: 1e9 })).toBe(false);
    expect(stands(0.05, [], { mirroredEvidence: 1e9 })).toBe(true);
  });
});
