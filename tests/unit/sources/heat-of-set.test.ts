import { describe, expect, it } from "vitest";
import { heatOfSet } from "../../../src/sources/heat-of-set.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
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
