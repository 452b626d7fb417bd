import { describe, expect, it } from "vitest";
import { coarseShift } from "../../../src/align/coarse-shift.js";
import { makeRandom } from "../../simulate/random.js";

const width = 40;
const height = 30;

/** White detail, and the same moved by whole pixels; what enters from outside is new detail. */
function movedDetail(seed: string, dx: number, dy: number): { template: Float32Array; moving: Float32Array } {
  const random = makeRandom(seed);
  const fresh = () => Float32Array.from({ length: width * height }, () => random.normal());
  const template = fresh();
  const moving = fresh();
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const u = x - dx;
      const v = y - dy;
      if (u >= 0 && v >= 0 && u < width && v < height) moving[y * width + x] = template[v * width + u]!;
    }
  }
  return { template, moving };
}

const search = (template: Float32Array, moving: Float32Array, cellPx: number, maxShiftPx: number) =>
  coarseShift([template], moving, width, height, { cellPx, maxShiftPx, scaleK: 1 });

describe("coarseShift", () => {
  it.each([
    [0, 0],
    [3, 0],
    [0, -4],
    [-6, 5],
    [7, 7],
    [-7, -2],
  ])("finds a shift of (%i, %i): right and down are positive", (dx, dy) => {
    const { template, moving } = movedDetail(`${dx} ${dy}`, dx, dy);
    const found = search(template, moving, 1, 7);
    expect([found.dxPx, found.dyPx]).toEqual([dx, dy]);
    // Equal pixels cost nothing; those that left the picture cost less than 1 each.
    const left = 1 - (1 - Math.abs(dx) / width) * (1 - Math.abs(dy) / height);
    expect(found.cost).toBeLessThanOrEqual(left);
  });

  it("on cells of 3 px the shift comes in multiples of 3 px", () => {
    const { template, moving } = movedDetail("cells", 6, -3);
    expect(search(template, moving, 3, 9)).toMatchObject({ dxPx: 6, dyPx: -3 });
  });

  it("a strong hot spot counts as so many pixels that don't fit, and no more", () => {
    const { template, moving } = movedDetail("hot", 4, 2);
    for (let y = 8; y < 14; y++) for (let x = 10; x < 18; x++) moving[y * width + x]! += 500;
    expect(search(template, moving, 1, 6)).toMatchObject({ dxPx: 4, dyPx: 2 });
  });

  it("pixels without a reading drop out", () => {
    const { template, moving } = movedDetail("holes", -5, 3);
    const random = makeRandom("which holes");
    for (let i = 0; i < template.length; i++) {
      if (random.chance(0.3)) template[i] = Number.NaN;
      if (random.chance(0.3)) moving[i] = Number.NaN;
    }
    expect(search(template, moving, 1, 6)).toMatchObject({ dxPx: -5, dyPx: 3 });
  });

  it("nothing to compare: no shift, at full cost", () => {
    const nothing = new Float32Array(width * height).fill(Number.NaN);
    expect(search(nothing, nothing, 1, 5)).toEqual({ dxPx: 0, dyPx: 0, cost: 1 });
  });

  it("the cost lies between 0 and 1 for unrelated pictures", () => {
    const { cost } = search(movedDetail("a", 0, 0).template, movedDetail("b", 0, 0).template, 1, 5);
    // Equal pictures cost nothing, as above.
    expect(cost).toBeGreaterThan(0.1);
    expect(cost).toBeLessThan(1);
  });

  it("never tries a shift that leaves less than half of the frame", () => {
    const near = movedDetail("near", 18, 0);
    expect(search(near.template, near.moving, 1, 1000)).toMatchObject({ dxPx: 18, dyPx: 0 });
    // Where the detail moved farther, it is not found.
    const far = movedDetail("far", 26, 0);
    const { dxPx, dyPx } = search(far.template, far.moving, 1, 1000);
    expect(Math.abs(dxPx)).toBeLessThanOrEqual(width / 2);
    expect(Math.abs(dyPx)).toBeLessThanOrEqual(height / 2);
  });
});
