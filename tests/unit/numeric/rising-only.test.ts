import { describe, expect, it } from "vitest";
import { risingOnly } from "../../../src/numeric/rising-only.js";
import { makeRandom } from "../../simulate/random.js";

describe("risingOnly", () => {
  it("leaves what rises, and pools what falls", () => {
    expect([...risingOnly(Float64Array.of(1, 2, 2, 5))]).toEqual([1, 2, 2, 5]);
    expect([...risingOnly(Float64Array.of(3, 1, 2, 4, 3))]).toEqual([2, 2, 2, 3.5, 3.5]);
    expect([...risingOnly(Float64Array.of(5, 4, 3))]).toEqual([4, 4, 4]);
    expect(risingOnly(new Float64Array(0))).toHaveLength(0);
  });

  it("is as high on average as what it was made of: no running maximum", () => {
    const random = makeRandom("rising only");
    const values = Float64Array.from({ length: 500 }, () => 1 + 0.1 * random.normal());
    const rising = risingOnly(values);
    const mean = (list: Float64Array) => list.reduce((sum, value) => sum + value, 0) / list.length;
    expect(mean(rising)).toBeCloseTo(mean(values), 12);
    for (let k = 1; k < rising.length; k++) expect(rising[k]).toBeGreaterThanOrEqual(rising[k - 1]!);
    // Nothing that rises lies nearer: a level, and a straight line, as two of them.
    const square = (list: ArrayLike<number>) => values.reduce((sum, v, k) => sum + (v - list[k]!) ** 2, 0);
    expect(square(rising)).toBeLessThan(square(values.map(() => mean(values))));
    expect(square(rising)).toBeLessThan(square(values.map((_, k) => mean(values) + 1e-4 * (k - 249.5))));
  });
});
