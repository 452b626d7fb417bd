// Polygon areas, centres and distances from textbook examples and worked by hand (all recomputed).
import { describe, expect, it } from "vitest";
import { centroid, type Point, pointInPolygon, signedArea } from "../../src/board/polygon.js";
import { distanceToPolygon, distanceToSegment } from "../../src/board/polygon-distance.js";

describe("area and centre", () => {
  const cases: { name: string; polygon: Point[]; area: number; centre: Point }[] = [
    {
      name: "concave pentagon, anticlockwise with y up",
      polygon: [
        [1, 6],
        [3, 1],
        [7, 2],
        [4, 4],
        [8, 5],
      ],
      area: 16.5,
      centre: [3.8888888889, 3.6666666667],
    },
    {
      name: "triangle, clockwise",
      polygon: [
        [2, 4],
        [3, -8],
        [1, 2],
      ],
      area: -7,
      centre: [2, -2 / 3],
    },
    {
      name: "L-shape, whose centre lies exactly on its edge",
      polygon: [
        [0, 0],
        [4, 0],
        [4, 1],
        [1, 1],
        [1, 3],
        [0, 3],
      ],
      area: 6,
      centre: [1.5, 1],
    },
    {
      name: "unit square, clockwise",
      polygon: [
        [0, 0],
        [0, 1],
        [1, 1],
        [1, 0],
      ],
      area: -1,
      centre: [0.5, 0.5],
    },
  ];
  for (const { name, polygon, area, centre } of cases) {
    it(name, () => {
      expect(signedArea(polygon)).toBe(area);
      const [x, y] = centroid(polygon);
      expect(x).toBeCloseTo(centre[0], 9);
      expect(y).toBeCloseTo(centre[1], 9);
    });
  }

  it("the L-shape's centre is inside by the rule that an edge is inside", () => {
    const polygon = cases[2]!.polygon;
    expect(pointInPolygon(polygon, [1.5, 1])).toBe(true);
    expect(pointInPolygon(polygon, [1.5, 1.000001])).toBe(false);
    expect(distanceToPolygon([1.5, 1], polygon)).toBe(0);
  });
});

describe("distance to a segment", () => {
  it.each([
    [3, 4, 4],
    [-3, 4, 5],
    [13, 4, 5],
  ])("(%d, %d) to (0,0)-(10,0) is %d", (x, y, distance) => {
    expect(distanceToSegment([x, y], [0, 0], [10, 0])).toBe(distance);
  });

  it("to a slanted segment (0,0)-(4,3)", () => {
    expect(distanceToSegment([1, 1], [0, 0], [4, 3])).toBeCloseTo(0.2, 14);
    expect(distanceToSegment([0, 5], [0, 0], [4, 3])).toBeCloseTo(4, 14);
  });

  it("to a segment of no length is the distance to the point, where the naive formula gives NaN", () => {
    expect(distanceToSegment([4, 6], [1, 2], [1, 2])).toBe(5);
    expect(distanceToSegment([1, 2], [1, 2], [1, 2])).toBe(0);
  });
});
