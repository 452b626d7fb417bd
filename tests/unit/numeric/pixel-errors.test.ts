import { afterEach, describe, expect, it } from "vitest";
import { useKernels } from "../../../src/numeric/kernels.js";
import {
  addSquared,
  dipDepths,
  halfStepSize,
  largestShare,
  markCool,
  meanWhere,
  peakOf,
  standardise,
  usablePixels,
} from "../../../src/numeric/pixel-errors.js";
import { makeRandom } from "../../simulate/random.js";
import { agreed } from "./both-ways.js";

afterEach(() => useKernels(true));

describe.each([
  [37, 23],
  [16, 12],
])("pictures of %i×%i, some of it missing", (width, height) => {
  const random = makeRandom(`errors ${width}`);
  const picture = (holes: number, of: () => number) =>
    Float32Array.from({ length: width * height }, () => (random.chance(holes) ? Number.NaN : of()));
  const [a, b] = [picture(0.03, () => random.normal()), picture(0.03, () => random.normal())];
  const heat = picture(0, () => Math.abs(random.normal()));
  const variance = picture(0.05, () => random.uniform(-0.02, 0.2));
  const rest = heat.map((value) => value * random.uniform(0, 2));
  const marks = Uint8Array.from(heat, () => (random.chance(0.2) ? 1 : 0));
  const counts = Float32Array.from(marks, (mark) => 1 - mark);

  it("are squared, differentiated, divided and judged as by the plain code", () => {
    agreed(() => addSquared(variance, a, 0.31));
    agreed(() => addSquared(variance, a, 0.31, heat, 1.7));
    agreed(() => halfStepSize(a, width, height));
    agreed(() => standardise(a, variance, marks));
    const depths = agreed(() => dipDepths(a, b, heat, variance, 0.35, a, 0.15, heat, 0.5));
    expect(depths.some((depth) => depth > 0)).toBe(true);
    expect(agreed(() => markCool(b, heat, variance, 2, 0.55)).includes(1)).toBe(true);
    agreed(() => meanWhere(a, heat, counts, 0.5));
    agreed(() => largestShare(heat, rest, 0.5, 1e-6));
    agreed(() => peakOf(a));
    const { pixels } = agreed(() => usablePixels(a, variance));
    expect(pixels.length).toBeGreaterThan(10);
  });
});

describe("by hand", () => {
  it("adds squares of multiples", () => {
    expect([...addSquared(Float32Array.of(1, 2), Float32Array.of(3, 4), 2)]).toEqual([37, 66]);
    const two = addSquared(Float32Array.of(1, 2), Float32Array.of(3, 4), 2, Float32Array.of(1, 5), 3);
    expect([...two]).toEqual([46, 291]);
  });

  it("takes half the step along both axes, of 3 and 4 it is 2.5, and none at the border", () => {
    const ramp = Float32Array.from({ length: 12 }, (_, i) => 1.5 * (i % 4) + 2 * Math.floor(i / 4));
    expect([...halfStepSize(ramp, 4, 3)]).toEqual([0, 0, 0, 0, 0, 2.5, 2.5, 0, 0, 0, 0, 0]);
  });

  it("divides by the root of the variance where nothing is marked", () => {
    const z = standardise(Float32Array.of(3, -4, 5), Float32Array.of(9, 4, 0.25), Uint8Array.of(0, 0, 1));
    expect([...z]).toEqual([1, -2, 0]);
  });

  it("tells a dip from what is above it, and from one deeper than the heat that could be missing", () => {
    const own = Float32Array.of(-2, 1, -9, Number.NaN);
    const depths = dipDepths(
      own,
      own,
      Float32Array.of(0.5, 0, 0, 0),
      Float32Array.of(0.25, 0.25, 0.25, 0.25),
      1,
      new Float32Array(4),
      0,
      Float32Array.of(3, 3, 3, 3),
      2,
    );
    // 2 K at a sigma of 0.5 K; 1 K above; 9 K where 3 K of heat and two sigma could be missing; no number.
    expect([...depths]).toEqual([4, -2, 0, 0]);
  });

  it("calls a pixel cool that shows too little of heat that stands clear of noise", () => {
    const cool = markCool(
      Float32Array.of(0.4, 0.9, 0.04),
      Float32Array.of(1, 1, 0.1),
      Float32Array.of(0.01, 0.01, 0.01),
      8,
      0.55,
    );
    expect([...cool]).toEqual([1, 0, 0]);
  });

  it("means only what counts and has enough around it", () => {
    const mean = meanWhere(
      Float32Array.of(3, 3, 3),
      Float32Array.of(0.75, 0.25, 0.75),
      Float32Array.of(1, 1, 0),
      0.5,
    );
    expect([...mean]).toEqual([4, Number.NaN, Number.NaN]);
  });

  it("finds the largest share above half the peak, and what is there", () => {
    const found = largestShare(Float32Array.of(1, 4, 3), Float32Array.of(0.01, 2, 1), 0.5, 1e-6);
    expect(found).toEqual({ share: 3, rest: 1 });
  });

  it("finds a peak above 0, whatever is missing", () => {
    expect(peakOf(Float32Array.of(-1, Number.NaN, 7, 2, 3))).toBe(7);
    expect(peakOf(Float32Array.of(-1, -2))).toBe(0);
  });

  it("lists the pixels that take part", () => {
    const data = Float32Array.of(1, Number.NaN, 2, 3, 4);
    const found = usablePixels(data, Float32Array.of(4, 1, 0, 9, Number.POSITIVE_INFINITY));
    expect([...found.pixels]).toEqual([0, 3]);
    expect([...found.sigma]).toEqual([2, 3]);
    expect([...found.place]).toEqual([0, -1, -1, 1, -1]);
  });
});
