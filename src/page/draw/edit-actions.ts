// page: a key, a button or a form → what is chosen moved, resized, turned, copied or removed, and said.
import type { Point, Polygon } from "../../board/polygon.js";
import { change, choose, chosenRegions, type DrawSession } from "./draw-session.js";
import {
  type ArrayWords,
  addRegion,
  arrayRegions,
  copyRegions,
  removeRegions,
  reshapeRegions,
} from "./model/change-regions.js";
import type { Drawing } from "./model/drawing.js";
import { insertCorner, moveCorner, removeCorner } from "./model/edit-polygon.js";
import { polygonOf, type ShapeName, withPolygon } from "./model/find-under.js";
import { growPolygon, movePolygon, turnPolygon } from "./model/move-shape.js";
import { middleOf, nameRegions, sayPoint, sayRegions, saySize } from "./model/say-shape.js";
import { say } from "./say.js";

/** Copies are put this many steps of the grid to the right and down, so that they are seen. */
const COPY_STEPS = 4;

/** Call a shape by its name. */
function nameShape(drawing: Drawing, shape: ShapeName): string {
  if (shape === "outline") return "the outline";
  return nameRegions(drawing.regions.filter(({ id }) => id === shape));
}

/** Change the shapes of all that is chosen; steps of one kind after each other are undone together. */
function reshapeChosen(session: DrawSession, verb: string, reshape: (polygon: Polygon) => Polygon): void {
  const { drawing, chosen, isOutlineChosen } = session;
  if (isOutlineChosen.value) {
    const outline = reshape(drawing.value.outline);
    const said = `The outline, ${saySize(outline)}`;
    change(session, { ...drawing.value, outline }, `${verb} the outline`, `${verb} outline`, said);
    return;
  }
  const ids = chosen.value;
  if (ids.size === 0) {
    say("Choose a region first");
    return;
  }
  const next = reshapeRegions(drawing.value, ids, reshape);
  const did = `${verb} ${nameRegions(chosenRegions(session))}`;
  change(session, next, did, `${verb} ${[...ids].join()}`, sayRegions(next, ids));
}

/** Move what is chosen: the chosen corner if there is one, else the whole. */
export function nudge(session: DrawSession, by: Point): void {
  const { shape, corner, drawing } = session;
  if (shape.value === null || corner.value === null) {
    reshapeChosen(session, "Move", (polygon) => movePolygon(polygon, by));
    return;
  }
  const [at] = movePolygon([polygonOf(drawing.value, shape.value)[corner.value]!], by);
  putCorner(session, shape.value, corner.value, at!, true);
}

/** Make what is chosen wider and higher. */
export function resize(session: DrawSession, by: Point): void {
  reshapeChosen(session, "Resize", (polygon) => growPolygon(polygon, by));
}

/** Turn what is chosen about its middle, as it is seen clockwise. */
export function turn(session: DrawSession, degrees: number): void {
  const seen = session.side.value === "top" ? degrees : -degrees;
  const shapes = session.isOutlineChosen.value
    ? session.drawing.value.outline
    : chosenRegions(session).flatMap(({ polygon }) => polygon);
  reshapeChosen(session, "Turn", (polygon) => turnPolygon(polygon, middleOf(shapes), seen));
}

/** Put a corner of a shape elsewhere.
 *  @param joins true: undone together with the same move before it. */
export function putCorner(
  session: DrawSession,
  shape: ShapeName,
  corner: number,
  at: Point,
  joins = false,
): void {
  const { drawing } = session;
  const polygon = moveCorner(polygonOf(drawing.value, shape), corner, at);
  const did = `Move corner ${corner + 1} of ${nameShape(drawing.value, shape)}`;
  const key = joins ? `corner ${shape} ${corner}` : null;
  change(
    session,
    withPolygon(drawing.value, shape, polygon),
    did,
    key,
    `Corner ${corner + 1} at ${sayPoint(at)}`,
  );
}

/** Put a new corner into an edge, and choose it. */
export function addCorner(session: DrawSession, shape: ShapeName, edge: number, at: Point): void {
  const { drawing } = session;
  const polygon = insertCorner(polygonOf(drawing.value, shape), edge, at);
  change(
    session,
    withPolygon(drawing.value, shape, polygon),
    `Add a corner to ${nameShape(drawing.value, shape)}`,
  );
  session.corner.value = edge + 1;
}

/** Take the chosen corner, else all that is chosen. */
export function removeChosen(session: DrawSession): void {
  const { drawing, shape, corner, chosen } = session;
  if (shape.value !== null && corner.value !== null) {
    takeCorner(session, shape.value, corner.value);
    return;
  }
  if (session.isOutlineChosen.value) {
    change(session, { ...drawing.value, outline: [] }, "Remove the outline");
    choose(session, []);
    return;
  }
  if (chosen.value.size === 0) return;
  change(
    session,
    removeRegions(drawing.value, chosen.value),
    `Remove ${nameRegions(chosenRegions(session))}`,
  );
  choose(session, []);
}

/** Take a corner away; three stay. */
export function takeCorner(session: DrawSession, shape: ShapeName, corner: number): void {
  const { drawing } = session;
  const polygon = polygonOf(drawing.value, shape);
  const less = removeCorner(polygon, corner);
  if (less === polygon) {
    say("A shape keeps three corners");
    return;
  }
  const did = `Remove corner ${corner + 1} of ${nameShape(drawing.value, shape)}`;
  change(session, withPolygon(drawing.value, shape, less), did);
  session.corner.value = null;
}

/** Copy what is chosen, and choose the copies. */
export function copyChosen(session: DrawSession): void {
  const { drawing, chosen, gridMm, side } = session;
  if (chosen.value.size === 0) {
    say("Choose a region to copy first");
    return;
  }
  const by = COPY_STEPS * (gridMm.value || 0.5);
  const copies = copyRegions(drawing.value, chosen.value, [side.value === "top" ? by : -by, by]);
  const refs = copies.drawing.regions.filter(({ id }) => copies.ids.includes(id));
  change(
    session,
    copies.drawing,
    `Copy ${nameRegions(chosenRegions(session))}`,
    null,
    `Copied as ${nameRegions(refs)}`,
  );
  choose(session, copies.ids);
}

/** Set copies of what is chosen out in columns and rows. */
export function arrayChosen(session: DrawSession, words: ArrayWords): void {
  const { drawing, chosen } = session;
  const set = arrayRegions(drawing.value, chosen.value, words);
  change(
    session,
    set.drawing,
    `Set out ${words.columns} × ${words.rows}`,
    null,
    `${set.ids.length} copies set out`,
  );
  choose(session, [...chosen.value, ...set.ids]);
}

/** Add a region of a shape on the side that is seen, and choose it. */
export function addShape(session: DrawSession, polygon: Polygon): void {
  const added = addRegion(session.drawing.value, polygon, session.side.value);
  const said = `${sayRegions(added.drawing, new Set([added.id]))} added`;
  change(session, added.drawing, `Add ${added.drawing.regions.at(-1)!.ref}`, null, said);
  choose(session, [added.id]);
}
