import { describe, expect, it } from "vitest";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { OwnError } from "../../../src/sources/own-error.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import { makeRandom } from "../../simulate/random.js";
import { VIEW } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const model = modelOf();
const { width } = VIEW.frame;
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
const c2 = mirrorOf(partOf(model, "C2"));
const NOISE_K = 0.04;
const SHAPE_PX = 0.3;

/** Pixel noise, and the error of a shape's place where it is steep. */
function varianceOf(heat: Float32Array): Float32Array {
  return Float32Array.from(heat, (_, i) => {
    const slope =
      0.5 *
      Math.hypot((heat[i + 1] ?? 0) - (heat[i - 1] ?? 0), (heat[i + width] ?? 0) - (heat[i - width] ?? 0));
    return NOISE_K ** 2 + (SHAPE_PX * slope) ** 2;
  });
}

/** C2's face alone, so much warmer than the board, with noise: evidence for it both ways. */
function evidence(stepK: number): { shared: number; own: number } {
  const random = makeRandom("own error");
  const heat = new Float32Array(model.size);
  c2.body!.at!.forEach((pixel, k) => {
    heat[pixel] = stepK * c2.body!.values[k]!;
  });
  const rise = heat.map((value) => value + NOISE_K * random.normal());
  const nuisance = levelColumns(model, 0.3);
  const pool = new CandidatePool(model, new ProjectedFit(rise, varianceOf(heat), nuisance), state);
  const ownError = new OwnError(new Map([[c2.footprint, heat]]), (gone) =>
    varianceOf(heat.map((v, i) => v - gone[i]!)),
  );
  const weighed = ownError.weigh(model, { rise, nuisance, state }, c2, []);
  return { shared: pool.fitSet([c2]).gain, own: weighed!.evidence };
}

describe("OwnError", () => {
  it("lets the evidence for a small part grow with its heat, which its own steepness does not", () => {
    const [cool, hot] = [evidence(1), evidence(8)];
    // Eight times the heat is 64 times the χ²; of that hardly any is left where the steepness counts as noise.
    expect(hot.shared / cool.shared).toBeLessThan(4);
    expect(hot.own / cool.own).toBeGreaterThan(30);
    expect(cool.own).toBeGreaterThanOrEqual(cool.shared);
  });

  it("knows a place whatever it is taken for, and no other", () => {
    const ownError = new OwnError(new Map([[c2.footprint, new Float32Array(model.size)]]), varianceOf);
    const parts = { rise: new Float32Array(model.size), nuisance: levelColumns(model, 0.3), state };
    expect(ownError.has(partOf(model, "C2"))).toBe(true);
    expect(ownError.has(partOf(model, "U2"))).toBe(false);
    expect(ownError.weigh(model, parts, partOf(model, "U2"), [])).toBeNull();
  });
});
