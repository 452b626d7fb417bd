// page: where the drawing is looked at from → screen pixels ↔ board millimetres (or pixels of a picture).
import type { Bounds, Point } from "../../../board/polygon.js";

/** How a pane shows a plane: the point in its middle, and the scale. */
export interface Camera {
  /** Point of the plane in the middle of the pane. */
  readonly centre: Point;
  /** Screen px per unit of the plane. */
  readonly scale: number;
  /** True where +x of the plane goes to the left: the bottom of a board, as it is seen. */
  readonly isMirrored: boolean;
}

/** Size of a pane, px of the screen. */
export interface PaneSize {
  readonly width: number;
  readonly height: number;
}

/** Find where a point of the plane is on the screen, px from the pane's upper left corner. */
export function toScreen(camera: Camera, pane: PaneSize, [x, y]: Point): Point {
  const sx = camera.isMirrored ? -camera.scale : camera.scale;
  return [
    pane.width / 2 + (x - camera.centre[0]) * sx,
    pane.height / 2 + (y - camera.centre[1]) * camera.scale,
  ];
}

/** Find the point of the plane under a point of the screen. */
export function fromScreen(camera: Camera, pane: PaneSize, [u, v]: Point): Point {
  const sx = camera.isMirrored ? -camera.scale : camera.scale;
  return [
    camera.centre[0] + (u - pane.width / 2) / sx,
    camera.centre[1] + (v - pane.height / 2) / camera.scale,
  ];
}

/** Move what is shown along with the pointer. */
export function pan(camera: Camera, [du, dv]: Point): Camera {
  const sx = camera.isMirrored ? -camera.scale : camera.scale;
  return { ...camera, centre: [camera.centre[0] - du / sx, camera.centre[1] - dv / camera.scale] };
}

/** Enlarge about a point of the screen, which stays over the same point of the plane.
 *  @param limits smallest and largest scale. */
export function zoomAt(
  camera: Camera,
  pane: PaneSize,
  at: Point,
  factor: number,
  limits: readonly [number, number],
): Camera {
  const scale = Math.min(limits[1], Math.max(limits[0], camera.scale * factor));
  const fixed = fromScreen(camera, pane, at);
  const moved = toScreen({ ...camera, scale }, pane, fixed);
  return pan({ ...camera, scale }, [at[0] - moved[0], at[1] - moved[1]]);
}

/** Show the whole of some bounds.
 *  @param margin room around them, share of the pane. */
export function fitCamera(bounds: Bounds, pane: PaneSize, isMirrored: boolean, margin = 0.08): Camera {
  const width = Math.max(bounds.maxX - bounds.minX, 1e-6);
  const height = Math.max(bounds.maxY - bounds.minY, 1e-6);
  const room = 1 - 2 * margin;
  const scale = Math.min((pane.width * room) / width, (pane.height * room) / height);
  return {
    centre: [(bounds.minX + bounds.maxX) / 2, (bounds.minY + bounds.maxY) / 2],
    scale: scale > 0 ? scale : 1,
    isMirrored,
  };
}

/** Keep what a pane shows in view when its size changes: the same middle, at the scale at which all of it has room.
 *  @param from size of the pane that the camera was for; both sizes have an area. */
export function keepSeen(camera: Camera, from: PaneSize, to: PaneSize): Camera {
  const factor = Math.min(to.width / from.width, to.height / from.height);
  return { ...camera, scale: camera.scale * factor };
}

/** The transform of the plane onto the pane as a 3×3 matrix, row by row. */
export function cameraMatrix(camera: Camera, pane: PaneSize): readonly number[] {
  const sx = camera.isMirrored ? -camera.scale : camera.scale;
  const [u0, v0] = toScreen(camera, pane, [0, 0]);
  return [sx, 0, u0, 0, camera.scale, v0, 0, 0, 1];
}

/** Write a plane transform as CSS does for elements, which it sends from their own pixels (0, 0 the upper left corner
 *  of the first pixel, not its centre).
 *  @param matrix from picture pixels (integers are centres) to the screen, 3×3 row by row. */
export function cssMatrix(matrix: readonly number[]): string {
  const [a, b, c, d, e, f, g, h, i] = matrix as number[] & { length: 9 };
  // Corners of pixels lie half a pixel before their centres.
  const [c2, f2, i2] = [c! - (a! + b!) / 2, f! - (d! + e!) / 2, i! - (g! + h!) / 2];
  const columns = [a!, d!, 0, g!, b!, e!, 0, h!, 0, 0, 1, 0, c2, f2, 0, i2];
  return `matrix3d(${columns.map((value) => Number((value / i2).toPrecision(12))).join(", ")})`;
}
