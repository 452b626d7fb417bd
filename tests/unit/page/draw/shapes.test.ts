// Rectangles, moves and corners, on numbers worked out by hand and on laws.
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { boundsOf, type Point, type Polygon } from "../../../../src/board/polygon.js";
import {
  insertCorner,
  moveCorner,
  nearestEdge,
  removeCorner,
} from "../../../../src/page/draw/model/edit-polygon.js";
import { growPolygon, movePolygon, turnPolygon } from "../../../../src/page/draw/model/move-shape.js";
import {
  cornersOf,
  readRectangle,
  rectangleBetween,
  rectangleOnEdge,
} from "../../../../src/page/draw/model/rectangle.js";
import { anyPoint, anyPolygon } from "./drawings.js";

const triangle: Polygon = [
  [1, 2],
  [9, 2],
  [4, 7],
];

describe("a polygon", () => {
  it("takes a corner into the edge that is nearest, and loses it again", () => {
    const found = nearestEdge(triangle, [5, 1.5])!;
    expect(found).toEqual({ edge: 0, distanceMm: 0.5, at: [5, 2] });
    const more = insertCorner(triangle, found.edge, found.at);
    expect(more).toEqual([
      [1, 2],
      [5, 2],
      [9, 2],
      [4, 7],
    ]);
    expect(removeCorner(more, 1)).toEqual(triangle);
  });

  it("takes a corner into its last edge, which closes it", () => {
    expect(nearestEdge(triangle, [2, 5])!.edge).toBe(2);
    expect(insertCorner(triangle, 2, [2, 5])).toEqual([...triangle, [2, 5]]);
  });

  it("keeps three corners whatever is taken away, and only one corner moves", () => {
    expect(removeCorner(triangle, 0)).toBe(triangle);
    expect(moveCorner(triangle, 1, [8, 3])).toEqual([
      [1, 2],
      [8, 3],
      [4, 7],
    ]);
  });

  it("comes back from a move and a turn", () => {
    fc.assert(
      fc.property(anyPolygon, anyPoint, fc.integer({ min: -360, max: 360 }), (polygon, by, turnDeg) => {
        const back = [
          movePolygon(movePolygon(polygon, by), [-by[0], -by[1]]),
          turnPolygon(turnPolygon(polygon, by, turnDeg), by, -turnDeg),
        ];
        for (const result of back) {
          // Each step rounds to a millionth of a millimetre; about a far point that is turned by as much again.
          result.forEach(([x, y], i) => {
            expect(Math.abs(x - polygon[i]![0])).toBeLessThan(5e-6);
            expect(Math.abs(y - polygon[i]![1])).toBeLessThan(5e-6);
          });
        }
      }),
    );
  });

  it("grows to the right and down", () => {
    const grown = growPolygon(triangle, [4, 10]);
    expect(boundsOf(grown)).toEqual({ minX: 1, minY: 2, maxX: 13, maxY: 17 });
    const least = growPolygon(triangle, [-100, 0]);
    expect(boundsOf(least).maxX - boundsOf(least).minX).toBeCloseTo(0.05, 6);
  });
});

describe("a rectangle", () => {
  it("has round corners where it is turned by a quarter", () => {
    expect(cornersOf({ centre: [10, 20], widthMm: 6, heightMm: 2, turnDeg: 90 })).toEqual([
      [11, 17],
      [11, 23],
      [9, 23],
      [9, 17],
    ]);
  });

  it("is drawn between two corners whichever comes first", () => {
    const expected = { centre: [4, 6], widthMm: 6, heightMm: 2, turnDeg: 0 };
    expect(rectangleBetween([1, 5], [7, 7])).toEqual(expected);
    expect(rectangleBetween([7, 5], [1, 7])).toEqual(expected);
  });

  it("stands on an edge of any direction, at either side of it", () => {
    // 3-4-5: an edge of 5 mm, and a depth of 2 mm square to it.
    const above = rectangleOnEdge([0, 0], [4, 3], [-1.2, 1.6]);
    expect([above.widthMm, above.heightMm]).toEqual([5, expect.closeTo(2, 12)]);
    expect(above.turnDeg).toBeCloseTo(36.8699, 4);
    expect(above.centre[0]).toBeCloseTo(1.4, 12);
    expect(above.centre[1]).toBeCloseTo(2.3, 12);
    const below = rectangleOnEdge([0, 0], [4, 3], [1.2, -1.6]);
    expect(below.centre[0]).toBeCloseTo(2.6, 12);
  });

  it("is read back from its corners, whatever corner comes first and whichever way round", () => {
    const sizes = fc.integer({ min: 20, max: 4000 }).map((hundredths) => hundredths / 100);
    fc.assert(
      fc.property(
        anyPoint,
        sizes,
        sizes,
        fc.integer({ min: -440, max: 440 }).map((tenths) => tenths / 10),
        fc.nat(3),
        fc.boolean(),
        (centre, widthMm, heightMm, turnDeg, first, backwards) => {
          const corners = cornersOf({ centre, widthMm, heightMm, turnDeg });
          const turned = corners.map((_, i) => corners[(first + i) % 4]!);
          const read = readRectangle(backwards ? turned.reverse() : turned);
          expect(read).not.toBeNull();
          expect(read!.widthMm).toBeCloseTo(widthMm, 4);
          expect(read!.heightMm).toBeCloseTo(heightMm, 4);
          // Corners are rounded to 1e-6 mm: on an edge of 0.2 mm that is an angle of up to 6e-4 degrees.
          expect(Math.abs(read!.turnDeg - turnDeg)).toBeLessThan(1e-3);
        },
      ),
    );
  });

  it("is none where corners are off by more than a drawing's rounding", () => {
    const corners = cornersOf({ centre: [5, 5], widthMm: 4, heightMm: 3, turnDeg: 0 }) as Point[];
    expect(readRectangle(moveCorner(corners, 2, [7.02, 6.5]))).toBeNull();
    expect(readRectangle(moveCorner(corners, 2, [7.004, 6.5]))).not.toBeNull();
    expect(readRectangle(triangle)).toBeNull();
    expect(
      readRectangle([
        [0, 0],
        [3, 0],
        [3, 0],
        [0, 0],
      ]),
    ).toBeNull();
  });
});
