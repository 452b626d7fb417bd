import { describe, expect, it } from "vitest";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import type { CoverageWindow } from "../../../src/sources/coverage-window.js";
import { patchFace } from "../../../src/sources/patch-face.js";
import { makeRandom } from "../../simulate/random.js";

const width = 96;
const height = 70;
const LEVEL_K = 0.4;

type Rectangle = readonly [left: number, top: number, right: number, bottom: number];

/** A level with rectangles, both ends included, that changed by so much, and noise. */
function changed(faces: readonly (readonly [Rectangle, number])[], noiseK = 0.02): Raster<"K"> {
  const random = makeRandom("patches");
  const data = Float32Array.from({ length: width * height }, (_, i) => {
    const x = i % width;
    const y = Math.floor(i / width);
    const face = faces.find(([[l, t, r, b]]) => x >= l && x <= r && y >= t && y <= b);
    return LEVEL_K + (face?.[1] ?? 0) + noiseK * random.normal();
  });
  return createRaster("K", width, height, data);
}

/** Pixels of the frame that the face has. */
function pixelsOf({ x0, y0, width: w, coverage }: CoverageWindow): Set<number> {
  const out = new Set<number>();
  coverage.forEach((share, k) => {
    if (share > 0) out.add((y0 + Math.floor(k / w)) * width + x0 + (k % w));
  });
  return out;
}

const inside = (pixels: Set<number>, [l, t, r, b]: Rectangle): number =>
  [...pixels].filter((i) => {
    const x = i % width;
    const y = Math.floor(i / width);
    return x >= l && x <= r && y >= t && y <= b;
  }).length;

describe("patchFace", () => {
  const face: Rectangle = [40, 21, 55, 29];

  it("takes in what changed with the peak, to a pixel at its edge, whatever the size of the change", () => {
    for (const changeK of [0.5, 4, 20]) {
      const pixels = pixelsOf(patchFace(changed([[face, changeK]]), 47, 25, LEVEL_K, 5));
      expect(inside(pixels, face)).toBe(16 * 9);
      // Smoothing carries three tenths of the change 0.4 px beyond the edge, where the level's noise may add a pixel.
      expect(pixels.size).toBe(inside(pixels, [39, 20, 56, 30]));
    }
  });

  it("another face that changed as much stays out, unless it touches", () => {
    const apart: Rectangle = [60, 21, 70, 29];
    const touching: Rectangle = [56, 23, 66, 27];
    const alone = pixelsOf(
      patchFace(
        changed([
          [face, 3],
          [apart, 3],
        ]),
        47,
        25,
        LEVEL_K,
        5,
      ),
    );
    expect(inside(alone, apart)).toBe(0);
    const both = pixelsOf(
      patchFace(
        changed([
          [face, 3],
          [touching, 3],
        ]),
        47,
        25,
        LEVEL_K,
        5,
      ),
    );
    expect(inside(both, touching)).toBe(11 * 5);
  });

  it("changes of the surroundings themselves are no face: the level is taken off first", () => {
    // 0.4 K of level under a face of 0.6 K: 0.3 of the whole would take in the level.
    const pixels = pixelsOf(patchFace(changed([[face, 0.6]], 0.01), 47, 25, LEVEL_K, 5));
    expect(pixels.size).toBeLessThan(18 * 11 + 1);
  });

  it("always holds the peak, even where nothing changed", () => {
    const pixels = pixelsOf(patchFace(changed([]), 11, 60, 5, 2));
    expect(pixels).toEqual(new Set([60 * width + 11]));
  });

  it("leaves the margin around the face and ends at the frame's borders", () => {
    const far = patchFace(changed([[face, 4]], 0), 47, 25, LEVEL_K, 6.2);
    const near = patchFace(changed([[face, 4]], 0), 47, 25, LEVEL_K, 0);
    expect([near.x0 - far.x0, near.y0 - far.y0]).toEqual([7, 7]);
    expect([far.width - near.width, far.height - near.height]).toEqual([14, 14]);
    expect(pixelsOf(far)).toEqual(pixelsOf(near));
    const corner = patchFace(changed([[[90, 63, 95, 69], 4]], 0), 94, 68, LEVEL_K, 9);
    expect([corner.x0 + corner.width, corner.y0 + corner.height]).toEqual([width, height]);
    expect(inside(pixelsOf(corner), [90, 63, 95, 69])).toBe(6 * 7);
  });

  it("goes around pixels without a reading, and leaves the picture as it was", () => {
    const rise = changed([[face, 4]]);
    rise.data[25 * width + 50] = Number.NaN;
    const before = Float32Array.from(rise.data);
    const pixels = pixelsOf(patchFace(rise, 47, 25, LEVEL_K, 5));
    expect(pixels.has(25 * width + 50)).toBe(false);
    expect(inside(pixels, face)).toBe(16 * 9 - 1);
    expect(rise.data).toEqual(before);
  });

  it("a frame that changed as a whole gives no face as large as it", () => {
    const rise = createRaster("K", width, height, new Float32Array(width * height).fill(3));
    const { width: w, height: h } = patchFace(rise, 10, 35, 0, 0);
    expect(w).toBeLessThan(width);
    expect(h).toBeLessThanOrEqual(height);
  });
});
