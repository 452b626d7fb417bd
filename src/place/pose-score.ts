// place: directions of edges of two frames and a pose → how well they agree.
import type { Point } from "../board/polygon.js";
import type { BoardArm } from "./board-arm.js";
import { ZONE } from "./board-zones.js";
import type { EdgeDirections } from "./edge-directions.js";

/** At least this share of the edges must lie in the later frame. */
const LEAST_SEEN = 0.45;
/** Cells whose slope stands out less are not compared. */
const LEAST_LENGTH = 0.3;

/** Edge cells of the board. */
export interface EdgePoints {
  /** Relative to the board's middle, earlier px. */
  readonly x: Float32Array;
  readonly y: Float32Array;
  readonly re: Float32Array;
  readonly im: Float32Array;
  readonly weight: Float32Array;
}

/** The strongest edge cells of the board in the earlier frame.
 *  @param zones of that frame, from `boardZones`.
 *  @param most cells; every so many of them are taken.
 */
export function edgePoints(
  { width, height, cellPx, re, im }: EdgeDirections,
  zones: Uint8Array,
  frameWidth: number,
  arm: BoardArm,
  most: number,
): EdgePoints {
  const list: { x: number; y: number; re: number; im: number; weight: number }[] = [];
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const px = (x + 0.5) * cellPx - 0.5;
      const py = (y + 0.5) * cellPx - 0.5;
      if (zones[Math.floor(py) * frameWidth + Math.floor(px)] === ZONE.off) continue;
      const weight = Math.hypot(re[i]!, im[i]!);
      if (weight < LEAST_LENGTH) continue;
      list.push({ x: px - arm.centre[0], y: py - arm.centre[1], re: re[i]!, im: im[i]!, weight });
    }
  }
  list.sort((a, b) => b.weight - a.weight);
  const every = Math.max(1, list.length / most);
  const kept = list.filter((_, k) => Math.floor(k / every) !== Math.floor((k - 1) / every));
  return {
    x: Float32Array.from(kept, (one) => one.x),
    y: Float32Array.from(kept, (one) => one.y),
    re: Float32Array.from(kept, (one) => one.re),
    im: Float32Array.from(kept, (one) => one.im),
    weight: Float32Array.from(kept, (one) => one.weight),
  };
}

/** The earlier frame's edge cells, turned and scaled, against the later frame's directions. */
export class PoseScore {
  private readonly x: Float32Array;
  private readonly y: Float32Array;
  private readonly re: Float32Array;
  private readonly im: Float32Array;
  private readonly total: number;
  constructor(
    private readonly points: EdgePoints,
    private readonly later: EdgeDirections,
  ) {
    const size = points.x.length;
    this.x = new Float32Array(size);
    this.y = new Float32Array(size);
    this.re = new Float32Array(size);
    this.im = new Float32Array(size);
    this.total = points.weight.reduce((sum, value) => sum + value, 0);
  }

  turn(angleRad: number, scale: number): void {
    const { points, later } = this;
    const c = (scale * Math.cos(angleRad)) / later.cellPx;
    const s = (scale * Math.sin(angleRad)) / later.cellPx;
    const c2 = Math.cos(2 * angleRad);
    const s2 = Math.sin(2 * angleRad);
    for (let k = 0; k < this.x.length; k++) {
      this.x[k] = c * points.x[k]! - s * points.y[k]!;
      this.y[k] = s * points.x[k]! + c * points.y[k]!;
      this.re[k] = c2 * points.re[k]! - s2 * points.im[k]!;
      this.im[k] = s2 * points.re[k]! + c2 * points.im[k]!;
    }
  }

  /** Mean agreement where the later frame can see, lowered by what it can't; 0 where it sees too little. */
  scoreAt(middle: Point): number {
    const { x, y, re, im, points, later, total } = this;
    const { width, height, cellPx } = later;
    // Nearest cell: half is added for rounding, half a pixel for the cell's own centre.
    const mx = (middle[0] + 0.5) / cellPx;
    const my = (middle[1] + 0.5) / cellPx;
    let sum = 0;
    let seen = 0;
    for (let k = 0; k < x.length; k++) {
      const i = Math.floor(x[k]! + mx);
      const j = Math.floor(y[k]! + my);
      if (i < 1 || j < 1 || i >= width - 1 || j >= height - 1) continue;
      const at = j * width + i;
      sum += re[k]! * later.re[at]! + im[k]! * later.im[at]!;
      seen += points.weight[k]!;
    }
    return seen < LEAST_SEEN * total ? 0 : sum / Math.sqrt(seen * total);
  }
}
