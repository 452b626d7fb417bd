import { describe, expect, it } from "vitest";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { evidenceOnUneven } from "../../../src/sources/uneven-copper.js";
import { makeRandom } from "../../simulate/random.js";
import { denseOf } from "./dense-column.js";
import { VIEW } from "./relaxed-plate.js";
import { modelOf, partOf, partsOf } from "./small-model.js";

const model = modelOf();
const { width } = VIEW.frame;
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
const set = [partOf(model, "U2"), partOf(model, "C2")];
const NOISE_K = 0.04;

/** Evidence for C2 beside U2, plain and with uneven copper allowed for. */
function evidence(rise: Float32Array): { plain: number; uneven: number } {
  const parts = partsOf(model, rise, NOISE_K, state);
  const pool = new CandidatePool(model, new ProjectedFit(rise, parts.variance, parts.nuisance), state);
  const answer = pool.fitSet(set);
  return {
    plain: answer.gain - pool.fitSet([set[0]!]).gain,
    uneven: evidenceOnUneven(model, parts, set, answer, 1),
  };
}

/** 0.3 W in U2, and what else is added per pixel, given U2's rise there. */
function riseOf(more: (u2K: number, i: number) => number): Float32Array {
  const random = makeRandom("uneven copper");
  const u2 = denseOf(model.plateColumn(set[0]!, state), model.size);
  return Float32Array.from(u2, (value, i) => 0.3 * value + more(0.3 * value, i) + NOISE_K * random.normal());
}

describe("evidenceOnUneven", () => {
  it("a slow wave over the stronger heat is no second source", () => {
    // One wave over 38 mm of the board's 40, 5 % of the rise, highest near C2.
    const found = evidence(riseOf((u2K, i) => 0.05 * u2K * Math.cos((Math.PI * ((i % width) - 103)) / 51)));
    expect(found.plain).toBeGreaterThan(60);
    expect(found.uneven).toBeLessThan(0.2 * found.plain);
  });

  it("a part that heats, with a peak of its own, keeps evidence enough", () => {
    const c2 = denseOf(model.plateColumn(set[1]!, state), model.size);
    const body = new Float32Array(model.size);
    set[1]!.body!.at!.forEach((pixel, k) => {
      body[pixel] = set[1]!.body!.values[k]!;
    });
    const found = evidence(riseOf((_, i) => 0.02 * (c2[i]! + 25 * body[i]!)));
    // Waves of 3 % take most of its wide hill, and leave what no wave follows: hundreds of times what has to be
    // brought.
    expect(found.uneven).toBeGreaterThan(5000);
    expect(found.uneven).toBeLessThan(found.plain);
  });

  it("without stronger heat there is nothing to be uneven", () => {
    const c2 = denseOf(model.plateColumn(set[1]!, state), model.size);
    const random = makeRandom("alone");
    const rise = Float32Array.from(c2, (value) => 0.05 * value + NOISE_K * random.normal());
    const parts = partsOf(model, rise, NOISE_K, state);
    const pool = new CandidatePool(model, new ProjectedFit(rise, parts.variance, parts.nuisance), state);
    const answer = pool.fitSet([set[1]!]);
    expect(evidenceOnUneven(model, parts, [set[1]!], answer, 0)).toBeCloseTo(answer.gain, 6);
  });
});
