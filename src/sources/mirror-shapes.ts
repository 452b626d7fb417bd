// sources: a part's face → the changes that the room, mirrored in it, can make.
import type { PlacedView } from "../board/place-view.js";
import type { Polygon } from "../board/polygon.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { centralDifference } from "./central-difference.js";
import { type Column, windowColumn } from "./column.js";
import { type CoverageWindow, coverageWindow } from "./coverage-window.js";

/** Share of what a lens collects that it may veil its surroundings with. A judgement. */
export const VEIL_SHARE = 0.06;

/** How large each shape may be as a share of the face's step, in the order of the shapes: optics softer by a few tenths
 *  of a pixel, a halo of some percent of what a lens collects, an outline a third of a pixel off; the level and what
 *  the room shows inside the face are free.
 */
export const SHAPE_SHARES: readonly number[] = Object.freeze([
  Number.POSITIVE_INFINITY,
  0.4,
  VEIL_SHARE,
  0.4,
  0.4,
]);

/** Which of the shapes is the halo. */
export const VEIL_SHAPE = 2;

/** The first of the shapes that vary inside the face; those before it are its level and what blur and place make of
 *  that. */
export const FIRST_INNER_SHAPE = SHAPE_SHARES.length;

/** Room around a face for its widest blur, in units of that blur's width. */
const MARGIN_SIGMAS = 3.5;
/** Stray light of a lens reaches further than its blur: width of the halo, px. */
export const HALO_SIGMA_PX = 4;
/** Faces of fewer pixels have no inside to slope; of fewer than the second, none to curve. */
const SLOPING_PX = 9;
const CURVING_PX = 30;

/** Smooth changes over a polygon's face that end sharply at its edge: level, slopes and curvatures, and what a face
 *  laid a little beside its place leaves. No conduction could make such a change without warming the board around.
 *  @param offset number of pixels in the pictures before this one.
 *  @returns K per pixel each, scaled to about 1; none where the face is out of the picture.
 */
export function mirrorShapes(
  view: PlacedView,
  polygon: Polygon,
  width: number,
  height: number,
  opticsSigmaPx: number,
  offset = 0,
): Column[] {
  const window = coverageWindow(view, polygon, width, height, haloMarginPx(opticsSigmaPx));
  return window === null ? [] : faceShapes(window, width, opticsSigmaPx, offset);
}

/** Room that the shapes of a face need around it, px. */
export function haloMarginPx(opticsSigmaPx: number): number {
  return MARGIN_SIGMAS * Math.hypot(HALO_SIGMA_PX, opticsSigmaPx);
}

/** The same for a face given by its coverage in a window.
 *  @param width width of the picture, px.
 */
export function faceShapes(
  window: CoverageWindow,
  width: number,
  opticsSigmaPx: number,
  offset: number,
): Column[] {
  const { coverage, width: w, height: h } = window;
  let sum = 0;
  let sx = 0;
  let sy = 0;
  for (let i = 0; i < coverage.length; i++) {
    const c = coverage[i]!;
    sum += c;
    sx += c * (i % w);
    sy += c * Math.floor(i / w);
  }
  if (!(sum > 0)) return [];
  const half = Math.max(1, Math.sqrt(sum) / 2);
  const shape = (of: (u: number, v: number) => number) => {
    const out = new Float32Array(coverage.length);
    for (let i = 0; i < out.length; i++) {
      const c = coverage[i]!;
      if (c !== 0) out[i] = c * of(((i % w) - sx / sum) / half, (Math.floor(i / w) - sy / sum) / half);
    }
    return gaussianFilter(out, w, h, opticsSigmaPx);
  };
  const level = shape(() => 1);
  // The optics may be softer than assumed, or veil what is around: what that spreads beyond the edge are shapes of
  // their own.
  const spread = (sigmaPx: number) =>
    gaussianFilter(level, w, h, sigmaPx).map((value, i) => value - level[i]!);
  const shapes = [
    level,
    spread(opticsSigmaPx),
    spread(HALO_SIGMA_PX),
    centralDifference(level, w, h, "x"),
    centralDifference(level, w, h, "y"),
  ];
  if (sum >= SLOPING_PX)
    shapes.push(
      shape((u) => u),
      shape((_, v) => v),
    );
  if (sum >= CURVING_PX)
    shapes.push(
      shape((u) => u * u),
      shape((u, v) => u * v),
      shape((_, v) => v * v),
    );
  return shapes.map((values) => windowColumn(window, width, offset, values));
}
