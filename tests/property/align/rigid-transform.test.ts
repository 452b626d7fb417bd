// Laws of the rigid transform.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { movePoint } from "../../../src/align/rigid-transform.js";
import { framePoint, radians } from "../../../src/core/units.js";

const finite = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const transform = fc.record({
  dxPx: finite(-60, 60),
  dyPx: finite(-60, 60),
  angleRad: finite(-Math.PI, Math.PI).map(radians),
});
const size = fc.record({ width: fc.integer({ min: 1, max: 640 }), height: fc.integer({ min: 1, max: 480 }) });
const point = fc.tuple(finite(-50, 700), finite(-50, 500)).map(([x, y]) => framePoint(x, y));
// Coordinates below 1500 px and a dozen roundings of 2e-16 each: 4e-12.
const ROUNDING_PX = 1e-10;

describe("rigid transforms", () => {
  it("distances stay as they are", () => {
    fc.assert(
      fc.property(point, point, transform, size, (p, q, t, s) => {
        const [a, b] = [movePoint(p, t, s), movePoint(q, t, s)];
        const before = Math.hypot(p[0] - q[0], p[1] - q[1]);
        const after = Math.hypot(a[0] - b[0], a[1] - b[1]);
        expect(Math.abs(after - before)).toBeLessThan(ROUNDING_PX);
      }),
    );
  });

  it("two turns about the centre add up", () => {
    fc.assert(
      fc.property(point, finite(-3, 3), finite(-3, 3), size, (p, a, b, s) => {
        const turn = (angle: number) => ({ dxPx: 0, dyPx: 0, angleRad: radians(angle) });
        const twice = movePoint(movePoint(p, turn(a), s), turn(b), s);
        const once = movePoint(p, turn(a + b), s);
        expect(Math.hypot(twice[0] - once[0], twice[1] - once[1])).toBeLessThan(ROUNDING_PX);
      }),
    );
  });
});
