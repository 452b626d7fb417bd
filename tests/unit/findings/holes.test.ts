// Pixels without a reading: how many are inside the picture, and how far off they may hide a source.
import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { framePoint } from "../../../src/core/units.js";
import { countHiddenPixels } from "../../../src/findings/count-hidden-pixels.js";
import type { PreparedPair } from "../../../src/findings/prepare-pair.js";
import { reachOfHole } from "../../../src/findings/reach-of-hole.js";

const [W, H] = [30, 20];
/** A rise of 1 K with holes where `isHole` says. */
function rise(isHole: (x: number, y: number) => boolean) {
  const data = Float32Array.from({ length: W * H }, (_, i) =>
    isHole(i % W, Math.floor(i / W)) ? Number.NaN : 1,
  );
  return createRaster("K", W, H, data);
}
const pair = (isHole: (x: number, y: number) => boolean): PreparedPair =>
  ({ rise: rise(isHole), shape: { width: W, height: H } }) as PreparedPair;

describe("countHiddenPixels", () => {
  it("counts holes inside, and none that reach the edge", () => {
    expect(countHiddenPixels(rise(() => false))).toBe(0);
    expect(countHiddenPixels(rise((x, y) => x >= 7 && x < 10 && y >= 4 && y < 8))).toBe(12);
    expect(countHiddenPixels(rise((x, y) => x < 3 || (x === 3 && y === 9)))).toBe(0);
    expect(countHiddenPixels(rise((x, y) => x === W - 1 || y === 0 || (x === 12 && y === 13)))).toBe(1);
    expect(countHiddenPixels(rise(() => true))).toBe(0);
  });
});

describe("reachOfHole", () => {
  const hole = (x: number, y: number) => x >= 10 && x <= 13 && y >= 6 && y <= 8;
  it("gives the distance to the farthest pixel of a hole beside the place", () => {
    expect(reachOfHole(pair(hole), framePoint(8, 7), null)).toBeCloseTo(Math.hypot(5, 1), 9);
    // A wider spot feels a hole farther off.
    expect(reachOfHole(pair(hole), framePoint(4, 7), 1)).toBe(0);
    expect(reachOfHole(pair(hole), framePoint(4, 7), 3.5)).toBeCloseTo(Math.hypot(9, 1), 9);
  });
  it("passes over a few dead pixels, and what reaches the edge of the frame", () => {
    expect(
      reachOfHole(
        pair((x, y) => y === 7 && x >= 9 && x <= 12),
        framePoint(8, 7),
        null,
      ),
    ).toBe(0);
    expect(
      reachOfHole(
        pair((x, y) => y >= 9 && x >= 5),
        framePoint(8, 7),
        null,
      ),
    ).toBe(0);
  });
});
