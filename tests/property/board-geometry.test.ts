// Laws of polygons and of what they cover.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyHomography, type Matrix3 } from "../../src/board/plane-transform.js";
import { centroid, type Point, pointInPolygon, signedArea } from "../../src/board/polygon.js";
import { findSelfCrossing } from "../../src/board/polygon-crossing.js";
import { distanceToEdges, distanceToPolygon } from "../../src/board/polygon-distance.js";
import { polygonToFrame, rasterisePolygon } from "../../src/board/rasterise-polygon.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Corners around a centre at growing angles: simple, mostly concave. */
const star = fc
  .record({
    x: number(-20, 60),
    y: number(-15, 50),
    radii: fc.array(number(1, 25), { minLength: 3, maxLength: 11 }),
  })
  .map(({ x, y, radii }) =>
    radii.map((radius, i): Point => {
      const angle = (2 * Math.PI * i) / radii.length + 0.1;
      return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
    }),
  );
const place = fc.tuple(number(-40, 80), number(-40, 80)).map(([x, y]): Point => [x, y]);

describe("polygons", () => {
  it("a star does not cross itself; with two neighbours of a square exchanged it does", () => {
    fc.assert(
      fc.property(star, (polygon) => {
        expect(findSelfCrossing(polygon)).toBeNull();
      }),
    );
    fc.assert(
      fc.property(number(0, 2 * Math.PI), number(0.1, 50), place, (angle, size, [x, y]) => {
        const corner = (k: number): Point => [
          x + size * Math.cos(angle + (k * Math.PI) / 2),
          y + size * Math.sin(angle + (k * Math.PI) / 2),
        ];
        expect(findSelfCrossing([corner(1), corner(0), corner(2), corner(3)])).not.toBeNull();
      }),
    );
  });

  it("inside stays inside under a turn and a change of scale by 1e±6", () => {
    fc.assert(
      fc.property(
        star,
        place,
        number(0, 2 * Math.PI),
        fc.constantFrom(1e-6, 1, 1e6),
        (polygon, point, angle, scale) => {
          // Rounding decides on the edge itself, so points within 1e-9 of the extent of it are left out.
          fc.pre(distanceToEdges(point, polygon) > 1e-7);
          const turn = ([x, y]: Point): Point => [
            scale * (x * Math.cos(angle) - y * Math.sin(angle)),
            scale * (x * Math.sin(angle) + y * Math.cos(angle)),
          ];
          expect(pointInPolygon(polygon.map(turn), turn(point))).toBe(pointInPolygon(polygon, point));
        },
      ),
    );
  });

  it("area scales with the square, turns its sign with the sense, and does not depend on the first corner", () => {
    fc.assert(
      fc.property(star, fc.nat(10), (polygon, start) => {
        const area = signedArea(polygon);
        const k = start % polygon.length;
        // Sums of a few products of up to 1e3 each: 1e-10 is 1e3 times their rounding.
        expect(signedArea([...polygon.slice(k), ...polygon.slice(0, k)])).toBeCloseTo(area, 9);
        expect(signedArea([...polygon].reverse())).toBeCloseTo(-area, 9);
        expect(signedArea(polygon.map(([x, y]) => [3e6 * x, 3e6 * y])) / 9e12).toBeCloseTo(area, 9);
        const [x, y] = centroid(polygon);
        const [u, v] = centroid(polygon.map(([a, b]): Point => [a + 7, b - 5]));
        expect(Math.hypot(u - x - 7, v - y + 5)).toBeLessThan(1e-9);
      }),
    );
  });

  it("the distance is 0 exactly inside, and changes no faster than the point moves", () => {
    fc.assert(
      fc.property(star, place, place, (polygon, a, b) => {
        const one = distanceToPolygon(a, polygon);
        expect(one === 0).toBe(pointInPolygon(polygon, a));
        const moved = Math.hypot(a[0] - b[0], a[1] - b[1]);
        expect(Math.abs(one - distanceToPolygon(b, polygon))).toBeLessThanOrEqual(moved + 1e-9);
      }),
    );
  });
});

describe("coverage", () => {
  const WIDTH = 61;
  const HEIGHT = 47;
  const view = fc
    .tuple(number(0.2, 0.6), number(-0.2, 0.2), number(-1e-3, 1e-3), number(-1e-3, 1e-3), fc.boolean())
    .map(([scale, shear, g, h, mirrored]) => {
      const matrix: Matrix3 = [
        mirrored ? -scale : scale,
        shear,
        mirrored ? 40 : 20,
        shear / 2,
        scale,
        16,
        g,
        h,
        1,
      ];
      return { matrix };
    });

  it("sums to the polygon's area in px²", () => {
    fc.assert(
      fc.property(view, star, (camera, polygon) => {
        const corners = polygonToFrame(camera, polygon);
        fc.pre(corners.every(([x, y]) => x > -0.5 && y > -0.5 && x < WIDTH - 0.5 && y < HEIGHT - 0.5));
        const { coverage } = rasterisePolygon(camera, polygon, WIDTH, HEIGHT);
        const sum = coverage.reduce((total, share) => total + share, 0);
        // Each share is rounded to float32 (3e-8): over 2867 pixels at most 1e-4.
        expect(sum).toBeCloseTo(Math.abs(signedArea(corners)), 4);
      }),
    );
  });

  it("is 1 in pixels deep inside, 0 in those well outside, and near the share of a 16 × 16 grid between", () => {
    fc.assert(
      fc.property(view, star, (camera, polygon) => {
        const corners = polygonToFrame(camera, polygon);
        const part = rasterisePolygon(camera, polygon, WIDTH, HEIGHT);
        for (let y = 0; y < HEIGHT; y += 3) {
          for (let x = 0; x < WIDTH; x += 2) {
            const column = x - part.x0;
            const row = y - part.y0;
            const inWindow = column >= 0 && row >= 0 && column < part.width && row < part.height;
            const share = inWindow ? part.coverage[row * part.width + column]! : 0;
            // A pixel's corners are 0.7072 px from its centre.
            if (distanceToEdges([x, y], corners) > 0.7072) {
              expect(share).toBe(pointInPolygon(corners, [x, y]) ? 1 : 0);
            } else {
              // Each edge that passes leaves at most two cells a row undecided, by half: 1/16 for each edge; a star's
              // tip brings two edges into one pixel, seldom more.
              expect(Math.abs(share - gridShare(corners, x, y))).toBeLessThan(0.2);
            }
          }
        }
      }),
      { numRuns: 30 },
    );
  });

  function gridShare(corners: readonly Point[], x: number, y: number): number {
    let inside = 0;
    for (let j = 0; j < 16; j++) {
      for (let i = 0; i < 16; i++) {
        if (pointInPolygon(corners, [x + (i - 7.5) / 16, y + (j - 7.5) / 16])) inside++;
      }
    }
    return inside / 256;
  }

  it("windows of one polygon agree in frames of different sizes", () => {
    fc.assert(
      fc.property(star, (polygon) => {
        const camera = { matrix: [1, 0, 0, 0, 1, 0, 0, 0, 1] };
        const large = rasterisePolygon(camera, polygon, 90, 80);
        const small = rasterisePolygon(camera, polygon, 23, 17);
        for (let y = 0; y < small.height; y++) {
          for (let x = 0; x < small.width; x++) {
            const row = small.y0 + y - large.y0;
            const column = small.x0 + x - large.x0;
            expect(small.coverage[y * small.width + x]).toBeCloseTo(
              large.coverage[row * large.width + column]!,
              6,
            );
          }
        }
      }),
    );
  });

  it("polygons are mapped corner by corner where no horizon is near", () => {
    fc.assert(
      fc.property(view, star, (camera, polygon) => {
        expect(polygonToFrame(camera, polygon)).toEqual(
          polygon.map((corner) => applyHomography(camera.matrix, corner)),
        );
      }),
    );
  });
});
