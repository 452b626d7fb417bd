// place: the earlier frame and its board → pixels at the board's edges, in small groups that keep one contrast each.
import { findEdges } from "../align/edge-samples.js";
import type { Raster } from "../core/raster.js";
import { ZONE } from "./board-zones.js";
import { edgePicture } from "./edge-picture.js";

/** Groups of fewer edge pixels say nothing once their contrast is fitted. */
const LEAST_PIXELS = 5;

/** What detail edges are compared at. */
export interface EdgeDetail {
  /** Band-pass, px of the earlier frame. */
  readonly fineSigmaPx: number;
  readonly coarseSigmaPx: number;
  /** Side of a group: an edge keeps one contrast over it, and it holds enough pixels to tell the contrast, px. */
  readonly groupPx: number;
}

/** The finest detail that edges are compared at: a wider band brings in the room that faces mirror, and smaller groups
 *  fit their noise.
 */
export const FINEST_DETAIL: EdgeDetail = Object.freeze({ fineSigmaPx: 1.2, coarseSigmaPx: 2.5, groupPx: 9 });

/** Pixels at edges of the board, sorted by group. */
export interface EdgeCells {
  readonly count: number;
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Band-passed value, less the mean of its group. */
  readonly value: Float32Array;
  /** First pixel of each group, and the end of the last. */
  readonly starts: Int32Array;
  /** 1 = the group lies inside the board, clear of its outline. */
  readonly inner: Uint8Array;
}

/** Read the edges of the board.
 *  @param frame without the sensor's lines, from `edgeFrame`.
 *  @param zones from `boardZones`.
 */
export function edgeCells(frame: Raster<"degC">, zones: Uint8Array, detail: EdgeDetail): EdgeCells {
  const { width, height } = frame;
  const { groupPx } = detail;
  const picture = edgePicture(frame, detail).data;
  const { places } = findEdges(picture, width, height);
  const columns = Math.ceil(width / groupPx);
  const groups = new Map<number, number[]>();
  for (const i of places) {
    if (zones[i] === ZONE.off) continue;
    const y = Math.floor(i / width);
    const group = 2 * (Math.floor(y / groupPx) * columns + Math.floor((i - y * width) / groupPx));
    // Inner pixels and those of the outline never share a group.
    const key = group + (zones[i] === ZONE.inner ? 1 : 0);
    const list = groups.get(key);
    if (list === undefined) groups.set(key, [i]);
    else list.push(i);
  }
  const kept = [...groups].filter(([, list]) => list.length >= LEAST_PIXELS).sort(([a], [b]) => a - b);
  const pixels = kept.flatMap(([, list]) => list);
  const value = Float32Array.from(pixels, (i) => picture[i]!);
  const starts = new Int32Array(kept.length + 1);
  kept.forEach(([, list], g) => {
    const from = starts[g]!;
    const to = from + list.length;
    starts[g + 1] = to;
    const mean = value.subarray(from, to).reduce((sum, one) => sum + one, 0) / list.length;
    for (let k = from; k < to; k++) value[k]! -= mean;
  });
  return {
    count: pixels.length,
    x: Float32Array.from(pixels, (i) => i % width),
    y: Float32Array.from(pixels, (i) => Math.floor(i / width)),
    value,
    starts,
    inner: Uint8Array.from(kept, ([key]) => key & 1),
  };
}
