// place: edge groups and a motion → what the later frame shows at them, each group's contrast and its alikeness.
import type { Raster } from "../core/raster.js";
import type { BoardArm } from "./board-arm.js";
import type { EdgeCells } from "./edge-cells.js";
import { type Motion, motionMatrix } from "./motion.js";

/** What the later frame shows at the earlier one's edges; NaN where it sees nothing. */
export interface SeenEdges {
  readonly value: Float32Array;
  /** Slope per later px. */
  readonly slopeX: Float32Array;
  readonly slopeY: Float32Array;
  /** Later ÷ earlier contrast of each group, of either sign; NaN where the group is not wholly seen. */
  readonly contrast: Float32Array;
  /** The later frame's mean over each group. */
  readonly level: Float32Array;
  /** Mean square of what the later frame shows over each group, and of what the earlier one leaves unexplained, K². */
  readonly powerK2: Float32Array;
  readonly restK2: Float32Array;
  /** Squared correlation of the two frames over each group, 0…1; NaN where the group is not wholly seen. */
  readonly alike: Float32Array;
}

type Nine = [number, number, number, number, number, number, number, number, number];

/** Read the later frame's detail where a motion brings the edge pixels, by bilinear interpolation.
 *  @param picture from `edgePicture`.
 *  @param withSlopes false leaves the slopes at 0, where agreement alone is asked for.
 */
export function seeEdges(
  cells: EdgeCells,
  { width, height, data: picture }: Raster<"K">,
  arm: BoardArm,
  motion: Motion,
  withSlopes = true,
): SeenEdges {
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = motionMatrix(arm, motion) as Nine;
  const value = new Float32Array(cells.count).fill(Number.NaN);
  const slopeX = new Float32Array(cells.count);
  const slopeY = new Float32Array(cells.count);
  for (let k = 0; k < cells.count; k++) {
    const px = cells.x[k]!;
    const py = cells.y[k]!;
    const w = 1 / (m6 * px + m7 * py + m8);
    const x = (m0 * px + m1 * py + m2) * w;
    const y = (m3 * px + m4 * py + m5) * w;
    const i = Math.floor(x);
    const j = Math.floor(y);
    if (!(i >= 1 && j >= 1 && i < width - 2 && j < height - 2)) continue;
    const s = x - i;
    const t = y - j;
    const at = j * width + i;
    value[k] = mixed(picture, at, width, s, t);
    if (!withSlopes) continue;
    slopeX[k] = 0.5 * (mixed(picture, at + 1, width, s, t) - mixed(picture, at - 1, width, s, t));
    slopeY[k] = 0.5 * (mixed(picture, at + width, width, s, t) - mixed(picture, at - width, width, s, t));
  }
  const groups = cells.starts.length - 1;
  const contrast = new Float32Array(groups).fill(Number.NaN);
  const alike = new Float32Array(groups).fill(Number.NaN);
  const powerK2 = new Float32Array(groups);
  const restK2 = new Float32Array(groups);
  const level = new Float32Array(groups).fill(Number.NaN);
  for (let g = 0; g < groups; g++) {
    const from = cells.starts[g]!;
    const to = cells.starts[g + 1]!;
    let sum = 0;
    for (let k = from; k < to; k++) sum += value[k]!;
    const mean = sum / (to - from);
    if (!(mean * 0 === 0)) continue;
    let own = 0;
    let other = 0;
    let both = 0;
    for (let k = from; k < to; k++) {
      const seen = value[k]! - mean;
      own += cells.value[k]! ** 2;
      other += seen * seen;
      both += cells.value[k]! * seen;
    }
    if (!(own > 0) || !(other > 0)) continue;
    level[g] = mean;
    contrast[g] = both / own;
    alike[g] = (both * both) / (own * other);
    powerK2[g] = other / (to - from);
    restK2[g] = Math.max(0, other - (both * both) / own) / (to - from);
  }
  return { value, slopeX, slopeY, contrast, level, powerK2, restK2, alike };
}

function mixed(picture: Float32Array, at: number, width: number, s: number, t: number): number {
  const upper = picture[at]! + s * (picture[at + 1]! - picture[at]!);
  const lower = picture[at + width]! + s * (picture[at + width + 1]! - picture[at + width]!);
  return upper + t * (lower - upper);
}
