// page: how a drawing begins from a picture → the points that are asked for, and those that were picked.
import type { Point } from "../../board/polygon.js";
import { change, chooseOutline, type DrawSession, type StartWay } from "./draw-session.js";
import { setFiducials, shownPlacement, withPlacement } from "./fiducial-actions.js";
import { startFromCorners, startFromLength } from "./model/start-from-picture.js";
import { say } from "./say.js";

/** Points that a way asks for. */
export const START_COUNT: Readonly<Record<StartWay, number>> = Object.freeze({
  corners: 4,
  length: 2,
  "one by one": 0,
});

/** Begin anew, another way or the same. */
export function takeWay(session: DrawSession, way: StartWay): void {
  session.startWay.value = way;
  session.startPoints.value = [];
}

/** Take a point that was picked on the picture.
 *  @returns false if none is asked for: it is a fiducial then. */
export function startPick({ startWay, startPoints }: DrawSession, pixel: Point): boolean {
  const count = START_COUNT[startWay.value];
  if (count === 0) return false;
  // One point more begins anew.
  const before = startPoints.value.length >= count ? [] : startPoints.value;
  startPoints.value = [...before, pixel];
  const left = count - startPoints.value.length;
  say(left > 0 ? `Picked; ${left} more` : "All picked; now type the size");
  return true;
}

/** Make the outline and four fiducials of the corners that were picked. A size that is missing is asked for: the button
 *  can be reached before both are typed, since Tab leads from the last one to it.
 */
export function beginFromCorners(
  session: DrawSession,
  widthMm: number | null,
  heightMm: number | null,
): void {
  if (widthMm === null || heightMm === null) {
    say("Type the board's size first: left to right and top to bottom, in mm.", true);
    return;
  }
  const placement = shownPlacement(session);
  const [a, b, c, d] = session.startPoints.value;
  if (placement === null || !a || !b || !c || !d) return;
  const { outline, fiducials } = startFromCorners([a, b, c, d], widthMm, heightMm, placement.side);
  const next = withPlacement(session, { ...session.drawing.value, outline }, { ...placement, fiducials });
  change(session, next, "Make outline and fiducials of four corners", null, null);
  takeWay(session, "one by one");
  chooseOutline(session);
  say(
    `The outline and four fiducials are made. ${session.placing.value?.text ?? ""}`,
    session.placing.value?.isWrong,
  );
}

/** Make two fiducials of the length that was picked; a length that is missing is asked for. */
export function beginFromLength(session: DrawSession, lengthMm: number | null): void {
  if (lengthMm === null) {
    say("Type the length between the two points first, in mm.", true);
    return;
  }
  const placement = shownPlacement(session);
  const [a, b] = session.startPoints.value;
  if (placement === null || !a || !b) return;
  const fiducials = startFromLength(a, b, lengthMm, placement.side, placement.width);
  setFiducials(session, fiducials, "Make two fiducials of a length");
  takeWay(session, "one by one");
}
