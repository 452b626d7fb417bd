// page: keys on a pane → corners put, what is chosen moved, the pane moved and enlarged.
import type { Point } from "../../board/polygon.js";
import { drawnBounds } from "./board-pointer.js";
import { choose, type DrawSession, type Pane, step } from "./draw-session.js";
import { asksFor, finishPolygon, putPoint, takePointBack, takeTool } from "./draw-tools.js";
import { copyChosen, nudge, removeChosen, resize, turn } from "./edit-actions.js";
import { pickEnd } from "./fiducial-actions.js";
import { fitCamera, pan, toScreen, zoomAt } from "./model/camera.js";
import { sayPoint } from "./model/say-shape.js";
import { say } from "./say.js";

/** Step of the arrow keys where the grid is off, mm. */
const STEP_MM = 0.5;
/** With Shift, steps are this share. */
const FINE = 0.1;
/** Where an arrow key leads, as it is seen. */
export const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** The step that an arrow key means, on the board as it is seen; null for other keys. */
export function arrowStep(session: DrawSession, event: KeyboardEvent): Point | null {
  const arrow = ARROWS[event.key];
  if (arrow === undefined) return null;
  const length = (session.gridMm.value || STEP_MM) * (event.shiftKey ? FINE : 1);
  // The bottom is seen mirrored: an arrow to the right goes to smaller x.
  const seen = session.side.value === "top" ? 1 : -1;
  return [arrow[0] * length * seen + 0, arrow[1] * length];
}

/** Keys that work wherever the focus is in the editor, save in a field.
 *  @returns true if the key was one of them. */
export function sessionKey(session: DrawSession, event: KeyboardEvent): boolean {
  const key = event.key.toLowerCase();
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return false;
  if (key === "z" && !event.shiftKey) step(session, "undo");
  else if (key === "y" || key === "z") step(session, "redo");
  else if (key === "d") copyChosen(session);
  else return false;
  return true;
}

/** Keys of the board.
 *  @returns true if the key did something. */
export function boardKey(session: DrawSession, event: KeyboardEvent): boolean {
  if (sessionKey(session, event)) return true;
  if (event.ctrlKey || event.metaKey) return false;
  if (cameraKey(session.board, event, () => fitBoard(session))) return true;
  const by = arrowStep(session, event);
  const draws = session.tool.value !== "choose" || session.mode.value === "place";
  if (by !== null) {
    if (draws) moveCursor(session, session.board, event.altKey ? [by[0] * 10, by[1] * 10] : by);
    else if (session.chosen.value.size === 0 && !session.isOutlineChosen.value) panBy(session.board, event);
    else if (event.altKey) resize(session, session.side.value === "top" ? by : [-by[0], by[1]]);
    else nudge(session, by);
    return true;
  }
  return draws ? drawKey(session, event) : chooseKey(session, event);
}

function drawKey(session: DrawSession, event: KeyboardEvent): boolean {
  const { tool, mode, points, board } = session;
  if (event.key === "Escape") takeTool(session, "choose");
  else if (event.key === "Backspace") takePointBack(session);
  else if (event.key !== "Enter" && event.key !== " ") return false;
  else if (mode.value === "place") pickEnd(session, "board", board.cursor.value);
  else if (event.shiftKey && points.value.length > 0 && tool.value !== "rectangle") finishPolygon(session);
  else putPoint(session, board.cursor.value);
  return true;
}

function chooseKey(session: DrawSession, event: KeyboardEvent): boolean {
  if (event.key === "Delete" || event.key === "Backspace") removeChosen(session);
  else if (event.key === "Escape") choose(session, []);
  else if (event.key === "[" || event.key === "{") turn(session, event.shiftKey ? -1 : -15);
  else if (event.key === "]" || event.key === "}") turn(session, event.shiftKey ? 1 : 15);
  else return false;
  return true;
}

/** Keys that enlarge any pane: + − 0.
 *  @param showAll shows all of it again. */
export function cameraKey(pane: Pane, event: KeyboardEvent, showAll: () => void): boolean {
  const { camera, size, limits } = pane;
  const middle: Point = [size.value.width / 2, size.value.height / 2];
  const zoom = (factor: number): void => {
    camera.value = zoomAt(camera.value, size.value, middle, factor, limits);
  };
  if (event.key === "+" || event.key === "=") zoom(1.25);
  else if (event.key === "-") zoom(0.8);
  else if (event.key === "0") showAll();
  else return false;
  return true;
}

/** Show all of the board, from the side that is seen. */
export function fitBoard(session: DrawSession): void {
  const { board, side } = session;
  if (board.size.value.width === 0) return;
  board.camera.value = fitCamera(drawnBounds(session), board.size.value, side.value === "bottom");
}

/** Move the cursor of a pane, and the pane along where it would leave it. */
export function moveCursor(session: DrawSession, pane: Pane, by: Point): void {
  const [x, y] = pane.cursor.value;
  pane.cursor.value = [roundStep(x + by[0]), roundStep(y + by[1])];
  const { camera, size } = pane;
  const [u, v] = toScreen(camera.value, size.value, pane.cursor.value);
  const room = 24;
  const over = (value: number, most: number): number =>
    value < room ? value - room : value > most - room ? value - most + room : 0;
  const [du, dv] = [over(u, size.value.width), over(v, size.value.height)];
  if (du !== 0 || dv !== 0) camera.value = pan(camera.value, [-du, -dv]);
  say(pane === session.board ? sayPoint(pane.cursor.value) : `Pixel ${pane.cursor.value.join(", ")}`);
}

/** Say where the cross of a pane stands, and what the keys do with it: when the pane gets the focus by the keyboard,
 *  before anything was moved. Where keys move shapes and not the cross, nothing is said.
 */
export function sayCross(session: DrawSession, pane: Pane): void {
  const { mode, tool, points, board, picture } = session;
  if (pane === board ? mode.value === "draw" && tool.value === "choose" : picture.value === null) return;
  const ask =
    mode.value === "draw"
      ? `${asksFor(tool.value, points.value.length)}: point, or arrow keys and Enter. `
      : "";
  say(`${ask}The cross is at ${crossText(session, pane)}`);
}

function crossText({ board }: DrawSession, pane: Pane): string {
  return pane === board ? sayPoint(pane.cursor.value) : `pixel ${pane.cursor.value.join(", ")}`;
}

function panBy(pane: Pane, event: KeyboardEvent): void {
  const [x, y] = ARROWS[event.key]!;
  const far = event.shiftKey ? 10 : 60;
  pane.camera.value = pan(pane.camera.value, [-x * far, -y * far]);
}

function roundStep(value: number): number {
  return Math.round(value * 1e4) / 1e4 + 0;
}
