import { afterEach, describe, expect, it } from "vitest";
import { sharedKernels, useKernels } from "../../../src/numeric/kernels.js";
import { MANY } from "../../../src/numeric/many-numbers.js";
import { median, medianAbsoluteDeviation, quantile } from "../../../src/numeric/median.js";
import { makeRandom } from "../../simulate/random.js";
import { watched } from "./kernel-calls.js";

afterEach(() => useKernels(true));

/** By sorting: what selection must give. */
function sorted(values: ArrayLike<number>): number[] {
  return Array.from(values)
    .filter((value) => !Number.isNaN(value))
    .sort((a, b) => a - b);
}
function middleOf(list: readonly number[]): number {
  const [lower, upper] = [list[(list.length - 1) >> 1]!, list[list.length >> 1]!];
  return lower === upper ? upper : lower / 2 + upper / 2;
}
function quantileOf(list: readonly number[], p: number): number {
  const at = (list.length - 1) * p;
  const [low, high] = [list[Math.floor(at)]!, list[Math.ceil(at)]!];
  return at % 1 === 0 ? low : low + (at % 1) * (high - low);
}

const random = makeRandom("many numbers");
const make = (value: (i: number) => number, extra = 0): Float64Array =>
  Float64Array.from({ length: MANY + 801 + extra }, (_, i) => value(i));

describe.each<[string, Float64Array]>([
  ["even", make(() => random.uniform(0, 1))],
  ["an even number of them", make(() => random.normal(), 1)],
  ["of few levels", make(() => Math.round(20 * random.uniform(0, 1)) / 10)],
  ["with holes", make((i) => (i % 3 === 0 ? Number.NaN : random.normal()))],
  ["far apart", make(() => 1e300 * random.normal() ** 9)],
  ["with infinities", make((i) => (i % 50 === 0 ? 1 / 0 : i % 50 === 1 ? -1 / 0 : random.normal()))],
  ["all alike", make(() => 3)],
  // The sample takes every second place or so: here it meets nothing but the larger ones.
  ["in step with the sample", make((i) => (i % 5 === 0 ? 100 + random.normal() : random.normal()))],
  ["rising", make((i) => i)],
  ["none at all", make(() => Number.NaN)],
])("many numbers, %s", (_, values) => {
  const forms = {
    "of double precision": values,
    "of single precision": Float32Array.from(values),
    // Enough for the kernels, too few for the plain code to look at a sample first.
    "a few of them": values.subarray(0, 701),
    "fewer, of single precision": Float32Array.from(values.subarray(300, 857)),
  };
  const cases = Object.entries(forms).flatMap(([form, numbers]) =>
    [true, false].map((kernels) => [form, kernels, numbers] as const),
  );
  it.each(cases)(
    "%s, have the median, quantiles and spread that sorting gives; kernels: %s",
    (_form, kernels, values) => {
      useKernels(kernels);
      const list = sorted(values);
      if (list.length === 0) {
        expect([median(values), quantile(values, 0.4), medianAbsoluteDeviation(values)]).toEqual([
          Number.NaN,
          Number.NaN,
          Number.NaN,
        ]);
        return;
      }
      const before = values.slice();
      const centre = middleOf(list);
      const [found, called] = watched(() => median(values));
      expect(found).toBe(centre);
      expect(called.has("findRank")).toBe(kernels);
      const distances = Float64Array.from(values, (value) => Math.abs(value - centre));
      expect(medianAbsoluteDeviation(values)).toBe(middleOf(sorted(distances)));
      for (const p of [0, 0.001, 0.5, 0.77, 0.995, 1]) expect(quantile(values, p)).toBe(quantileOf(list, p));
      expect(values).toEqual(before);
    },
  );
});

describe("a median that is asked for while the kernels are in use", () => {
  const values = Float32Array.from({ length: 5001 }, (_, i) => (i * 37) % 5001);

  it("lies behind what is taken, and moves nothing of it", () => {
    const kernels = sharedKernels()!;
    kernels.take(64 * values.length);
    const from = kernels.clear().put(values);
    const view = kernels.floats(from, values.length);
    expect(median(view)).toBe(2500);
    expect(medianAbsoluteDeviation(view)).toBe(1250);
    expect(view).toEqual(values);
    expect(kernels.take(0)).toBe(from + 16 * Math.ceil(values.byteLength / 16));
  });

  it("grows no memory that others look into", () => {
    const kernels = sharedKernels()!;
    const before = kernels.run.memory.buffer;
    const left = before.byteLength - kernels.take(0);
    const taken = kernels.take(left - 64);
    const view = kernels.bytes(taken, 8);
    expect(median(values)).toBe(2500);
    expect(kernels.run.memory.buffer).toBe(before);
    expect(view.length).toBe(8);
  });
});
