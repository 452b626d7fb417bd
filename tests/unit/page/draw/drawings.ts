// Drawings for the tests of the editor: a small board by hand, and any board by chance.
import * as fc from "fast-check";
import type { Point } from "../../../../src/board/polygon.js";
import { addRegion, type RegionFields } from "../../../../src/page/draw/model/change-regions.js";
import { type Drawing, EMPTY_DRAWING, type Side } from "../../../../src/page/draw/model/drawing.js";
import { cornersOf } from "../../../../src/page/draw/model/rectangle.js";

/** A board of 58 × 34 mm with U7 and C3 above, C4 below. Ids are 1, 2, 3. */
export function smallDrawing(): Drawing {
  const outline: Point[] = [
    [0, 0],
    [58, 0],
    [58, 34],
    [0, 34],
  ];
  let drawing: Drawing = { ...EMPTY_DRAWING, name: "tide clock", outline };
  const add = (ref: string, centre: Point, size: Point, side: Side, fields: RegionFields = {}) => {
    const polygon = cornersOf({ centre, widthMm: size[0], heightMm: size[1], turnDeg: 0 });
    drawing = addRegion(drawing, polygon, side, { ref, ...fields }).drawing;
  };
  add("U7", [20, 11], [6, 4], "top", { kind: "ic", label: "charge controller", nets: ["VSYS"] });
  add("C3", [31, 25], [1.6, 0.8], "top", { kind: "passive", finish: "ceramic" });
  add("C4", [9, 28], [2, 1.2], "bottom", { normallyWarm: true });
  return drawing;
}

const coordinate = fc.integer({ min: -2000, max: 8000 }).map((hundredths) => hundredths / 100);
export const anyPoint = fc.tuple(coordinate, coordinate);
export const anySide = fc.constantFrom<Side>("top", "bottom");
/** Polygons of three and more corners, crossing themselves or not. */
export const anyPolygon = fc.array(anyPoint, { minLength: 3, maxLength: 8 });

/** Any drawing, sound or not. */
export const anyDrawing: fc.Arbitrary<Drawing> = fc
  .record({
    name: fc.string({ maxLength: 12 }),
    thicknessMm: fc.option(fc.double({ min: 0.1, max: 3, noNaN: true })),
    outline: fc.oneof(fc.constant([]), anyPolygon),
    shapes: fc.array(fc.record({ polygon: anyPolygon, side: anySide, ref: fc.string({ maxLength: 5 }) }), {
      maxLength: 6,
    }),
    fiducials: fc.array(fc.record({ board: fc.option(anyPoint), pixel: fc.option(anyPoint) }), {
      maxLength: 5,
    }),
  })
  .map(({ name, thicknessMm, outline, shapes, fiducials }) => {
    let drawing: Drawing = {
      ...EMPTY_DRAWING,
      name,
      thicknessMm,
      outline,
      placements: { frame: { side: "top", width: 64, height: 48, fiducials } },
    };
    for (const { polygon, side, ref } of shapes) drawing = addRegion(drawing, polygon, side, { ref }).drawing;
    return drawing;
  });
