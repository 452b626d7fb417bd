// simulate: a stream of random numbers and an outline → how the camera sees the board.
import { boundsOf, type Point } from "./polygons.js";
import type { Random } from "./random.js";
import type { Nudge } from "./scene.js";

/** 3×3 matrix, row-major. */
export type Matrix = readonly number[];

/** Frame sizes of common uncooled cores. */
const SIZES = [
  [160, 120],
  [160, 120],
  [160, 120],
  [256, 192],
  [256, 192],
  [120, 90],
  [240, 180],
  [320, 240],
  [384, 288],
] as const;

export interface Camera {
  readonly width: number;
  readonly height: number;
  /** Board mm → baseline frame px. */
  readonly boardToFrame: Matrix;
  /** Standard deviation of the optics' blur, px. */
  readonly blurPx: number;
  /** Light that goes astray; none if not given. */
  readonly halo?: Halo;
  readonly mmPerPx: number;
}

/** A faint wide halo around all that is sharp: this share of the light is spread by a Gaussian of so many px. */
export interface Halo {
  readonly share: number;
  readonly px: number;
}

/** Draw a camera that sees the whole board: turned, scaled, a little in perspective, mirrored for the bottom. */
export function randomCamera(
  random: Random,
  outline: readonly Point[],
  side: "top" | "bottom",
  size: readonly [number, number] | null,
): Camera {
  const [width, height] = size ?? random.pick(SIZES);
  const [x0, y0, x1, y1] = boundsOf(outline);
  const cx = (x0 + x1) / 2;
  const cy = (y0 + y1) / 2;
  const turn = random.chance(0.55) ? 0 : random.pick([90, 180, 270]);
  const angle = ((turn + random.uniform(-25, 25)) * Math.PI) / 180;
  const style = random.next();
  const shear = style < 0.3 ? 0 : random.uniform(-0.04, 0.04);
  const stretch = style < 0.3 ? 1 : random.uniform(0.96, 1.04);
  const tilt = style < 0.6 ? [0, 0] : [random.uniform(-0.06, 0.06), random.uniform(-0.06, 0.06)];
  const mirror = side === "bottom" ? -1 : 1;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const half = Math.max(x1 - x0, y1 - y0) / 2;
  // Centre the board, mirror, turn and shear it, then tilt: w runs over 1 ± tilt across the board.
  const central: Matrix = [1, 0, -cx, 0, 1, -cy, 0, 0, 1];
  const affine: Matrix = [
    mirror * c,
    -s * stretch + shear * c,
    0,
    mirror * s,
    c * stretch + shear * s,
    0,
    0,
    0,
    1,
  ];
  const tilted: Matrix = [1, 0, 0, 0, 1, 0, tilt[0]! / half, tilt[1]! / half, 1];
  const flat = product(tilted, product(affine, central));
  const corners = outline.map((p) => applyTo(flat, p[0], p[1]));
  const [bx0, by0, bx1, by1] = boundsOf(corners);
  const fill = random.uniform(0.5, 0.95);
  const scale = fill * Math.min((width - 1) / (bx1 - bx0), (height - 1) / (by1 - by0));
  const room: Point = [width - 1 - scale * (bx1 - bx0), height - 1 - scale * (by1 - by0)];
  const place: Matrix = [
    scale,
    0,
    room[0] * random.uniform(0.3, 0.7) - scale * bx0,
    0,
    scale,
    room[1] * random.uniform(0.3, 0.7) - scale * by0,
    0,
    0,
    1,
  ];
  const boardToFrame = product(place, flat);
  return { width, height, boardToFrame, blurPx: random.uniform(0.6, 1.5), mmPerPx: 1 / scale };
}

/** Baseline px → powered px: p′ = c + R(p − c) + t about the frame's centre. */
export function nudgeMatrix(nudge: Nudge, width: number, height: number): Matrix {
  const a = (nudge.rotationDeg * Math.PI) / 180;
  const cos = Math.cos(a);
  const sin = Math.sin(a);
  const cx = (width - 1) / 2;
  const cy = (height - 1) / 2;
  // biome-ignore format: a matrix reads best as one
  return [
    cos, -sin, cx - cos * cx + sin * cy + nudge.dxPx,
    sin, cos, cy - sin * cx - cos * cy + nudge.dyPx,
    0, 0, 1,
  ];
}

/** Image of a point. */
export function applyTo(m: Matrix, x: number, y: number): Point {
  const w = m[6]! * x + m[7]! * y + m[8]!;
  return [(m[0]! * x + m[1]! * y + m[2]!) / w, (m[3]! * x + m[4]! * y + m[5]!) / w];
}

/** a · b. */
export function product(a: Matrix, b: Matrix): Matrix {
  const out: number[] = [];
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      out.push(a[3 * i]! * b[j]! + a[3 * i + 1]! * b[3 + j]! + a[3 * i + 2]! * b[6 + j]!);
    }
  }
  return out;
}

/** Inverse by cofactors. */
export function inverse(m: Matrix): Matrix {
  const [a, b, c, d, e, f, g, h, i] = m as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  return [
    (e * i - f * h) / det,
    (c * h - b * i) / det,
    (b * f - c * e) / det,
    (f * g - d * i) / det,
    (a * i - c * g) / det,
    (c * d - a * f) / det,
    (d * h - e * g) / det,
    (b * g - a * h) / det,
    (a * e - b * d) / det,
  ];
}
