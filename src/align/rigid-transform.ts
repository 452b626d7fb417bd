// align: a shift and a turn → where baseline content stands in the powered frame.
import { type FramePoint, framePoint, type Radians, radians } from "../core/units.js";

/** How content moved from the baseline to the powered frame: turned about the frame's centre, then shifted.
 *  Positive: right, down, clockwise as seen (y points down, so a positive angle turns x towards y).
 */
export interface RigidTransform {
  readonly dxPx: number;
  readonly dyPx: number;
  readonly angleRad: Radians;
}

/** A shape's size, px. */
interface FrameSize {
  readonly width: number;
  readonly height: number;
}

/** True where nothing moved at all: then nothing need be resampled. */
export function isStill({ dxPx, dyPx, angleRad }: RigidTransform): boolean {
  return dxPx === 0 && dyPx === 0 && angleRad === 0;
}

/** One movement and then another, as one: content goes by `first`, and from there by `then`. */
export function afterMovement(first: RigidTransform, then: RigidTransform): RigidTransform {
  const cos = Math.cos(then.angleRad);
  const sin = Math.sin(then.angleRad);
  return {
    dxPx: then.dxPx + cos * first.dxPx - sin * first.dyPx,
    dyPx: then.dyPx + sin * first.dxPx + cos * first.dyPx,
    angleRad: radians(first.angleRad + then.angleRad),
  };
}

/** The movement that takes content back to where it was. */
export function backOf({ dxPx, dyPx, angleRad }: RigidTransform): RigidTransform {
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return {
    dxPx: -cos * dxPx - sin * dyPx,
    dyPx: sin * dxPx - cos * dyPx,
    angleRad: radians(-angleRad),
  };
}

/** Where the content at a baseline point stands in the powered frame. */
export function movePoint(point: FramePoint, transform: RigidTransform, size: FrameSize): FramePoint {
  const [a, b, c, d, e, f] = affineOf(transform, size);
  return framePoint(a * point[0] + b * point[1] + c, d * point[0] + e * point[1] + f);
}

/** The transform as `[a, b, c, d, e, f]`: x′ = a·x + b·y + c, y′ = d·x + e·y + f. */
export function affineOf(
  transform: RigidTransform,
  size: FrameSize,
): [number, number, number, number, number, number] {
  const cx = (size.width - 1) / 2;
  const cy = (size.height - 1) / 2;
  const cos = Math.cos(transform.angleRad);
  const sin = Math.sin(transform.angleRad);
  return [
    cos,
    -sin,
    cx - cos * cx + sin * cy + transform.dxPx,
    sin,
    cos,
    cy - sin * cx - cos * cy + transform.dyPx,
  ];
}
