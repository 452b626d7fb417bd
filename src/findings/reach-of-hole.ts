// findings: a place and the pixels without a reading beside it → how far off its source may lie hidden among them.
import type { FramePoint } from "../core/units.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Fewer pixels than this hide no source. */
const LEAST_HOLE_PX = 5;
/** A hole is beside a spot if it begins within so many of its widths … */
const BESIDE_WIDTHS = 2;
/** … or within so many pixels, where the spot is smaller or has no width. */
const BESIDE_PX = 4;

/** Find how far from a place the farthest pixel lies of a hole beside it.
 *  A source behind pixels without a reading shows as warm pixels at their rim, far from where it is and sharp all the
 *  same. Holes that reach the frame's edge are none: the picture ends there, and a flag of its own says so.
 *  @returns px; 0 where there is no hole beside the place.
 */
export function reachOfHole(pair: PreparedPair, at: FramePoint, widthPx: number | null): number {
  const { width, height } = pair.shape;
  const near = Math.max(BESIDE_PX, BESIDE_WIDTHS * (widthPx ?? 0));
  // Holes of one or two pixels were filled from their neighbours.
  const isHole = (i: number): boolean => Number.isNaN(pair.rise.data[i]!);
  const seen = new Set<number>();
  let reach = 0;
  for (let y = Math.max(0, Math.ceil(at[1] - near)); y <= Math.min(height - 1, at[1] + near); y++) {
    for (let x = Math.max(0, Math.ceil(at[0] - near)); x <= Math.min(width - 1, at[0] + near); x++) {
      const start = y * width + x;
      if (Math.hypot(x - at[0], y - at[1]) > near || seen.has(start) || !isHole(start)) continue;
      reach = Math.max(reach, reachOfOne(start));
    }
  }
  return reach;

  function reachOfOne(start: number): number {
    const open = [start];
    let count = 0;
    let farthest = 0;
    let atEdge = false;
    seen.add(start);
    for (let i = open.pop(); i !== undefined; i = open.pop()) {
      count++;
      const [x, y] = [i % width, Math.floor(i / width)];
      farthest = Math.max(farthest, Math.hypot(x - at[0], y - at[1]));
      if (x === 0 || y === 0 || x === width - 1 || y === height - 1) {
        atEdge = true;
        continue;
      }
      for (const next of [i - 1, i + 1, i - width, i + width]) {
        if (seen.has(next) || !isHole(next)) continue;
        seen.add(next);
        open.push(next);
      }
    }
    return atEdge || count < LEAST_HOLE_PX ? 0 : farthest;
  }
}
