import { afterEach, describe, expect, it } from "vitest";
import { useKernels } from "../../../src/numeric/kernels.js";
import { PLATE_BATCH, PlateBatch } from "../../../src/sources/plate-batch.js";
import { makePlateGrid } from "../../../src/sources/plate-grid.js";
import { factorPlate } from "../../../src/sources/plate-solver.js";
import { agreed } from "../numeric/both-ways.js";

const grid = makePlateGrid(
  [
    [0, 0],
    [31, 0],
    [31, 12],
    [18, 21],
    [0, 21],
  ],
  { shortSideCells: 20, minStepMm: 0.5 },
);
const n = grid.cellOf.length;
const heats = Array.from({ length: PLATE_BATCH }, (_, r) =>
  Float64Array.from({ length: n }, (_, i) => (i % (r + 3) === 0 ? Math.sin(i + r) : 0)),
);

afterEach(() => useKernels(true));

describe("PlateBatch", () => {
  it.each([1, 3, PLATE_BATCH])("solves %i heats at a time as one by one, to the last bit", (count) => {
    const batch = new PlateBatch("copper", grid);
    for (const stepMm of [2, 11, 2]) {
      const one = factorPlate(grid, stepMm);
      const some = heats.slice(0, count);
      const wanted = some.map((heat) => [...one.solve(heat)]);
      expect(agreed(() => batch.solve(stepMm, some).map((rise) => [...rise]))).toEqual(wanted);
    }
  });

  it("leaves the heats as they were, and its places to another's plate in between", () => {
    const [first, second] = [new PlateBatch("copper", grid), new PlateBatch("copper", grid)];
    const before = [...heats[0]!];
    const rise = [...first.solve(4, [heats[0]!])[0]!];
    second.solve(7, [heats[1]!]);
    expect([...first.solve(4, [heats[0]!])[0]!]).toEqual(rise);
    expect([...heats[0]!]).toEqual(before);
  });
});
