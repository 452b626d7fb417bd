import { describe, expect, it } from "vitest";
import type { RigidTransform } from "../../../src/align/rigid-transform.js";
import { type SeparatedFrame, separatePattern } from "../../../src/align/separate-pattern.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { radians } from "../../../src/core/units.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { resolvePattern } from "../../../src/rise/resolve-pattern.js";
import { subtractFrames } from "../../../src/rise/subtract-frames.js";
import { makeRandom } from "../../simulate/random.js";

const shift = (dxPx: number, dyPx: number, angleRad = 0): RigidTransform => ({
  dxPx,
  dyPx,
  angleRad: radians(angleRad),
});
const rms = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);

describe("resolvePattern on a moved pair with the sensor's pattern hidden at edges", () => {
  const width = 96;
  const height = 80;
  const NOISE_K = 0.03;
  const PATTERN_K = 0.12;
  const OPTICS_PX = 1;
  const noLines = { columnsK: new Float64Array(width), rowsK: new Float64Array(height) };
  const random = makeRandom("hidden pattern");
  const boxes = Array.from({ length: 26 }, () => ({
    x: random.uniform(4, 84),
    y: random.uniform(4, 68),
    w: random.uniform(4, 13),
    h: random.uniform(3, 10),
    k: random.uniform(-2, 2),
  }));

  /** Parts with sharp outlines as the optics show them, moved. Edges are drawn to a quarter of a pixel. */
  function scene(dx: number, dy: number): Float32Array {
    const fine = 4;
    const sharp = new Float32Array(width * height).fill(24);
    for (let i = 0; i < sharp.length; i++) {
      for (let k = 0; k < fine * fine; k++) {
        const x = (i % width) + ((k % fine) + 0.5) / fine - 0.5 - dx;
        const y = Math.floor(i / width) + (Math.floor(k / fine) + 0.5) / fine - 0.5 - dy;
        for (const b of boxes) {
          if (x >= b.x && x < b.x + b.w && y >= b.y && y < b.y + b.h) sharp[i]! += b.k / (fine * fine);
        }
      }
    }
    return gaussianFilter(sharp, width, height, OPTICS_PX);
  }
  interface Spot {
    readonly x: number;
    readonly y: number;
    readonly k: number;
    readonly sigmaPx: number;
  }
  const pattern = Float32Array.from({ length: width * height }, () => PATTERN_K * random.normal());
  const still = scene(0, 0);

  /** A pair that was nudged, with a spot of heat, or none, and its rise before and after the pattern is resolved. */
  function pair(transform: RigidTransform, spot: Spot | null) {
    const own = makeRandom("noise of the pair");
    const { dxPx, dyPx } = transform;
    const moved = scene(dxPx, dyPx);
    const baseline = createRaster("degC", width, height);
    const powered = createRaster("degC", width, height);
    for (let i = 0; i < still.length; i++) {
      const r2 =
        spot === null
          ? Number.POSITIVE_INFINITY
          : ((i % width) - spot.x - dxPx) ** 2 + (Math.floor(i / width) - spot.y - dyPx) ** 2;
      const heat = spot === null ? 0 : spot.k * Math.exp(-r2 / (2 * spot.sigmaPx ** 2));
      baseline.data[i] = still[i]! + pattern[i]! + NOISE_K * Math.SQRT1_2 * own.normal();
      powered.data[i] = moved[i]! + heat + pattern[i]! + NOISE_K * Math.SQRT1_2 * own.normal();
    }
    const separated = separatePattern(baseline, noLines);
    const first = subtractFrames(separated, powered, transform);
    const resolved = resolvePattern(separated, first, transform, NOISE_K, null);
    return { separated, resolved, first, second: subtractFrames(resolved, powered, transform) };
  }

  /** Pixels of edges, well inside the frame, away from a spot. */
  const atEdges = ({ sceneShare }: SeparatedFrame, values: Raster<"K">): number[] =>
    [...values.data].filter((_, i) => {
      const x = i % width;
      const y = Math.floor(i / width);
      return sceneShare[i]! > 0.9 && x > 7 && y > 7 && x < width - 8 && y < height - 8;
    });

  it.each([
    [2, 1],
    [-1.4, 0.6],
    [3.3, -2.2],
  ])("a shift of %f, %f px: the pattern's noise at edges falls by a third or more", (dx, dy) => {
    const { separated, first, second } = pair(shift(dx, dy), null);
    const before = atEdges(separated, first);
    const after = atEdges(separated, second);
    expect(before.length).toBeGreaterThan(500);
    // The pattern stands twice in the difference: 0.17 K. What a few steps leave of it is its smooth part.
    expect(rms(before)).toBeGreaterThan(PATTERN_K);
    expect(rms(after)).toBeLessThan(0.67 * rms(before));
  });

  it("where nothing was hidden nothing changes, and baseline stays scene plus pattern everywhere", () => {
    const { separated, resolved } = pair(shift(2, 1), null);
    let changed = 0;
    separated.sceneShare.forEach((share, i) => {
      const moved = resolved.pattern.data[i]! - separated.pattern.data[i]!;
      if (share === 0) expect(moved).toBe(0);
      else if (moved !== 0) changed++;
      const sum = separated.scene.data[i]! + separated.pattern.data[i]!;
      // Four roundings of single precision at 25 °C.
      expect(Math.abs(resolved.scene.data[i]! + resolved.pattern.data[i]! - sum)).toBeLessThan(1e-5);
    });
    expect(changed).toBeGreaterThan(500);
    expect(resolved.sceneShare).toBe(separated.sceneShare);
    expect(resolved.patternSigmaK).toBe(separated.patternSigmaK);
  });

  it("what it finds is the pattern: more of it than of anything else", () => {
    const { separated, resolved } = pair(shift(2, 1), null);
    let along = 0;
    let own = 0;
    let found = 0;
    separated.sceneShare.forEach((share, i) => {
      if (share < 0.9) return;
      const moved = resolved.pattern.data[i]! - separated.pattern.data[i]!;
      along += moved * pattern[i]!;
      own += pattern[i]! ** 2;
      found += moved ** 2;
    });
    // 0.7² is half: of the squares of what it finds more is pattern than is not.
    expect(along / Math.sqrt(own * found)).toBeGreaterThan(0.7);
  });

  /** Height of a spot of heat on an edge, as the product with its known shape: before and after, per kelvin. */
  function spotHeights(sigmaPx: number): readonly [number, number] {
    const edge = boxes[3]!;
    const spot = { x: Math.round(edge.x), y: Math.round(edge.y + edge.h / 2), k: 1, sigmaPx };
    const transform = shift(2, 1);
    const cold = pair(transform, null);
    const hot = pair(transform, spot);
    const heightOf = (warm: Raster<"K">, without: Raster<"K">): number => {
      let product = 0;
      let norm = 0;
      for (let v = -6; v <= 6; v++) {
        for (let u = -6; u <= 6; u++) {
          const shape = Math.exp(-(u * u + v * v) / (2 * sigmaPx ** 2));
          const i = (spot.y + v) * width + spot.x + u;
          product += shape * (warm.data[i]! - without.data[i]!);
          norm += shape * shape;
        }
      }
      return product / norm;
    };
    return [heightOf(hot.first, cold.first), heightOf(hot.second, cold.second)];
  }

  it.each([
    // A part of four pixels and more: some per cent.
    [2, 0.95],
    // One of three pixels: a tenth.
    [1.5, 0.88],
    // A point as the optics show it: finer detail than the averaging spares is taken for pattern, up to a third.
    [OPTICS_PX, 0.67],
  ])("a spot of heat of σ = %f px on an edge keeps its height, or %f of it at least", (sigmaPx, share) => {
    const [before, after] = spotHeights(sigmaPx);
    expect(Math.abs(before - 1)).toBeLessThan(0.05);
    expect(after / before).toBeGreaterThan(share);
    expect(after / before).toBeLessThan(1.02);
  });

  it("the smallest spot stands out of the noise at edges more than before, whatever it loses", () => {
    const [before, after] = spotHeights(OPTICS_PX);
    const { separated, first, second } = pair(shift(2, 1), null);
    const noise = rms(atEdges(separated, second)) / rms(atEdges(separated, first));
    expect(after / before / noise).toBeGreaterThan(1.3);
  });
});
