import { describe, expect, it } from "vitest";
import { edgePlace } from "../../../../src/page/board/edge-place.js";

const box = { x: 100, y: 6, width: 400, height: 250 };

describe("edgePlace", () => {
  it("marks a place in the box where it is, up to the very edge", () => {
    expect(edgePlace([250, 80], box, 9)).toEqual({ at: [250, 80], outward: null });
    expect(edgePlace([499, 80], box, 9)).toEqual({ at: [499, 80], outward: null });
    expect(edgePlace([100, 256], box, 9)).toEqual({ at: [100, 256], outward: null });
  });

  it("marks a place beyond the edge at the edge, with the direction it lies in", () => {
    expect(edgePlace([700, 80], box, 9)).toEqual({ at: [491, 80], outward: 0 });
    expect(edgePlace([250, -40], box, 9)).toEqual({ at: [250, 15], outward: -90 });
    const corner = edgePlace([109 - 60, 15 - 60], box, 9);
    expect(corner.at).toEqual([109, 15]);
    expect(corner.outward).toBeCloseTo(-135, 9);
  });
});
