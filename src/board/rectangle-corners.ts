// board: centre, extents and angle → the corners of a turned rectangle.
import type { Point } from "./polygon.js";

/** Compute the corners of a rectangle. Quarter turns are exact.
 *  @param turnDeg from +x to +y of the plane that the centre is in. */
export function rectangleCorners(centre: Point, width: number, height: number, turnDeg: number): Point[] {
  const [cos, sin] = cosSin(turnDeg);
  const corners: readonly Point[] = [
    [-width / 2, -height / 2],
    [width / 2, -height / 2],
    [width / 2, height / 2],
    [-width / 2, height / 2],
  ];
  return corners.map(([x, y]): Point => [centre[0] + cos * x - sin * y, centre[1] + sin * x + cos * y]);
}

/** Cosine and sine of a turn; exact for quarters, so that a part turned by 90° keeps round numbers. */
export function cosSin(turnDeg: number): readonly [cos: number, sin: number] {
  const turn = ((turnDeg % 360) + 360) % 360;
  const quarters: Readonly<Record<number, Point>> = { 0: [1, 0], 90: [0, 1], 180: [-1, 0], 270: [0, -1] };
  return quarters[turn] ?? [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
}
