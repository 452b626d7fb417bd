// board: one polygon of a map → what is wrong with it by itself, and the polygon fit for use.
import type { Problem } from "../core/json-problem.js";
import { boundsOf, type Point, type Polygon, signedArea } from "./polygon.js";
import { findSelfCrossing } from "./polygon-crossing.js";
import { withoutRepeats } from "./without-repeats.js";

/** A simple polygon with an area, without repeated corners. */
export type UsablePolygon = Polygon;

/** Outlines shorter than this are in another unit: 5 mm is less than most single packages … */
const SMALLEST_OUTLINE_MM = 5;
/** … and the longest that are made, strips of lamps, have some 1200 mm (common practice, no source). A board of 38 mm
 *  in mils has 1500. */
const LARGEST_OUTLINE_MM = 1500;
/** Where half of the parts are no longer than this the map is in another unit: the smallest chips made are as long
 *  (size code 008004, metric 0201: 0.25 × 0.125 mm), and no board holds them alone. */
const SMALLEST_PART_MM = 0.25;
/** Of fewer parts the middle says little. */
const FEWEST_PARTS = 3;
/** Area ÷ (largest extent)² at or below which a polygon is a line: a sliver of a nanometre on a metre. */
const NO_AREA = 1e-9;

/** Check a polygon by itself.
 *  @param polygon three or more points of finite numbers.
 *  @param name "the outline", "the polygon of U7".
 *  @returns the problems, and the polygon without repeated corners; null if it has an error. */
export function polygonProblems(
  polygon: Polygon,
  path: string,
  name: string,
): { problems: Problem[]; polygon: UsablePolygon | null } {
  const problems: Problem[] = [];
  const { corners, numbers } = withoutRepeats(polygon);
  if (corners.length < polygon.length) {
    const dropped = polygon.map((_, i) => i).filter((i) => !numbers.includes(i));
    problems.push({
      severity: "warning",
      code: "N_BOARD_DOUBT",
      path: `${path}[${dropped[0]}]`,
      text: `${name} repeats ${dropped.length === 1 ? "a point" : `${dropped.length} points`}, left out`,
      fix: "Give every corner once; the last is joined to the first by itself",
    });
  }
  const { minX, minY, maxX, maxY } = boundsOf(corners);
  const extent = Math.max(maxX - minX, maxY - minY);
  const crossing = corners.length > 2 ? findSelfCrossing(corners) : null;
  if (isOneLine(corners, extent)) {
    problems.push({
      severity: "error",
      code: "E_BOARD_POLYGON",
      path,
      text: `${name} encloses no area: its points lie on one ${extent === 0 ? "place" : "line"}`,
      fix: "Give the corners of the part's outline, three or more that are not on one line",
    });
  } else if (crossing !== null) {
    const edge = (number: number) => edgeText(corners, numbers, number);
    problems.push({
      severity: "error",
      code: "E_BOARD_POLYGON",
      path,
      text: `${name} crosses or touches itself: ${edge(crossing.firstEdge)} meets ${edge(crossing.secondEdge)}`,
      fix: "Put the corners in the order in which one walks around the part; two are probably exchanged",
    });
  }
  return { problems, polygon: problems.some((problem) => problem.severity === "error") ? null : corners };
}

/** Millimetres are the unit of a map. What another unit would make of it is refused, and not only noted: watts go with
 *  the square of lengths, and those of a board in mils would be too many places to fit.
 */
const UNIT_FIX = "Give all points in millimetres: an inch has 25.4, a mil 0.0254, and pixels have none";

/** Take an unlikely size for a doubt: of a map that is only being made, whose unit and outline may still be told.
 *  @returns the problem as it is where it is no matter of the unit.
 */
export function asDoubt(problem: Problem): Problem {
  return problem.fix === UNIT_FIX ? { ...problem, severity: "warning", code: "N_BOARD_DOUBT" } : problem;
}

/** Check the size of a sound outline. */
export function outlineProblems(outline: UsablePolygon): Problem[] {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const longest = Math.max(maxX - minX, maxY - minY);
  if (longest >= SMALLEST_OUTLINE_MM && longest <= LARGEST_OUTLINE_MM) return [];
  const size = `${Number((maxX - minX).toPrecision(4))} × ${Number((maxY - minY).toPrecision(4))} mm`;
  return [
    {
      severity: "error",
      code: "E_BOARD_VALUE",
      path: "outline",
      text: `the board is ${size} large, and a board has ${SMALLEST_OUTLINE_MM} to ${LARGEST_OUTLINE_MM} mm`,
      fix: UNIT_FIX,
    },
  ];
}

/** Check that parts are as large as parts are: a large board in inches passes for a small one by its outline alone.
 *  @param polygons those of all regions that are sound.
 */
export function partSizeProblems(polygons: readonly UsablePolygon[]): Problem[] {
  if (polygons.length < FEWEST_PARTS) return [];
  const lengths = polygons
    .map((polygon) => {
      const { minX, minY, maxX, maxY } = boundsOf(polygon);
      return Math.max(maxX - minX, maxY - minY);
    })
    .sort((a, b) => a - b);
  const middle = lengths[Math.floor(lengths.length / 2)]!;
  if (middle > SMALLEST_PART_MM) return [];
  return [
    {
      severity: "error",
      code: "E_BOARD_VALUE",
      path: "regions",
      text: `half of the ${lengths.length} regions are no longer than ${Number(middle.toPrecision(2))} mm, and the smallest chips made are ${SMALLEST_PART_MM} mm long`,
      fix: UNIT_FIX,
    },
  ];
}

/** True if all corners are on one line. The sum of areas would not do: a figure of eight has none either. */
function isOneLine(corners: readonly Point[], extent: number): boolean {
  if (corners.length < 3) return true;
  const least = NO_AREA * extent * extent;
  const first = corners[0]!;
  const far = corners.reduce((a, b) =>
    Math.hypot(b[0] - first[0], b[1] - first[1]) > Math.hypot(a[0] - first[0], a[1] - first[1]) ? b : a,
  );
  return corners.every((corner) => Math.abs(signedArea([first, far, corner])) <= least);
}

function edgeText(corners: readonly Point[], numbers: readonly number[], edge: number): string {
  const next = (edge + 1) % corners.length;
  const [a, b] = [corners[edge]!, corners[next]!];
  return `the edge from point ${numbers[edge]} [${a.join(", ")}] to point ${numbers[next]} [${b.join(", ")}]`;
}
