import { describe, expect, it } from "vitest";
import { affineOf, afterMovement, backOf, movePoint } from "../../../src/align/rigid-transform.js";
import { framePoint, radians } from "../../../src/core/units.js";

const size = { width: 9, height: 5 };
const still = { dxPx: 0, dyPx: 0, angleRad: radians(0) };

describe("movePoint", () => {
  it("a positive shift moves content right and down", () => {
    const moved = movePoint(framePoint(2, 3), { ...still, dxPx: 1.5, dyPx: 0.25 }, size);
    expect(moved).toEqual([3.5, 3.25]);
  });

  it("a positive quarter turn is clockwise as seen: right goes down, down goes left", () => {
    const quarter = { ...still, angleRad: radians(Math.PI / 2) };
    // The centre of a 9×5 frame is (4, 2), a pixel's centre.
    const right = movePoint(framePoint(7, 2), quarter, size);
    expect(right[0]).toBeCloseTo(4, 12);
    expect(right[1]).toBeCloseTo(5, 12);
    const below = movePoint(framePoint(4, 4), quarter, size);
    expect(below[0]).toBeCloseTo(2, 12);
    expect(below[1]).toBeCloseTo(2, 12);
  });

  it("turns first, about ((w − 1)/2, (h − 1)/2), then shifts: the centre moves by the shift alone", () => {
    const even = { width: 10, height: 6 };
    const moved = movePoint(
      framePoint(4.5, 2.5),
      { dxPx: 3, dyPx: -2, angleRad: radians((37 * Math.PI) / 180) },
      even,
    );
    expect(moved[0]).toBeCloseTo(7.5, 12);
    expect(moved[1]).toBeCloseTo(0.5, 12);
  });
});

describe("affineOf", () => {
  it("is the same map, x′ = a·x + b·y + c and y′ = d·x + e·y + f", () => {
    const transform = { dxPx: -0.8, dyPx: 2.1, angleRad: radians(-0.2) };
    const [a, b, c, d, e, f] = affineOf(transform, size);
    const moved = movePoint(framePoint(6, 1), transform, size);
    expect(moved).toEqual([a * 6 + b * 1 + c, d * 6 + e * 1 + f]);
    // A turn keeps areas.
    expect(a * e - b * d).toBeCloseTo(1, 14);
  });
});

describe("afterMovement and backOf", () => {
  const first = { dxPx: 1.25, dyPx: -0.5, angleRad: radians(0.3) };
  const then = { dxPx: -2, dyPx: 0.75, angleRad: radians(-0.8) };

  it("one movement after the other brings a point where both do", () => {
    const point = framePoint(7.5, 1.25);
    const both = movePoint(movePoint(point, first, size), then, size);
    const once = movePoint(point, afterMovement(first, then), size);
    expect(once[0]).toBeCloseTo(both[0], 12);
    expect(once[1]).toBeCloseTo(both[1], 12);
  });

  it("a movement and its way back are none", () => {
    const none = afterMovement(first, backOf(first));
    expect(none.dxPx).toBeCloseTo(0, 12);
    expect(none.dyPx).toBeCloseTo(0, 12);
    expect(none.angleRad).toBeCloseTo(0, 12);
  });
});
