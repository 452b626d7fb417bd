// import: an outline as somebody gives it, a size or corners → its corners.
import type { Point } from "../board/polygon.js";
import type { RectangleSize } from "./import-options.js";

/** The corners of an outline that was given: those of a rectangle from the origin, or the corners themselves, mm. */
export function outlineCorners(outline: RectangleSize | readonly Point[]): readonly Point[] {
  if (!("widthMm" in outline)) return outline;
  const { widthMm, heightMm } = outline;
  return [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ];
}
