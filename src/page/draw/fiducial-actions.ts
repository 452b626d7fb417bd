// page: points that are picked on the picture and on the board → fiducials, and what was solved, said.
import type { View } from "../../board/board-schema.js";
import type { Point } from "../../board/polygon.js";
import { change, type DrawSession } from "./draw-session.js";
import type { Drawing, DrawnFiducial, Placement, Side } from "./model/drawing.js";
import { sayPoint } from "./model/say-shape.js";
import { say } from "./say.js";

/** The placement of the picture that is shown; a new one if it has none. Null without a picture. */
export function shownPlacement(session: DrawSession): Placement | null {
  const picture = session.picture.value;
  if (picture === null) return null;
  const { width, height } = picture;
  return (
    session.drawing.value.placements[picture.key] ?? {
      side: session.side.value,
      width,
      height,
      fiducials: [],
    }
  );
}

/** Set one end of a fiducial: of the one that is chosen, else of the first that misses this end, else of a new one. */
export function pickEnd(session: DrawSession, end: keyof DrawnFiducial, point: Point): void {
  const placement = shownPlacement(session);
  if (placement === null) return;
  const { fiducials } = placement;
  const missing = fiducials.findIndex((fiducial) => fiducial[end] === null);
  const index = session.fiducial.value ?? (missing < 0 ? fiducials.length : missing);
  const old = fiducials[index] ?? { board: null, pixel: null };
  const next = { ...old, [end]: point };
  setFiducials(session, replaced(fiducials, index, next), `Pick fiducial ${index + 1}`, null, false);
  session.fiducial.value = next.board === null || next.pixel === null ? index : null;
  const place =
    end === "board" ? sayPoint(point) : `pixel ${point.map((value) => value.toFixed(1)).join(", ")}`;
  const other = end === "board" ? next.pixel : next.board;
  const ask = end === "board" ? "now pick it on the picture" : "now pick it on the board";
  say(
    `Fiducial ${index + 1} at ${place}${other === null ? `; ${ask}` : `. ${session.placing.value?.text ?? ""}`}`,
  );
}

/** Change an end by number. */
export function typeEnd(session: DrawSession, index: number, end: keyof DrawnFiducial, point: Point): void {
  const placement = shownPlacement(session);
  const old = placement?.fiducials[index];
  if (placement === null || old === undefined) return;
  const next = replaced(placement.fiducials, index, { ...old, [end]: point });
  setFiducials(session, next, `Change fiducial ${index + 1}`, `fiducial ${index} ${end}`);
}

/** Take a fiducial away. */
export function removeFiducial(session: DrawSession, index: number): void {
  const placement = shownPlacement(session);
  if (placement === null) return;
  session.fiducial.value = null;
  setFiducials(
    session,
    placement.fiducials.filter((_, i) => i !== index),
    `Remove fiducial ${index + 1}`,
  );
}

/** Say which side the picture shows; the board is then looked at from that side. */
export function setPictureSide(session: DrawSession, side: Side): void {
  session.side.value = side;
  const placement = shownPlacement(session);
  if (placement === null) return;
  place(session, { ...placement, side }, `The picture shows the ${side} side`);
}

/** Take the fiducials of a view over, as one step. */
export function takeView(session: DrawSession, view: View, did: string): void {
  session.side.value = view.side;
  session.fiducial.value = null;
  place(session, { side: view.side, ...view.frame, fiducials: view.fiducials }, did);
}

/** Set all fiducials of the picture that is shown. */
export function setFiducials(
  session: DrawSession,
  fiducials: readonly DrawnFiducial[],
  did: string,
  key: string | null = null,
  isSaid = true,
): void {
  const placement = shownPlacement(session);
  if (placement !== null) place(session, { ...placement, fiducials }, did, key, isSaid);
}

/** The drawing with the placement of the picture that is shown. */
export function withPlacement(session: DrawSession, drawing: Drawing, placement: Placement): Drawing {
  const key = session.picture.value?.key;
  if (key === undefined) return drawing;
  return { ...drawing, placements: { ...drawing.placements, [key]: placement } };
}

function place(
  session: DrawSession,
  placement: Placement,
  did: string,
  key: string | null = null,
  isSaid = true,
): void {
  change(session, withPlacement(session, session.drawing.value, placement), did, key, null);
  if (isSaid) say(`${did}. ${session.placing.value?.text ?? ""}`);
}

function replaced<T>(list: readonly T[], index: number, item: T): T[] {
  const next = [...list];
  next[index] = item;
  return next;
}
