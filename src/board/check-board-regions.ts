// board: the regions of a map → what is wrong with their places: off the board, or over each other.

import { formatSignificant } from "../core/format-quantity.js";
import type { Problem } from "../core/json-problem.js";
import type { Region } from "./board-schema.js";
import type { UsablePolygon } from "./check-board-polygons.js";
import { type Bounds, boundsOf } from "./polygon.js";
import { distanceOutside, polygonContains, polygonsOverlap } from "./polygon-crossing.js";

/** A region that fits its schema, with its place in the map. */
export interface CheckedRegion {
  readonly index: number;
  readonly region: Region;
  /** Null if the polygon has an error. */
  readonly polygon: UsablePolygon | null;
}

/** Depth up to which shapes may stick out or overlap unreported: drawings are rounded to 0.01 mm, at both edges. */
const TOLERANCE_MM = 0.02;

/** List regions that lie off the board: wholly is an error, partly a warning, as connectors do. */
export function placeProblems(regions: readonly CheckedRegion[], outline: UsablePolygon): Problem[] {
  const problems: Problem[] = [];
  for (const { index, region, polygon } of regions) {
    if (polygon === null) continue;
    const outsideMm = distanceOutside(polygon, outline);
    if (outsideMm <= TOLERANCE_MM) continue;
    const path = `regions[${index}].polygon`;
    if (polygonsOverlap(polygon, outline)) {
      problems.push({
        severity: "warning",
        code: "N_BOARD_DOUBT",
        path,
        text: `${region.ref} reaches ${formatSignificant(outsideMm, 2)} mm beyond the outline`,
        fix: "Leave it so if the part overhangs the board, else correct its points",
      });
    } else {
      problems.push({
        severity: "error",
        code: "E_BOARD_OUTSIDE",
        path,
        text: `${region.ref} lies wholly outside the outline`,
        fix: "Check its points: all are in millimetres from the same origin as the outline, seen from the top side",
      });
    }
  }
  return problems;
}

/** Overlaps that are listed: on a map on which everything lies over everything the rest says nothing new. */
const MOST_OVERLAPS = 50;

/** List regions that overlap on one side, save under a shield or one inside the other; the first fifty of them. */
export function overlapProblems(regions: readonly CheckedRegion[]): Problem[] {
  const problems: Problem[] = [];
  const usable = regions.flatMap(({ index, region, polygon }) =>
    polygon === null ? [] : [{ index, region, polygon, bounds: boundsOf(polygon) }],
  );
  for (let j = 1; j < usable.length; j++) {
    const later = usable[j]!;
    for (let i = 0; i < j; i++) {
      const earlier = usable[i]!;
      if (earlier.region.side !== later.region.side || !boundsMeet(earlier.bounds, later.bounds)) continue;
      if (earlier.region.kind === "shield" || later.region.kind === "shield") continue;
      const a = earlier.polygon;
      const b = later.polygon;
      if (!polygonsOverlap(a, b, TOLERANCE_MM)) continue;
      // The same place twice is no part inside another.
      if (polygonContains(a, b, TOLERANCE_MM) !== polygonContains(b, a, TOLERANCE_MM)) continue;
      problems.push({
        severity: "warning",
        code: "N_BOARD_DOUBT",
        path: `regions[${later.index}].polygon`,
        text: `${later.region.ref} overlaps ${earlier.region.ref} on the ${later.region.side} side`,
        fix: 'Correct the one that is off; a can over other parts has "kind": "shield"',
      });
      if (problems.length < MOST_OVERLAPS) continue;
      const text = `${MOST_OVERLAPS} overlaps are listed; there may be more`;
      const fix = "Correct these first: a whole side of the board may be shifted";
      return [...problems, { severity: "warning", code: "N_BOARD_DOUBT", path: "regions", text, fix }];
    }
  }
  return problems;
}

function boundsMeet(a: Bounds, b: Bounds): boolean {
  return a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;
}
