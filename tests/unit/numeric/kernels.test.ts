import { describe, expect, it } from "vitest";
import { type Kernels, keptKernels, makeKernels, newOwner } from "../../../src/numeric/kernels.js";
import { factorBand, solveBand } from "../../../src/sources/solve-band.js";
import { makeRandom } from "../../simulate/random.js";
import { bandMatrix } from "../sources/band-matrix.js";

/** Node has WebAssembly: without it these tests would hold nothing against nothing. */
function kernelsHere(): Kernels {
  const kernels = makeKernels();
  if (kernels === null) throw new Error("no WebAssembly here");
  return kernels;
}

const same = (a: ArrayLike<number>, b: ArrayLike<number>): boolean =>
  a.length === b.length && Array.from(a).every((value, k) => Object.is(value, b[k]));

describe("the kernels' memory", () => {
  it("gives places that don't overlap, aligned and filled with 0, however many", () => {
    const kernels = kernelsHere();
    const first = kernels.take(12);
    kernels.integers(first, 3).set([7, 8, 9]);
    const second = kernels.take(200_001);
    expect(second % 16).toBe(0);
    expect(second).toBeGreaterThanOrEqual(first + 12);
    kernels.doubles(second, 25_000).fill(3);
    expect([...kernels.integers(first, 3)]).toEqual([7, 8, 9]);
    expect(kernels.floats(kernels.take(400), 100).every((value) => value === 0)).toBe(true);
  });

  it("is another one for each instance", () => {
    const [one, two] = [kernelsHere(), kernelsHere()];
    one.doubles(one.take(8), 1)[0] = 5;
    expect(two.doubles(two.take(8), 1)[0]).toBe(0);
  });
});

describe("kept kernels", () => {
  it("are laid out again for an owner whose layout failed, and only then", () => {
    const owner = newOwner();
    let times = 0;
    const ask = (fails: boolean): Kernels | null =>
      keptKernels("of this test", owner, () => {
        times++;
        if (fails) throw new RangeError("no memory");
      });
    expect(() => ask(true)).toThrow("no memory");
    expect(ask(false)).not.toBeNull();
    expect(ask(false)).not.toBeNull();
    expect(times).toBe(2);
  });

  it("are laid out again for an owner after another one's layout failed", () => {
    const [owner, other] = [newOwner(), newOwner()];
    let times = 0;
    const ask = (): Kernels | null =>
      keptKernels("of this test", owner, () => {
        times++;
      });
    ask();
    expect(() =>
      keptKernels("of this test", other, () => {
        throw new RangeError("no memory");
      }),
    ).toThrow("no memory");
    ask();
    expect(times).toBe(2);
  });
});

describe.each([
  [37, 7],
  [10, 3],
  [24, 2],
  [61, 12],
])("a band matrix of %i rows, band %i", (n, band) => {
  const { rows } = bandMatrix(n, band);
  const plain = rows.slice();
  factorBand(plain, n, band);
  const kernels = kernelsHere();
  const factor = kernels.take(8 * rows.length);
  kernels.doubles(factor, rows.length).set(rows);
  kernels.run.factorBand(factor, n, band, kernels.take(16 * band));

  it("has the factor of the plain code, to the last bit", () => {
    expect(same(kernels.doubles(factor, rows.length), plain)).toBe(true);
  });

  it.each([0, 9])("has its solutions for four right sides, with %i zeros at their start", (zeros) => {
    const random = makeRandom(`right sides ${n}`);
    const sides = Array.from({ length: 4 }, (_, r) =>
      Float64Array.from({ length: n }, (_, i) => (i < zeros + (r % 2) ? 0 : random.normal())),
    );
    const x = kernels.take(8 * 4 * n);
    sides.forEach((b, r) => {
      b.forEach((value, i) => {
        kernels.doubles(x, 4 * n)[4 * i + r] = value;
      });
    });
    kernels.run.solveBand(factor, n, band, x);
    const solved = kernels.doubles(x, 4 * n);
    sides.forEach((b, r) => {
      const own = Float64Array.from({ length: n }, (_, i) => solved[4 * i + r]!);
      expect(same(own, solveBand(plain, n, band, b))).toBe(true);
    });
  });
});

describe("scale", () => {
  it("multiplies each number", () => {
    const kernels = kernelsHere();
    const x = kernels.take(8 * 6);
    const random = makeRandom("scale");
    const before = Float64Array.from({ length: 6 }, () => random.normal());
    kernels.doubles(x, 6).set(before);
    kernels.run.scale(x, 4, 0.37);
    const wanted = before.map((value, k) => (k < 4 ? 0.37 * value : value));
    expect(same(kernels.doubles(x, 6), wanted)).toBe(true);
  });
});
