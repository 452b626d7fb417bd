// page: a pointer on the board → corners put, regions chosen, dragged and reshaped.
import { boundsOf, type Point, type Polygon, pointInPolygon } from "../../board/polygon.js";
import { change, choose, chooseOutline, type DrawSession } from "./draw-session.js";
import { finishPolygon, putPoint, snapped } from "./draw-tools.js";
import { addCorner, putCorner } from "./edit-actions.js";
import { pickEnd } from "./fiducial-actions.js";
import { reshapeRegions } from "./model/change-regions.js";
import { moveCorner, nearestEdge } from "./model/edit-polygon.js";
import {
  cornerUnder,
  polygonOf,
  regionsWithin,
  regionUnder,
  type ShapeName,
  withPolygon,
} from "./model/find-under.js";
import { movePolygon } from "./model/move-shape.js";
import { nameRegions, sayRegions } from "./model/say-shape.js";
import { snapMove } from "./model/snap.js";
import { CLICK_PX, type Drag, type PaneUser } from "./pane-gestures.js";

/** A handle is hit from this far, px; a finger is thicker than a mouse's arrow. */
const HIT_PX = Object.freeze({ mouse: 8, pen: 12, touch: 22 });

/** What pointers do on the board. */
export function boardPointer(session: DrawSession): PaneUser {
  const { tool, mode, side, drawing, board } = session;
  const reachMm = (event: PointerEvent): number =>
    (HIT_PX[event.pointerType as keyof typeof HIT_PX] ?? HIT_PX.mouse) / board.camera.value.scale;

  const begin = (at: Point, event: PointerEvent): Drag | null => {
    if (mode.value === "place") return null;
    if (tool.value !== "choose") return tool.value === "rectangle" ? dragRectangle(session) : null;
    if (event.shiftKey) return dragFrame(session, at);
    const reach = reachMm(event);
    const { shape } = session;
    const own = shape.value === null ? [] : polygonOf(drawing.value, shape.value);
    const corner = cornerUnder(own, at, handleReach(own, at, reach));
    if (shape.value !== null && corner !== null) return dragCorner(session, shape.value, corner);
    const region = regionUnder(drawing.value, side.value, at, reach / 3);
    if (region !== null && session.chosen.value.has(region.id)) return dragRegions(session, at, region.id);
    return null;
  };

  const click = (at: Point, event: PointerEvent): void => {
    if (mode.value === "place") {
      pickEnd(session, "board", snapped(session, at, event.altKey).point);
      return;
    }
    if (tool.value !== "choose") {
      if (event.detail > 1 && (tool.value === "polygon" || tool.value === "outline")) finishPolygon(session);
      else putPoint(session, snapped(session, at, event.altKey).point);
      return;
    }
    const reach = reachMm(event);
    const region = regionUnder(drawing.value, side.value, at, reach / 3);
    if (region !== null) {
      const { chosen } = session;
      if (!event.ctrlKey && !event.metaKey) choose(session, [region.id]);
      else if (chosen.value.has(region.id))
        choose(
          session,
          [...chosen.value].filter((id) => id !== region.id),
        );
      else choose(session, [...chosen.value, region.id]);
      return;
    }
    const edge = nearestEdge(drawing.value.outline, at);
    if (edge !== null && edge.distanceMm <= reach) chooseOutline(session);
    else choose(session, []);
  };

  const hover = (at: Point, event: PointerEvent): void => {
    if (tool.value === "choose" && mode.value === "draw") return;
    board.cursor.value = snapped(session, at, event.altKey).point;
  };
  return { begin, click, hover };
}

/** Inside a small shape the handles would leave nothing to take hold of it by: they reach a quarter of it at most. */
function handleReach(polygon: Polygon, at: Point, reachMm: number): number {
  if (polygon.length === 0 || !pointInPolygon(polygon, at)) return reachMm;
  const { minX, minY, maxX, maxY } = boundsOf(polygon);
  return Math.min(reachMm, Math.min(maxX - minX, maxY - minY) / 4);
}

/** Put a corner into the edge under a point, if a shape with handles is there. */
export function doubleClick(session: DrawSession, at: Point): void {
  const { shape, drawing, tool, board } = session;
  if (tool.value !== "choose" || shape.value === null) return;
  const edge = nearestEdge(polygonOf(drawing.value, shape.value), at);
  if (edge === null || edge.distanceMm > HIT_PX.pen / board.camera.value.scale) return;
  addCorner(session, shape.value, edge.edge, snapped(session, edge.at, false).point);
}

/** Pressed and dragged, a rectangle is done in one; pressed and let go, the second corner follows. */
function dragRectangle(session: DrawSession): Drag {
  let isBegun = session.points.value.length > 0;
  const { board } = session;
  return {
    move: (at, event, moved) => {
      if (!isBegun && moved > CLICK_PX) {
        putPoint(session, board.cursor.value);
        isBegun = true;
      }
      if (isBegun) board.cursor.value = snapped(session, at, event.altKey).point;
    },
    end: (at, event) => putPoint(session, snapped(session, at, event.altKey).point),
    cancel: () => {
      session.points.value = [];
    },
  };
}

function dragFrame(session: DrawSession, from: Point): Drag {
  const end = (): void => {
    session.choosing.value = null;
  };
  return {
    move: (at) => {
      session.choosing.value = [from, at];
    },
    end: (at, _event, moved) => {
      end();
      const { drawing, side, chosen } = session;
      const under = regionUnder(drawing.value, side.value, at, 0);
      if (moved > CLICK_PX)
        choose(session, [...chosen.value, ...regionsWithin(drawing.value, side.value, from, at)]);
      else if (under !== null) choose(session, [...chosen.value, under.id]);
    },
    cancel: end,
  };
}

function dragCorner(session: DrawSession, shape: ShapeName, corner: number): Drag {
  const begun = session.drawing.value;
  session.corner.value = corner;
  const polygon = polygonOf(begun, shape);
  const target = (at: Point, event: PointerEvent): Point => {
    // Its own corners and edges would hold it where it is.
    const others = withPolygon(begun, shape, []);
    const free = { ...session, drawing: { value: others } } as DrawSession;
    return snapped(free, at, event.altKey).point;
  };
  return {
    move: (at, event, moved) => {
      if (moved <= CLICK_PX) return;
      const moving = moveCorner(polygon, corner, target(at, event));
      session.preview.value = withPolygon(begun, shape, moving);
    },
    end: (at, event, moved) => {
      session.preview.value = null;
      if (moved > CLICK_PX) putCorner(session, shape, corner, target(at, event));
    },
    cancel: () => {
      session.preview.value = null;
    },
  };
}

function dragRegions(session: DrawSession, from: Point, held: number): Drag {
  const begun = session.drawing.value;
  const ids = session.chosen.value;
  const moved = (at: Point, event: PointerEvent) => {
    const by: Point = [at[0] - from[0], at[1] - from[1]];
    const others = begun.regions.filter(({ id, side }) => !ids.has(id) && side === session.side.value);
    const pulled = event.altKey
      ? by
      : snapMove(polygonOf(begun, held), by, {
          gridMm: session.gridMm.value,
          reachMm: HIT_PX.mouse / session.board.camera.value.scale,
          polygons: [begun.outline, ...others.map(({ polygon }) => polygon)],
        });
    return reshapeRegions(begun, ids, (polygon) => movePolygon(polygon, pulled));
  };
  const regions = begun.regions.filter(({ id }) => ids.has(id));
  return {
    move: (at, event, far) => {
      if (far > CLICK_PX) session.preview.value = moved(at, event);
    },
    end: (at, event, far) => {
      session.preview.value = null;
      if (far > CLICK_PX) {
        const next = moved(at, event);
        change(session, next, `Move ${nameRegions(regions)}`, null, sayRegions(next, ids));
      } else if (ids.size > 1 && !event.ctrlKey && !event.metaKey) choose(session, [held]);
      else if (event.ctrlKey || event.metaKey)
        choose(
          session,
          [...ids].filter((id) => id !== held),
        );
    },
    cancel: () => {
      session.preview.value = null;
    },
  };
}

/** Bounds of all that is drawn, mm; of a board of ordinary size if there is nothing. */
export function drawnBounds(session: DrawSession) {
  const { outline, regions } = session.drawing.value;
  const all = [...outline, ...regions.flatMap(({ polygon }) => polygon)];
  return all.length > 0 ? boundsOf(all) : { minX: 0, minY: 0, maxX: 80, maxY: 50 };
}
