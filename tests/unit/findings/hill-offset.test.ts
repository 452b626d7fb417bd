import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { framePoint } from "../../../src/core/units.js";
import { heatAt, heatInViews, type ViewHeat } from "../../../src/findings/heat-in-view.js";
import { hillOffset } from "../../../src/findings/hill-offset.js";
import { locateSource } from "../../../src/hotspots/locate-source.js";

/** A hill of a few pixels' width around a place; nothing left of a board's edge. */
function hillAt(x0: number, y0: number, edge = Number.NEGATIVE_INFINITY): ViewHeat {
  const data = Float32Array.from({ length: 120 * 90 }, (_, i) => {
    const [x, y] = [i % 120, Math.floor(i / 120)];
    return x < edge ? 0 : 2 * Math.exp(-((x - x0) ** 2 + (y - y0) ** 2) / 50);
  });
  return { rise: createRaster("K", 120, 90, data), factor: 1 };
}

describe("hillOffset", () => {
  it("is none of an even hill, and points away from an edge that cuts one", () => {
    const [dx, dy] = hillOffset(hillAt(60.3, 41.8), framePoint(60.3, 41.8), 3)!;
    expect(Math.hypot(dx, dy)).toBeLessThan(0.02);
    const cut = hillOffset(hillAt(60, 42, 58), framePoint(60, 42), 3)!;
    expect(cut[0]).toBeGreaterThan(0.5);
    expect(Math.abs(cut[1])).toBeLessThan(0.02);
  });

  it("ends at the frame's border as the frame's own hill does", () => {
    const heat = hillAt(2, 42);
    // In a frame that goes on to the left the hill is whole.
    const [dx] = hillOffset(heat, framePoint(2, 42), 3)!;
    const measured = locateSource(heat.rise, framePoint(2, 42), 0.01, {
      startWindowPx: 3,
      minWindowPx: 3,
      maxWindowPx: 3,
    });
    expect(dx).toBeCloseTo(measured.at[0] - 2, 1);
  });

  it("leads from the source to the hill beside it, and to none that is too far", () => {
    const [dx, dy] = hillOffset(hillAt(60, 42), framePoint(58, 43), 4)!;
    expect([dx, dy].map((d) => Math.round(10 * d) / 10)).toEqual([2, -1]);
    expect(hillOffset(hillAt(60, 42), framePoint(44, 42), 4)).toBeNull();
  });
});

describe("heatInViews", () => {
  it("parts what was fitted view by view, and reads blocks at their centres", () => {
    // Two large frames are fitted by blocks of 2×2 and one more pixel.
    const frames = [
      { width: 241, height: 180 },
      { width: 240, height: 181 },
    ];
    const blocks = (frame: number) => Math.floor(240 / frame) * Math.floor(180 / frame);
    const factor = 2;
    const heat = Float32Array.from({ length: 2 * blocks(factor) }, (_, i) => i);
    const [first, second] = heatInViews(heat, frames);
    expect([first!.factor, second!.factor]).toEqual([factor, factor]);
    expect(second!.rise.data[0]).toBe(blocks(factor));
    const middle = (factor - 1) / 2;
    expect(heatAt(first!, middle, middle)).toBe(0);
    expect(heatAt(first!, middle + factor, middle)).toBe(1);
    expect(heatAt(first!, middle + factor / 2, middle)).toBeCloseTo(0.5, 6);
  });
});
