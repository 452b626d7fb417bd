// sources: a part's face → the changes that the room, mirrored in it, can make.
import type { PlacedView } from "../board/place-view.js";
import type { Polygon } from "../board/polygon.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { coverageOf } from "./heat-columns.js";

/** Smooth changes over a polygon's face that end sharply at its edge: level, slopes and curvatures, and what a face
 *  laid a little beside its place leaves. No conduction could make such a change without warming the board around.
 *  @returns K per pixel each, scaled to about 1; none where the face is out of the picture.
 */
export function mirrorShapes(
  view: PlacedView,
  polygon: Polygon,
  width: number,
  height: number,
  opticsSigmaPx: number,
): Float32Array[] {
  const coverage = coverageOf(view, polygon, width, height);
  if (coverage === null) return [];
  let sum = 0;
  let sx = 0;
  let sy = 0;
  for (let i = 0; i < coverage.length; i++) {
    const c = coverage[i]!;
    if (c === 0) continue;
    sum += c;
    sx += c * (i % width);
    sy += c * Math.floor(i / width);
  }
  if (!(sum > 0)) return [];
  const half = Math.max(1, Math.sqrt(sum) / 2);
  const shape = (of: (u: number, v: number) => number) => {
    const out = new Float32Array(coverage.length);
    for (let i = 0; i < out.length; i++) {
      const c = coverage[i]!;
      if (c !== 0)
        out[i] = c * of(((i % width) - sx / sum) / half, (Math.floor(i / width) - sy / sum) / half);
    }
    return gaussianFilter(out, width, height, opticsSigmaPx);
  };
  const level = shape(() => 1);
  // The optics may be softer than assumed: what that spreads beyond the edge is a shape of its own.
  const softer = gaussianFilter(level, width, height, opticsSigmaPx).map((value, i) => value - level[i]!);
  const shapes = [level, softer, difference(level, 1), difference(level, width)];
  // A face of a few pixels has no inside to slope or curve.
  if (sum >= 9)
    shapes.push(
      shape((u) => u),
      shape((_, v) => v),
    );
  if (sum >= 30)
    shapes.push(
      shape((u) => u * u),
      shape((u, v) => u * v),
      shape((_, v) => v * v),
    );
  return shapes;
}

function difference(values: Float32Array, stride: number): Float32Array {
  const out = new Float32Array(values.length);
  for (let i = stride; i < values.length - stride; i++)
    out[i] = 0.5 * (values[i + stride]! - values[i - stride]!);
  return out;
}
