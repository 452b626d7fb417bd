import { describe, expect, it } from "vitest";
import type { RigidTransform } from "../../../src/align/rigid-transform.js";
import type { SeparatedFrame } from "../../../src/align/separate-pattern.js";
import { createRaster } from "../../../src/core/raster.js";
import { radians } from "../../../src/core/units.js";
import { RESOLVE_PATTERN_DEFAULTS, resolvePattern } from "../../../src/rise/resolve-pattern.js";
import { makeRandom } from "../../simulate/random.js";

const shift = (dxPx: number, dyPx: number, angleRad = 0): RigidTransform => ({
  dxPx,
  dyPx,
  angleRad: radians(angleRad),
});
describe("resolvePattern where there is nothing to tell", () => {
  const width = 14;
  const height = 11;
  const flat = (share: number): SeparatedFrame => ({
    scene: createRaster("degC", width, height, new Float32Array(width * height).fill(25)),
    pattern: createRaster("K", width, height),
    sceneShare: new Float32Array(width * height).fill(share),
    patternSigmaK: 0.2,
  });
  const random = makeRandom("any difference");
  const rise = createRaster(
    "K",
    width,
    height,
    Float32Array.from({ length: width * height }, () => 0.1 * random.normal()),
  );

  it("a pair that did not move, or hardly, is returned as it is", () => {
    const separated = flat(1);
    for (const transform of [shift(0, 0), shift(0.03, -0.02), shift(0, 0, 0.001)])
      expect(resolvePattern(separated, rise, transform, 0.05, null)).toBe(separated);
    expect(resolvePattern(separated, rise, shift(0.3, 0), 0.05, null)).not.toBe(separated);
    // A turn moves what is away from the middle.
    expect(resolvePattern(separated, rise, shift(0, 0, 0.1), 0.05, null)).not.toBe(separated);
  });

  it("no share hidden: the same scene and pattern", () => {
    const separated = flat(0);
    const out = resolvePattern(separated, rise, shift(1, 0), 0.05, null);
    expect(out.scene.data).toEqual(separated.scene.data);
    expect(out.pattern.data).toEqual(separated.pattern.data);
  });

  it("a frame without readings tells nothing, and inputs stay as they are", () => {
    const separated = flat(1);
    const empty = createRaster("K", width, height, new Float32Array(width * height).fill(Number.NaN));
    expect(resolvePattern(separated, empty, shift(1, 0), 0.05, null).pattern.data).toEqual(
      separated.pattern.data,
    );
    const before = Float32Array.from(rise.data);
    resolvePattern(separated, rise, shift(1, 0), 0.05, null);
    expect(rise.data).toEqual(before);
    expect(separated.pattern.data.every((v) => v === 0)).toBe(true);
  });

  it("overwrites what it was given where that is wanted, with the same numbers", () => {
    const kept = flat(1);
    const wanted = resolvePattern(kept, rise, shift(1, 0), 0.05, null);
    const given = flat(1);
    const out = resolvePattern(given, rise, shift(1, 0), 0.05, null, { overwrites: true });
    expect(out.scene.data).toBe(given.scene.data);
    expect(out.pattern.data).toBe(given.pattern.data);
    expect(out).toEqual(wanted);
    expect(out.pattern.data.some((value) => value !== 0)).toBe(true);
  });

  it("mirrors show a room that changed: what lies on them is not taken for pattern", () => {
    const mirrors = new Uint8Array(width * height).fill(1);
    const out = resolvePattern(flat(1), rise, shift(1, 0), 0.05, mirrors);
    expect(out.pattern.data.every((v) => v === 0)).toBe(true);
  });
});

describe("resolvePattern as least squares", () => {
  const width = 27;
  const height = 22;
  const noiseK = 0.05;
  const patternSigmaK = 0.2;
  const random = makeRandom("least squares");
  /** None near the border, where a frame's outermost pixels have no surroundings to be finer than. */
  const share = Float32Array.from({ length: width * height }, (_, i) => {
    const x = i % width;
    const y = Math.floor(i / width);
    const near = Math.min(x, y, width - 1 - x, height - 1 - y) < 5;
    return !near && random.chance(0.7) ? random.uniform(0.2, 1) : 0;
  });
  const difference = Float32Array.from({ length: width * height }, () => 0.2 * random.normal());
  const holes = new Set([200, 201, 317]);
  for (const i of holes) difference[i] = Number.NaN;
  const mirrors = Uint8Array.from(share, (_, i) => (i % width > 17 && i > 300 && i < 400 ? 1 : 0));

  /** The hidden pattern that a solution with many steps finds on a flat scene. */
  function hiddenPattern(transform: RigidTransform, steps: number): Float32Array {
    const separated: SeparatedFrame = {
      scene: createRaster("degC", width, height, new Float32Array(width * height).fill(25)),
      pattern: createRaster("K", width, height),
      sceneShare: share,
      patternSigmaK,
    };
    const rise = createRaster("K", width, height, Float32Array.from(difference));
    return resolvePattern(separated, rise, transform, noiseK, mirrors, { steps }).pattern.data;
  }

  /** What is to be least: Σ (d + F(h − h moved))²/σ² + Σ (h ÷ share·prior)², written out in double on its own. */
  function penalty(h: ArrayLike<number>, { dxPx, dyPx, angleRad }: RigidTransform): number {
    const at = (x: number, y: number) => h[y * width + x]!;
    const cx = (width - 1) / 2;
    const cy = (height - 1) / 2;
    const twice = Float64Array.from({ length: width * height }, (_, i) => {
      const x = (i % width) - cx;
      const y = Math.floor(i / width) - cy;
      const u = cx + Math.cos(angleRad) * x - Math.sin(angleRad) * y + dxPx;
      const v = cy + Math.sin(angleRad) * x + Math.cos(angleRad) * y + dyPx;
      const [a, b] = [Math.floor(u), Math.floor(v)];
      // What the move takes out of the frame tells nothing.
      if (a < 0 || b < 0 || a + 1 >= width || b + 1 >= height) return 0;
      const [s, t] = [u - a, v - b];
      const there =
        (1 - t) * ((1 - s) * at(a, b) + s * at(a + 1, b)) +
        t * ((1 - s) * at(a, b + 1) + s * at(a + 1, b + 1));
      return h[i]! - there;
    });
    const detail = (values: ArrayLike<number>, i: number): number => {
      let mean = 0;
      for (let v = -1; v <= 1; v++) {
        for (let u = -1; u <= 1; u++)
          mean += ((2 - Math.abs(u)) * (2 - Math.abs(v)) * values[i + v * width + u]!) / 16;
      }
      return values[i]! - mean;
    };
    let sum = 0;
    for (let y = 1; y < height - 1; y++) {
      for (let x = 1; x < width - 1; x++) {
        const i = y * width + x;
        const d = detail(difference, i);
        if (Number.isNaN(d) || mirrors[i] === 1) continue;
        sum += ((d + detail(twice, i)) / noiseK) ** 2;
      }
    }
    const priorK = Math.sqrt(patternSigmaK ** 2 - noiseK ** 2 / 2);
    for (let i = 0; i < share.length; i++) {
      if (share[i] !== 0) sum += (h[i]! / (share[i]! * priorK)) ** 2;
    }
    return sum;
  }

  it.each([
    ["a shift of whole pixels", shift(2, -1)],
    ["a shift of parts of pixels", shift(-1.3, 0.6)],
    ["a shift and a turn", shift(0.7, 1.2, 0.06)],
  ])("%s: with steps enough no change of the pattern makes the sum smaller", (_, transform) => {
    const best = hiddenPattern(transform, 400);
    const least = penalty(best, transform);
    expect(least).toBeLessThan(0.9 * penalty(new Float32Array(best.length), transform));
    const own = makeRandom("directions");
    for (let trial = 0; trial < 60; trial++) {
      // Single pixels and whole pictures, where there is hidden pattern.
      const one = own.integer(0, best.length - 1);
      const along = Float64Array.from(best, (_, i) =>
        share[i] === 0 || (trial < 40 && i !== one) ? 0 : own.normal(),
      );
      const size = Math.sqrt(along.reduce((a, b) => a + b * b, 0));
      if (size === 0) continue;
      const moved = (step: number) =>
        penalty(
          Float64Array.from(best, (h, i) => h + (step * along[i]!) / size),
          transform,
        );
      // A quadratic: three values give slope and curvature as they are. The lowest point lies a millikelvin off at
      // most.
      const step = 0.05;
      const slope = (moved(step) - moved(-step)) / (2 * step);
      const curvature = (moved(step) + moved(-step) - 2 * least) / (step * step);
      expect(curvature).toBeGreaterThan(0);
      expect(Math.abs(slope / curvature)).toBeLessThan(1e-3 * patternSigmaK);
    }
  });

  it("each step of the default number comes nearer, and it ends short of fitting the noise", () => {
    const transform = shift(2, -1);
    const values = [1, 2, 4, RESOLVE_PATTERN_DEFAULTS.steps, 400].map((steps) =>
      penalty(hiddenPattern(transform, steps), transform),
    );
    for (let k = 1; k < values.length; k++)
      expect(values[k]!).toBeLessThanOrEqual(values[k - 1]! * (1 + 1e-6));
  });
});
