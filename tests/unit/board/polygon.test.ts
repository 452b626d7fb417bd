import { describe, expect, it } from "vitest";
import { fitAffine } from "../../../src/board/fit-affine.js";
import { fitHomography } from "../../../src/board/fit-homography.js";
import { fitSimilarity } from "../../../src/board/fit-similarity.js";
import { invertHomography } from "../../../src/board/plane-transform.js";
import { boundsOf, centroid, type Point, pointInPolygon, signedArea } from "../../../src/board/polygon.js";
import { findSelfCrossing, polygonContains, polygonsOverlap } from "../../../src/board/polygon-crossing.js";
import { distanceToPolygon, polygonGap } from "../../../src/board/polygon-distance.js";

const U: Point[] = [
  [0, 0],
  [9, 0],
  [9, 7],
  [6, 7],
  [6, 3],
  [3, 3],
  [3, 7],
  [0, 7],
];

describe("pointInPolygon", () => {
  it("handles concave shapes, corners and edges", () => {
    expect(pointInPolygon(U, [1, 5])).toBe(true);
    expect(pointInPolygon(U, [4.5, 5])).toBe(false);
    expect(pointInPolygon(U, [7, 5])).toBe(true);
    expect(pointInPolygon(U, [4.5, 3])).toBe(true);
    expect(pointInPolygon(U, [6, 7])).toBe(true);
    // On the level of horizontal edges and of corners, outside on both hands.
    for (const y of [0, 3, 7]) {
      expect(pointInPolygon(U, [-1, y])).toBe(false);
      expect(pointInPolygon(U, [10, y])).toBe(false);
    }
    expect(pointInPolygon(U, [4.5, 7])).toBe(false);
  });
});

describe("small and empty cases", () => {
  it("areas, centres and bounds", () => {
    expect(signedArea([])).toBe(0);
    expect(centroid([])).toEqual([Number.NaN, Number.NaN]);
    expect(
      centroid([
        [1, 4],
        [3, 8],
      ]),
    ).toEqual([2, 6]);
    expect(boundsOf(U)).toEqual({ minX: 0, minY: 0, maxX: 9, maxY: 7 });
    expect(distanceToPolygon([1, 2], [])).toBe(Number.POSITIVE_INFINITY);
    expect(distanceToPolygon([4.5, 5], U)).toBe(1.5);
  });

  it("fits refuse too few points and points that fix nothing", () => {
    const line: Point[] = [
      [0, 0],
      [1, 2],
      [2, 4],
      [3, 6],
      [5, 10],
    ];
    expect(() => fitSimilarity([[0, 0]], [[1, 1]])).toThrow(RangeError);
    expect(() =>
      fitSimilarity(
        [
          [2, 3],
          [2, 3],
        ],
        [
          [1, 1],
          [2, 2],
        ],
      ),
    ).toThrow(RangeError);
    expect(() => fitAffine(line, line)).toThrow(RangeError);
    expect(() => fitAffine(line.slice(0, 3), line.slice(0, 4))).toThrow(RangeError);
    expect(() => fitHomography(line, line)).toThrow(RangeError);
    expect(() => invertHomography([1, 2, 0, 2, 4, 0, 0, 0, 1])).toThrow(RangeError);
  });
});

describe("polygons that meet", () => {
  const box = (x: number, y: number, width: number, height: number): Point[] => [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];

  it("overlap only where they share area", () => {
    expect(polygonsOverlap(box(0, 0, 4, 3), box(3, 2, 4, 3))).toBe(true);
    expect(polygonsOverlap(box(0, 0, 4, 3), box(4, 0, 4, 3))).toBe(false);
    expect(polygonsOverlap(box(0, 0, 4, 3), box(4, 3, 4, 3))).toBe(false);
    expect(polygonsOverlap(box(0, 0, 4, 3), box(0, 0, 4, 3))).toBe(true);
    expect(polygonsOverlap(box(0, 0, 9, 9), box(4, 3, 1, 2))).toBe(true);
    expect(polygonsOverlap(box(4, 3, 1, 2), box(0, 0, 9, 9))).toBe(true);
    // A cross: no corner of either lies in the other.
    expect(polygonsOverlap(box(0, 4, 9, 1), box(3, 0, 2, 9))).toBe(true);
    // In the bay of the U, and touching its three walls.
    expect(polygonsOverlap(U, box(4, 4, 1, 2))).toBe(false);
    expect(polygonsOverlap(U, box(3, 3, 3, 4))).toBe(false);
    expect(polygonsOverlap(U, box(3, 2.9, 3, 4))).toBe(true);
    expect(polygonsOverlap(U, box(3, 2.9, 3, 4), 0.2)).toBe(false);
  });

  it("contain others with edges in common", () => {
    expect(polygonContains(box(0, 0, 9, 9), box(0, 2, 4, 3))).toBe(true);
    expect(polygonContains(box(0, 2, 4, 3), box(0, 0, 9, 9))).toBe(false);
    expect(polygonContains(U, box(2, 4, 5, 1))).toBe(false);
  });

  it("cross themselves where they do, and not where they only come near", () => {
    expect(findSelfCrossing(U)).toBeNull();
    expect(
      findSelfCrossing([
        [0, 0],
        [4, 3],
        [4, 0],
        [0, 3],
      ]),
    ).toEqual({ firstEdge: 0, secondEdge: 2 });
    expect(
      findSelfCrossing([
        [0, 0],
        [4, 0],
        [4, 3],
      ]),
    ).toBeNull();
    // Edges that run on in a straight line are no fold.
    expect(
      findSelfCrossing([
        [0, 0],
        [2, 0],
        [4, 0],
        [4, 3],
      ]),
    ).toBeNull();
  });
});

describe("polygonGap", () => {
  const square = (x: number, y: number, side: number): Point[] => [
    [x, y],
    [x + side, y],
    [x + side, y + side],
    [x, y + side],
  ];

  it("is the distance of the nearest corner and edge, whichever of the two has the corner", () => {
    // The corner (3, 4) of the small square lies 2 right of the large one's edge.
    expect(polygonGap(square(-9, 0, 10), square(3, 4, 1))).toBe(2);
    expect(polygonGap(square(3, 4, 1), square(-9, 0, 10))).toBe(2);
    expect(polygonGap(square(0, 0, 1), square(4, 5, 1))).toBe(5);
  });

  it("is 0 of two that touch, and of one inside the other", () => {
    expect(polygonGap(square(0, 0, 2), square(2, 1, 2))).toBe(0);
    expect(polygonGap(square(0, 0, 9), square(4, 4, 1))).toBe(0);
  });
});
