import { describe, expect, it } from "vitest";
import { betterInPlace } from "../../../src/sources/better-in-place.js";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { showRise } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const NOISE_K = 0.04;
const model = modelOf();
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
const rise = showRise({ C2: 0.08, U1: 0.1 }, NOISE_K, "better in place").data;
const pool = new CandidatePool(model, new ProjectedFit(rise, variance, levelColumns(model, 0.3)), state);
const [u1, u2, c1, c2, q1] = ["U1", "U2", "C1", "C2", "Q1"].map((ref) => partOf(model, ref)) as [
  ReturnType<typeof partOf>,
  ReturnType<typeof partOf>,
  ReturnType<typeof partOf>,
  ReturnType<typeof partOf>,
  ReturnType<typeof partOf>,
];
const little = () => 25;

describe("betterInPlace", () => {
  it("the part that heats, where its neighbour stands in its place", () => {
    expect(betterInPlace(pool, [u1, c1], c1, [u2, c2, q1], little)).toBe(c2);
  });

  it("none where the source itself does best", () => {
    expect(betterInPlace(pool, [u1, c2], c2, [u2, c1, q1], little)).toBeNull();
  });

  it("none of those that do not explain what they must", () => {
    const needed = pool.fitSet([u1, c2]).gain - pool.fitSet([u1]).gain;
    expect(betterInPlace(pool, [u1, c1], c1, [c2], () => needed + 1)).toBeNull();
    expect(betterInPlace(pool, [u1, c1], c1, [c2], () => needed - 1)).toBe(c2);
  });
});
