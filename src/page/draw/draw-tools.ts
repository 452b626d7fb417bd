// page: corners that are put one by one, by pointer, keyboard or number → outlines and regions.
import type { Point, Polygon } from "../../board/polygon.js";
import { change, chooseOutline, type DrawSession, type Tool } from "./draw-session.js";
import { addShape } from "./edit-actions.js";
import { LEAST_CORNERS } from "./model/edit-polygon.js";
import { LEAST_SIZE_MM } from "./model/move-shape.js";
import { cornersOf, type Rectangle, rectangleBetween, rectangleOnEdge } from "./model/rectangle.js";
import { sayPoint, saySize } from "./model/say-shape.js";
import { type Snapped, snapPoint } from "./model/snap.js";
import { say } from "./say.js";

/** Corners and edges pull from as far as this on the screen, px. */
const REACH_PX = 9;

/** What each tool asks for next, by the number of corners that it has. */
const ASKS: Readonly<Record<Exclude<Tool, "choose">, readonly string[]>> = {
  outline: ["First corner of the outline", "Next corner", "Next corner", "Next corner, or close it"],
  polygon: ["First corner of the region", "Next corner", "Next corner", "Next corner, or close it"],
  rectangle: ["One corner of the rectangle", "The opposite corner"],
  turned: ["One end of an edge", "The other end of that edge", "A point of the opposite edge"],
};

/** Say what a tool asks for. */
export function asksFor(tool: Tool, count: number): string {
  if (tool === "choose") return "";
  const words = ASKS[tool];
  return words[Math.min(count, words.length - 1)]!;
}

/** Take up a tool; what another one had begun is dropped. */
export function takeTool(session: DrawSession, tool: Tool): void {
  session.points.value = [];
  session.preview.value = null;
  session.tool.value = tool;
  if (tool !== "choose") say(`${asksFor(tool, 0)}: point, or arrow keys and Enter`);
}

/** Pull a point to what it was meant for.
 *  @param isFree true: nothing pulls. */
export function snapped(session: DrawSession, point: Point, isFree: boolean): Snapped {
  const { drawing, points, gridMm, board, tool, side } = session;
  if (isFree) return { point, to: null };
  const { outline, regions } = drawing.value;
  const seen = regions.filter((region) => region.side === side.value).map(({ polygon }) => polygon);
  // The first corner pulls too, so that the shape can be closed at it.
  const own = drawsCorner(tool.value) ? [points.value.slice(0, 1)] : [];
  return snapPoint(point, {
    gridMm: gridMm.value,
    reachMm: REACH_PX / board.camera.value.scale,
    polygons: tool.value === "outline" ? [...own, ...seen] : [...own, outline, ...seen],
    from: drawsCorner(tool.value) ? (points.value.at(-1) ?? null) : null,
  });
}

function drawsCorner(tool: Tool): boolean {
  return tool === "outline" || tool === "polygon" || tool === "turned";
}

/** Put the next corner of what is being drawn; the last one finishes it. */
export function putPoint(session: DrawSession, point: Point): void {
  const { tool, points } = session;
  const before = points.value;
  const last = before.at(-1);
  const isSame = (other: Point | undefined): boolean =>
    other !== undefined && Math.hypot(other[0] - point[0], other[1] - point[1]) < 1e-9;
  if (tool.value === "choose") return;
  if (tool.value === "outline" || tool.value === "polygon") {
    // The first corner again closes it, and so does the last one again.
    if (before.length >= LEAST_CORNERS && (isSame(before[0]) || isSame(last))) {
      finishPolygon(session);
      return;
    }
  }
  if (isSame(last)) return;
  points.value = [...before, point];
  const polygon = finished(tool.value, points.value);
  if (polygon === null) {
    say(`Corner at ${sayPoint(point)}. ${asksFor(tool.value, points.value.length)}`);
    return;
  }
  points.value = [];
  addShape(session, polygon);
}

/** Close the polygon that is being drawn. */
export function finishPolygon(session: DrawSession): void {
  const { tool, points } = session;
  const polygon = points.value;
  if (polygon.length < LEAST_CORNERS) {
    say("A shape needs three corners or more");
    return;
  }
  points.value = [];
  if (tool.value === "polygon") {
    addShape(session, polygon);
    return;
  }
  setOutline(session, polygon);
}

/** Make a polygon the outline, and choose it. */
function setOutline(session: DrawSession, outline: Polygon): void {
  const next = { ...session.drawing.value, outline };
  change(session, next, "Draw the outline", null, `Outline of ${saySize(outline)} drawn`);
  session.tool.value = "choose";
  chooseOutline(session);
}

/** Take the last corner back; with none left, the tool is put down. */
export function takePointBack(session: DrawSession): void {
  const { points, tool } = session;
  if (points.value.length > 0) {
    points.value = points.value.slice(0, -1);
    say(`Corner taken back. ${asksFor(tool.value, points.value.length)}`);
  } else {
    takeTool(session, "choose");
  }
}

/** The shape that is being drawn, with the point that would come next: for the eye. */
export function pendingShape(tool: Tool, points: readonly Point[], next: Point): Polygon {
  const first = points[0];
  if (first === undefined) return [];
  if (tool === "rectangle") return cornersOf(rectangleBetween(first, next));
  const second = points[1];
  if (tool === "turned" && second !== undefined) return cornersOf(rectangleOnEdge(first, second, next));
  return [...points, next];
}

function finished(tool: Tool, points: readonly Point[]): Polygon | null {
  const [a, b, c] = points;
  if (tool === "rectangle" && a && b) return atLeast(rectangleBetween(a, b));
  if (tool === "turned" && a && b && c) return atLeast(rectangleOnEdge(a, b, c));
  return null;
}

/** A rectangle without width or height would be a line: it gets the least size. */
function atLeast(rectangle: Rectangle): Polygon {
  const widthMm = Math.max(LEAST_SIZE_MM, rectangle.widthMm);
  const heightMm = Math.max(LEAST_SIZE_MM, rectangle.heightMm);
  return cornersOf({ ...rectangle, widthMm, heightMm });
}
