// page: a drawing and what is to be done to its regions → the drawing changed.
import type { Point, Polygon } from "../../../board/polygon.js";
import { dropUndefined } from "../../../core/drop-undefined.js";
import type { Drawing, DrawnRegion, Side } from "./drawing.js";
import { movePolygon } from "./move-shape.js";
import { nextRef } from "./next-ref.js";

/** What may be said of a region in the form; `undefined` takes a field away. */
export type RegionFields = { readonly [Key in keyof Omit<DrawnRegion, "id">]?: DrawnRegion[Key] | undefined };

/** Add a region with a ref that is still free.
 *  @returns the drawing, and the id of the new region. */
export function addRegion(
  drawing: Drawing,
  polygon: Polygon,
  side: Side,
  fields: RegionFields = {},
): { drawing: Drawing; id: number } {
  const id = drawing.nextId;
  const ref = fields.ref ?? nextRef(drawing, lastRef(drawing) ?? "U0");
  const region = dropUndefined({ ...fields, id, ref, side, polygon }) as DrawnRegion;
  return { drawing: { ...drawing, nextId: id + 1, regions: [...drawing.regions, region] }, id };
}

/** Change fields of a region; the same drawing if there is no such region. */
export function changeRegion(drawing: Drawing, id: number, fields: RegionFields): Drawing {
  return mapRegions(
    drawing,
    new Set([id]),
    (region) => dropUndefined({ ...region, ...fields }) as DrawnRegion,
  );
}

/** Change the shapes of regions alike. */
export function reshapeRegions(
  drawing: Drawing,
  ids: ReadonlySet<number>,
  change: (polygon: Polygon) => Polygon,
): Drawing {
  return mapRegions(drawing, ids, (region) => ({ ...region, polygon: change(region.polygon) }));
}

/** Take regions away. */
export function removeRegions(drawing: Drawing, ids: ReadonlySet<number>): Drawing {
  if (!drawing.regions.some(({ id }) => ids.has(id))) return drawing;
  return { ...drawing, regions: drawing.regions.filter(({ id }) => !ids.has(id)) };
}

/** Copy regions, moved by an offset; the copies get the next free refs and all else of their models.
 *  @returns the drawing, and the ids of the copies in the order of the drawing. */
export function copyRegions(
  drawing: Drawing,
  ids: ReadonlySet<number>,
  offset: Point,
): { drawing: Drawing; ids: number[] } {
  let copied = drawing;
  const made: number[] = [];
  for (const region of drawing.regions) {
    if (!ids.has(region.id)) continue;
    const { id: _, side, polygon, ref, ...fields } = region;
    const added = addRegion(copied, movePolygon(polygon, offset), side, {
      ...fields,
      ref: nextRef(copied, ref),
    });
    copied = added.drawing;
    made.push(added.id);
  }
  return { drawing: copied, ids: made };
}

/** An array of copies. */
export interface ArrayWords {
  readonly columns: number;
  readonly rows: number;
  /** From one to the next, mm; negative: to the left, up. */
  readonly pitchXMm: number;
  readonly pitchYMm: number;
}

/** Most copies that one array makes: more is a slip of the finger. */
export const MOST_COPIES = 2000;

/** Set copies of regions out in columns and rows; the regions themselves are the first of it.
 *  @returns ids of the copies.
 *  @throws RangeError if there would be more than MOST_COPIES, or columns and rows are no whole numbers from 1 (a fault
 *  of the caller: the form checks). */
export function arrayRegions(
  drawing: Drawing,
  ids: ReadonlySet<number>,
  { columns, rows, pitchXMm, pitchYMm }: ArrayWords,
): { drawing: Drawing; ids: number[] } {
  const isCount = (count: number): boolean => Number.isInteger(count) && count >= 1;
  if (!isCount(columns) || !isCount(rows) || columns * rows * ids.size > MOST_COPIES) {
    throw new RangeError(`an array of ${columns} × ${rows} can't be made`);
  }
  let set = drawing;
  const made: number[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      if (row === 0 && column === 0) continue;
      const copies = copyRegions(set, ids, [column * pitchXMm, row * pitchYMm]);
      set = copies.drawing;
      made.push(...copies.ids);
    }
  }
  return { drawing: set, ids: made };
}

function mapRegions(
  drawing: Drawing,
  ids: ReadonlySet<number>,
  change: (region: DrawnRegion) => DrawnRegion,
): Drawing {
  if (!drawing.regions.some(({ id }) => ids.has(id))) return drawing;
  return {
    ...drawing,
    regions: drawing.regions.map((region) => (ids.has(region.id) ? change(region) : region)),
  };
}

function lastRef(drawing: Drawing): string | undefined {
  return drawing.regions[drawing.regions.length - 1]?.ref;
}
