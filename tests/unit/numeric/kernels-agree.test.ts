import { afterEach, describe, expect, it } from "vitest";
import { separatePattern } from "../../../src/align/separate-pattern.js";
import { radians } from "../../../src/core/units.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { splineCoefficients } from "../../../src/numeric/spline-coefficients.js";
import { warpRaster } from "../../../src/numeric/warp.js";
import { wideGaussian } from "../../../src/numeric/wide-gaussian.js";
import { resolvePattern } from "../../../src/rise/resolve-pattern.js";
import { makeRandom } from "../../simulate/random.js";
import { bothWays } from "./both-ways.js";

afterEach(() => useKernels(true));

function expectSame(fast: ArrayLike<number>, plain: ArrayLike<number>): void {
  expect(fast.length).toBe(plain.length);
  const first = Array.from(fast).findIndex((value, k) => !Object.is(value, plain[k]));
  expect(first === -1 ? null : [first, fast[first], plain[first]]).toBeNull();
}

/** @param holes share of pixels without a reading. */
function picture(width: number, height: number, holes: number): Float32Array {
  const random = makeRandom(`agree ${width} ${height} ${holes}`);
  const base = 20 + random.normal();
  return Float32Array.from({ length: width * height }, () =>
    random.uniform(0, 1) < holes ? Number.NaN : base + random.normal(),
  );
}

const SIZES = [
  [37, 23],
  [8, 31],
  [64, 41],
] as const;

describe.each([0, 0.02, 0.4])("a picture with %f of its pixels missing", (holes) => {
  it.each(SIZES)("of %i×%i is smoothed as by the plain code, to the last bit", (width, height) => {
    const data = picture(width, height, holes);
    for (const sigma of [0.7, 1.5, 6]) {
      for (const fillHoles of [false, true]) {
        expectSame(...bothWays(() => gaussianFilter(data, width, height, sigma, { fillHoles })));
      }
    }
  });

  it.each(SIZES)("of %i×%i is smoothed on cells as by the plain code", (width, height) => {
    const data = picture(width, height, holes);
    const random = makeRandom("weights");
    const weights = data.map(() => Math.max(0, random.uniform(-0.3, 1)));
    for (const sigma of [2.6, 4.4, 9]) {
      expectSame(...bothWays(() => wideGaussian(data, width, height, sigma)));
      expectSame(...bothWays(() => wideGaussian(data, width, height, sigma, weights)));
    }
  });

  it.each(SIZES)("of %i×%i is resampled as by the plain code", (width, height) => {
    const data = picture(width, height, holes);
    const maps = [
      [1, 0, 0.37, 0, 1, -1.2],
      [0.999, -0.021, 0.4, 0.021, 0.999, 1.1],
      [1, 0, 3, 0, 1, -0.5],
      // Stretched, turned far, mirrored; so far away that no place is a whole number of 32 bits.
      [0.7, 0.2, 3, -0.3, 1.4, 5],
      [0.28, -0.96, 20, 0.96, 0.28, -4],
      [-1, 0.001, width - 1.4, 0.001, 0.999, 0.6],
      [1, 0, 1e12, 0, -1e300, 0],
    ] as const;
    for (const order of ["linear", "cubic", "spline"] as const) {
      for (const map of maps) expectSame(...bothWays(() => warpRaster(data, width, height, map, { order })));
    }
    expectSame(...bothWays(() => splineCoefficients(data, width, height)));
  });
});

describe("a single line", () => {
  it.each([
    [53, 1],
    [1, 29],
  ])("of %i×%i is smoothed and filtered as by the plain code", (width, height) => {
    const data = picture(width, height, 0.05);
    expectSame(...bothWays(() => gaussianFilter(data, width, height, 2)));
    expectSame(...bothWays(() => splineCoefficients(data, width, height)));
  });
});

describe("the pattern that edges had hidden", () => {
  it("is found as by the plain code, to the last bit", () => {
    const [width, height] = [61, 47];
    const random = makeRandom("hidden");
    const pattern = Float32Array.from({ length: width * height }, () => 0.1 * random.normal());
    const scene = (x: number, y: number) => (Math.floor(x / 9) % 2 === Math.floor(y / 7) % 2 ? 3 : 0);
    const frame = (dx: number) =>
      pattern.map(
        (value, i) => value + scene((i % width) + dx, Math.floor(i / width)) + 0.02 * random.normal(),
      );
    const baseline = { unit: "degC", width, height, data: frame(0) } as const;
    const separated = separatePattern(baseline, {
      columnsK: new Float64Array(width),
      rowsK: new Float64Array(height),
    });
    const rise = {
      unit: "K",
      width,
      height,
      data: frame(1).map((v, i) => v - baseline.data[i]!),
    } as const;
    const mirrors = Uint8Array.from(pattern, (_, i) => (i % width > 50 ? 1 : 0));
    const moved = { dxPx: 0.8, dyPx: -0.4, angleRad: radians(0.01) };
    const [fast, plain] = bothWays(() => resolvePattern(separated, rise, moved, 0.02, mirrors));
    expect(fast).not.toBe(separated);
    expectSame(fast.pattern.data, plain.pattern.data);
    expectSame(fast.scene.data, plain.scene.data);
    expectSame(...bothWays(() => resolvePattern(separated, rise, moved, 0.02, null).pattern.data));
  });

  // Moved by less than a pixel or by many, to either side: what a pixel reads is itself, one of its neighbours or far
  // away.
  it.each([
    [64, 40, 0.4, 0.3, 0],
    [61, 47, -0.4, -0.3, 0],
    [37, 23, 0.4, -0.7, 0],
    [48, 33, -1.6, 0.2, 0.02],
    [50, 31, 12.3, -9.1, -0.05],
    [33, 29, -40, 3, 0],
  ])(
    "of %i×%i that moved by %f and %f px and turned by %f rad, with holes",
    (width, height, dxPx, dyPx, turn) => {
      const random = makeRandom(`moved ${width}`);
      const some = (share: number, value: () => number, none: number): Float32Array =>
        Float32Array.from({ length: width * height }, () => (random.uniform(0, 1) < share ? value() : none));
      // Shares in runs, as edges leave them.
      const sceneShare = some(0.08, () => random.uniform(0, 1), 0);
      for (let i = 1; i < sceneShare.length; i++) {
        if (sceneShare[i] === 0 && random.uniform(0, 1) < 0.7)
          sceneShare[i] = sceneShare[i - 1]! * 0.9 > 0.3 ? 0.5 : 0;
      }
      const separated = {
        scene: { unit: "degC", width, height, data: some(0.99, () => 20 + random.normal(), Number.NaN) },
        pattern: { unit: "K", width, height, data: some(1, () => 0.1 * random.normal(), 0) },
        sceneShare,
        patternSigmaK: 0.1,
      } as const;
      const rise = {
        unit: "K",
        width,
        height,
        data: some(0.99, () => 0.2 * random.normal(), Number.NaN),
      } as const;
      const moved = { dxPx, dyPx, angleRad: radians(turn) };
      const mirrors = Uint8Array.from(sceneShare, (_, i) => (i % width > width - 9 ? 1 : 0));
      for (const mirror of [mirrors, null]) {
        const [fast, plain] = bothWays(() => resolvePattern(separated, rise, moved, 0.02, mirror));
        expectSame(fast.pattern.data, plain.pattern.data);
        expectSame(fast.scene.data, plain.scene.data);
      }
    },
  );
});
