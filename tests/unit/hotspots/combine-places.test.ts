import { describe, expect, it } from "vitest";
import { framePoint } from "../../../src/core/units.js";
import { combinePlaces } from "../../../src/hotspots/combine-places.js";
import { makeRandom } from "../../simulate/random.js";

const located = (x: number, y: number, sigmaPx: number, widthPx: number | null = 2.5) => ({
  at: framePoint(x, y),
  sigmaPx,
  widthPx,
});

describe("combinePlaces", () => {
  it("agreeing places: the mean by inverse variance", () => {
    const both = combinePlaces(located(10, 20, 0.1), located(10.05, 20, 0.2));
    // Share of the early one: 0.1²/(0.1² + 0.2²) = 0.2.
    expect(both.at[0]).toBeCloseTo(10.01, 9);
    expect(both.at[1]).toBeCloseTo(20, 9);
    expect(both.sigmaPx).toBeCloseTo(Math.sqrt(0.64 * 0.01 + 0.04 * 0.04), 9);
  });

  it("places far beyond their noise: the early one", () => {
    const both = combinePlaces(located(10, 20, 0.02), located(11.2, 18.4, 0.05));
    // A pull of 2 px² beside an early noise of 0.05² px²: the whole burst keeps a share of 0.0012 of 2 px.
    expect(Math.hypot(both.at[0] - 11.2, both.at[1] - 18.4)).toBeLessThan(0.01);
    expect(both.sigmaPx).toBeCloseTo(0.05, 2);
  });

  it("a spot further away than the spot is wide is another one, unless the whole burst shows no spot at all", () => {
    expect(combinePlaces(located(10, 20, 0.02, 2.5), located(12, 17, 0.05)).at).toEqual([10, 20]);
    expect(combinePlaces(located(10, 20, 0.02, 2.5), located(10.3, 20, 0.05, null)).at).toEqual([10, 20]);
    expect(combinePlaces(located(10, 20, 2, null), located(12, 17, 0.05)).at[0]).toBeCloseTo(12, 1);
  });

  it("the width is the whole burst's, the early one's where that has none", () => {
    expect(combinePlaces(located(1, 2, 0.1, 3), located(1, 2, 0.1, 2)).widthPx).toBe(3);
    expect(combinePlaces(located(1, 2, 0.1, null), located(1, 2, 0.1, 2)).widthPx).toBe(2);
  });

  // The whole burst is drawn aside by a pull; the early frames have little of it and more noise.
  it.each([0, 0.05, 0.2, 1])("pull of %f px: never much worse than the better of the two", (pull) => {
    const random = makeRandom(`pull ${pull}`);
    const [noise, early] = [0.03, 0.09];
    let [whole2, early2, both2] = [0, 0, 0];
    for (let trial = 0; trial < 2000; trial++) {
      const a = located(pull + noise * random.normal(), noise * random.normal(), noise, 3);
      const b = located(early * random.normal(), early * random.normal(), early);
      const { at } = combinePlaces(a, b);
      whole2 += a.at[0] ** 2 + a.at[1] ** 2;
      early2 += b.at[0] ** 2 + b.at[1] ** 2;
      both2 += at[0] ** 2 + at[1] ** 2;
    }
    // What the pull is has to be guessed from one difference: up to half as much again, as the root mean square.
    expect(Math.sqrt(both2 / Math.min(whole2, early2))).toBeLessThan(1.5);
    if (pull === 1) expect(both2).toBeLessThan(0.05 * whole2);
  });
});
