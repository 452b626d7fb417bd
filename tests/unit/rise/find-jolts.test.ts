import { describe, expect, it } from "vitest";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { findJolts } from "../../../src/rise/find-jolts.js";
import { makeRandom } from "../../simulate/random.js";

const [width, height, count] = [128, 96, 14];

/** A board with parts over a cooler table, a common offset that wanders, a fixed pattern, and one part that heats. */
function burst(
  place: (k: number) => readonly [number, number],
  change: (value: number, k: number, x: number, y: number) => number = (value) => value,
  heatK = 4,
): Raster<"degC">[] {
  const random = makeRandom("jolts");
  const pattern = Float32Array.from({ length: width * height }, () => 0.1 * random.normal());
  const step = (d: number) => 1 / (1 + Math.exp(-d / 0.8));
  const box = (u: number, v: number, x0: number, y0: number, x1: number, y1: number) =>
    step(u - x0) * step(x1 - u) * step(v - y0) * step(y1 - v);
  return Array.from({ length: count }, (_, k) => {
    const [dx, dy] = place(k);
    const offset = 0.05 * random.normal();
    const grown = heatK * (Math.log1p(k / 2) / Math.log1p(count / 2));
    const data = Float32Array.from({ length: width * height }, (_, i) => {
      const [x, y] = [i % width, Math.floor(i / width)];
      const [u, v] = [x - dx, y - dy];
      const board =
        2 * box(u, v, 20, 14, 108, 80) - 0.8 * box(u, v, 40, 30, 56, 42) - 0.5 * box(u, v, 70, 50, 90, 66);
      // The heat lies across the corner of a part, where it pulls at edges most.
      const heat = grown * Math.exp(-((u - 55) ** 2 + (v - 42) ** 2) / (2 * 4 ** 2));
      return change(23 + board + heat + offset + pattern[i]! + 0.05 * random.normal(), k, x, y);
    });
    return createRaster("degC", width, height, data);
  });
}

describe("findJolts", () => {
  it("a burst at rest, with strong heat over edges: all frames are kept", () => {
    const { kept, odd } = findJolts(burst(() => [0, 0], undefined, 8));
    expect(kept).toEqual(Array.from({ length: count }, (_, k) => k));
    expect(odd).toEqual([]);
  });

  it("one frame that was jolted is left out, with how far", () => {
    const { kept, odd } = findJolts(burst((k) => (k === 5 ? [0.8, -0.5] : [0, 0])));
    expect(odd.map(({ index }) => index)).toEqual([5]);
    // √(0.8² + 0.5²) = 0.94; a linear estimate on cells of two pixels is good to a fifth.
    expect(odd[0]!.shiftPx).toBeGreaterThan(0.75);
    expect(odd[0]!.shiftPx).toBeLessThan(1.15);
    expect(kept).not.toContain(5);
    expect(kept).toHaveLength(count - 1);
  });

  it("a board pushed during the burst: the longer part is kept", () => {
    const early = findJolts(burst((k) => (k < 4 ? [0, 0] : [1.4, 0.7])));
    expect(early.odd.map(({ index }) => index)).toEqual([0, 1, 2, 3]);
    const late = findJolts(burst((k) => (k < 10 ? [0, 0] : [-3.2, 1.9])));
    expect(late.odd.map(({ index }) => index)).toEqual([10, 11, 12, 13]);
  });

  it("pushed and put back: both stretches at the first place are kept together", () => {
    const { odd } = findJolts(burst((k) => (k >= 6 && k < 9 ? [0, 1.1] : [0, 0])));
    expect(odd.map(({ index }) => index)).toEqual([6, 7, 8]);
  });

  it("movement that blurs nothing is let pass", () => {
    expect(findJolts(burst((k) => [k > 7 ? 0.08 : 0, 0])).odd).toEqual([]);
  });

  it("something over a good part of the picture in one frame is left out without a distance", () => {
    const hand = burst(
      () => [0, 0],
      (value, k, x, y) =>
        k === 8 && x > 70 && y > 10 ? 24 + 0.3 * Math.sin(x / 3) + Math.sin(y / 4) : value,
    );
    expect(findJolts(hand).odd).toEqual([{ index: 8, shiftPx: null }]);
  });

  it("a picture without edges, and a very short burst: nothing is left out", () => {
    const random = makeRandom("bare");
    const bare = Array.from({ length: 6 }, () =>
      createRaster(
        "degC",
        width,
        height,
        Float32Array.from({ length: width * height }, () => 22 + 0.05 * random.normal()),
      ),
    );
    expect(findJolts(bare).odd).toEqual([]);
    expect(findJolts(burst((k) => [k, 0]).slice(0, 3)).odd).toEqual([]);
  });

  it("leaves the frames as they are", () => {
    const frames = burst(() => [0, 0]);
    const copy = frames.map(({ data }) => data.slice());
    findJolts(frames);
    frames.forEach(({ data }, k) => {
      expect(data).toEqual(copy[k]);
    });
  });
});
