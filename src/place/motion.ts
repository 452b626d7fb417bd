// place: eight numbers → how the earlier frame's pixels lie in the later frame, and the derivatives.
import { composeHomographies, type Matrix3 } from "../board/plane-transform.js";
import type { Point } from "../board/polygon.js";
import type { BoardArm } from "./board-arm.js";

/** A motion of the frame's content as seen in the later frame, px. With (u, v) the place relative to the board's middle
 *  in arms: x = ((a + e)·u + (f − b)·v) / w + tx, y = ((b + f)·u + (a − e)·v) / w + ty, w = 1 + p·u + q·v.
 *  a and b turn and scale, e and f stretch, p and q tilt.
 */
export type Motion = readonly [
  a: number,
  b: number,
  tx: number,
  ty: number,
  e: number,
  f: number,
  p: number,
  q: number,
];

/** Parameters of a motion. */
export const MOTION_SIZE = 8;

/** A turn, a scale and a place of the board's middle as a motion. */
export function similarityMotion(arm: BoardArm, angleRad: number, scale: number, middle: Point): Motion {
  const length = scale * arm.armPx;
  return [length * Math.cos(angleRad), length * Math.sin(angleRad), middle[0], middle[1], 0, 0, 0, 0];
}

/** The motion as a matrix: earlier px → later px. */
export function motionMatrix({ centre, armPx }: BoardArm, motion: Motion): Matrix3 {
  const [a, b, tx, ty, e, f, p, q] = motion;
  const [cx, cy] = centre;
  // Rows of the matrix on (u, v, 1), the translation multiplied into the weight's row.
  const rows = [
    [a + e + tx * p, f - b + tx * q, tx],
    [b + f + ty * p, a - e + ty * q, ty],
    [p, q, 1],
  ] as const;
  const out = rows.flatMap(([u, v, one]) => [u / armPx, v / armPx, one - (u * cx + v * cy) / armPx]);
  return out.map((value) => value / out[8]!);
}

/** The motion whose matrix this is. */
export function matrixMotion({ centre, armPx }: BoardArm, matrix: Matrix3): Motion {
  const [cx, cy] = centre;
  const [m00, m01, m02, m10, m11, m12, p0, q0, w0] = composeHomographies(matrix, [
    armPx,
    0,
    cx,
    0,
    armPx,
    cy,
    0,
    0,
    1,
  ]) as unknown as [number, number, number, number, number, number, number, number, number];
  const [tx, ty, p, q] = [m02 / w0, m12 / w0, p0 / w0, q0 / w0];
  const [xu, xv] = [m00 / w0 - tx * p, m01 / w0 - tx * q];
  const [yu, yv] = [m10 / w0 - ty * p, m11 / w0 - ty * q];
  return [(xu + yv) / 2, (yu - xv) / 2, tx, ty, (xu - yv) / 2, (xv + yu) / 2, p, q];
}

/** How the place of a point depends on the eight parameters, px: the rows of x and of y.
 *  @param point px of the earlier frame.
 */
export function motionRows(
  { centre, armPx }: BoardArm,
  [a, b, , , e, f, p, q]: Motion,
  point: Point,
): [readonly number[], readonly number[]] {
  const u = (point[0] - centre[0]) / armPx;
  const v = (point[1] - centre[1]) / armPx;
  const w = 1 / (1 + p * u + q * v);
  const x = ((a + e) * u + (f - b) * v) * w;
  const y = ((b + f) * u + (a - e) * v) * w;
  return [
    [w * u, -w * v, 1, 0, w * u, w * v, -w * u * x, -w * v * x],
    [w * v, w * u, 0, 1, -w * v, w * u, -w * u * y, -w * v * y],
  ];
}

/** The scale of a motion at the board's middle, later px per earlier px. */
export function motionScale({ armPx }: BoardArm, [a, b]: Motion): number {
  return Math.hypot(a, b) / armPx;
}
