import { expect, it } from "vitest";
import { FittedSets } from "../../../src/sources/fitted-sets.js";

it("a set is known by what is in it and by its order, also where it goes on from another", () => {
  const sets = new FittedSets<object, number>();
  const [a, b, c] = [{}, {}, {}];
  const all = [[], [a], [b], [a, b], [b, a], [a, b, c], [a, a]];
  all.forEach((set, k) => {
    expect(sets.of(set).fit).toBeNull();
    sets.of([...set]).fit = k;
  });
  expect(all.map((set) => sets.of([...set]).fit)).toEqual([0, 1, 2, 3, 4, 5, 6]);
  expect(sets.of([b, c]).fit).toBeNull();
});
