import { describe, expect, it } from "vitest";
import type { SetFit } from "../../../src/sources/candidate-pool.js";
import type { ProjectedColumn } from "../../../src/sources/cross-products.js";
import { heatOfEach, heatOfSet } from "../../../src/sources/heat-of-set.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import type { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import { denseOf } from "./dense-column.js";
import { modelOf, partOf } from "./small-model.js";

const model = modelOf();
const state = PLATE_STATES[3]!;
const [u1, c2, q1] = [partOf(model, "U1"), partOf(model, "C2"), partOf(model, "Q1")];
const plate = (part: typeof u1): Float64Array => denseOf(model.plateColumn(part, state), model.size);
const powersW = Float64Array.of(0.2, 0.05, 0);
const bodyShares = Float64Array.of(0.4, 0, 1);

/** Largest difference between two pictures, K. */
const apart = (a: Float32Array, b: ArrayLike<number>): number =>
  a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i]!)), 0);

describe("heatOfSet", () => {
  const body = denseOf(u1.body!, model.size);
  const ofU1 = plate(u1).map((value, i) => 0.2 * value + 0.2 * 0.4 * u1.maxBodyKPerW * body[i]!);
  const ofC2 = plate(c2).map((value) => 0.05 * value);

  it("is plate and body of each source, in proportion to its watts", () => {
    const all = heatOfSet(model, state, [u1, c2, q1], { powersW, bodyShares });
    // Single precision at 10 K.
    expect(
      apart(
        all,
        ofU1.map((value, i) => value + ofC2[i]!),
      ),
    ).toBeLessThan(1e-5);
    expect(Math.max(...all)).toBeGreaterThan(0.5);
  });

  it("leaves out the one that is named, those that mirror, and those without watts", () => {
    const set = [u1, c2, q1];
    expect(apart(heatOfSet(model, state, set, { powersW, bodyShares }, 0), ofC2)).toBeLessThan(1e-5);
    const mirrored = heatOfSet(model, state, [mirrorOf(u1), c2, q1], { powersW, bodyShares });
    expect(apart(mirrored, ofC2)).toBeLessThan(1e-5);
    const negative = heatOfSet(model, state, set, { powersW: [-1, 0, Number.NaN], bodyShares });
    expect(negative.every((value) => value === 0)).toBe(true);
  });
});

describe("heatOfEach", () => {
  /** A fit whose columns are pictures of three pixels. */
  const fit = {
    heat: (columns: readonly number[][], amounts: Float64Array) =>
      Float32Array.from([0, 1, 2], (i) => columns.reduce((sum, one, k) => sum + one[i]! * amounts[k]!, 0)),
  } as unknown as ProjectedFit;
  const columns = [
    [1, 2, 3],
    [0, 1, 0],
    [5, 5, 5],
    [2, 0, 2],
  ] as unknown as ProjectedColumn[];
  const answerOf = (starts: number[]) =>
    ({ starts, columns, amounts: Float64Array.of(2, 10, 3, 0.5) }) as unknown as SetFit;

  it("is what each part in view was given by all of its columns, mirrors too", () => {
    const heats = heatOfEach(fit, [u1, mirrorOf(c2)], answerOf([0, 2]));
    expect([...heats.get(u1.footprint)!]).toEqual([2, 14, 6]);
    expect([...heats.get(c2.footprint)!]).toEqual([16, 15, 16]);
  });

  it("leaves those aside that warm on a healthy board, and those that show no body", () => {
    const warm = { ...u1, normallyWarm: true };
    const hidden = { ...q1, body: null };
    expect([...heatOfEach(fit, [warm, hidden, c2], answerOf([0, 2, 3])).keys()]).toEqual([c2.footprint]);
  });
});
