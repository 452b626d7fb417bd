// page: a drawing that changes → a draft that survives reloads, and on request a map in the job.
import { effect } from "@preact/signals";
import { callApi } from "../../api/call-api.js";
import * as drafts from "../state/draft.js";
import { change, type DrawSession, frameKey } from "./draw-session.js";
import { draftOf, readDraft } from "./model/draft.js";
import { type Drawing, drawingOf, mapOf, viewOf } from "./model/drawing.js";
import { beginHistory } from "./model/history.js";
import { listProblems } from "./model/list-problems.js";
import { solvePlacing } from "./model/placing.js";
import { pointAt } from "./problem-list.js";
import { say } from "./say.js";

/** A hand that pauses this long looks at what it did, ms. */
const REST_MS = 150;

/** Take up the draft of the job, if there is one.
 *  @returns true if it holds what is not saved yet. */
export async function loadDraft(session: DrawSession): Promise<boolean> {
  const { props, history } = session;
  const found = readDraft(await drafts.loadDraft(props.job, draftName(session), callOf(session)));
  // What was drawn while the draft was on its way is worth more.
  if (found === null || history.value.now.before !== null) return false;
  const first = history.value.now.state;
  const key = frameKey(props);
  const kept = found.drawing.placements[key];
  const isPlaced = (kept?.fiducials.length ?? 0) > 0 || first.placements[key] === undefined;
  const placements = isPlaced
    ? found.drawing.placements
    : { ...found.drawing.placements, ...first.placements };
  const drawing: Drawing = { ...found.drawing, placements };
  history.value = beginHistory(drawing);
  return !sameMap(drawing, props.board === null ? null : drawingOf(props.board));
}

/** Keep the drawing as a draft after every change.
 *  @returns ends it, and sends what was not sent yet. */
export function keepDrafts(session: DrawSession): () => void {
  const { props, history } = session;
  let kept = history.value.now.state;
  const stop = effect(() => {
    const { state } = history.value.now;
    if (state === kept) return;
    kept = state;
    drafts.saveDraftSoon(props.job, draftName(session), () => draftOf(state), callOf(session));
  });
  return () => {
    stop();
    drafts.sendDrafts();
  };
}

/** List the problems of the map anew after each change; checking hundreds of regions takes longer than a frame, so it
 *  waits for the hand to rest.
 *  @returns ends it. */
export function followProblems({ history, problems }: DrawSession): () => void {
  let timer: ReturnType<typeof setTimeout> | null = null;
  let checked = history.value.now.state;
  const stop = effect(() => {
    const { state } = history.value.now;
    if (state === checked) return;
    if (timer !== null) clearTimeout(timer);
    timer = setTimeout(() => {
      checked = state;
      problems.value = listProblems(state);
    }, REST_MS);
  });
  return () => {
    stop();
    if (timer !== null) clearTimeout(timer);
  };
}

/** Save the map in the job, and hand it over with the view of the frame. A map with errors is not saved: the first of
 *  them is pointed at; fiducials that can't be believed are left out, and said to be. */
export async function saveDrawing(session: DrawSession): Promise<void> {
  const { props, history } = session;
  const drawing = history.value.now.state;
  const error = listProblems(drawing).find(({ isError }) => isError);
  if (error !== undefined) {
    pointAt(session, error);
    say(`Not saved yet. ${error.text}`, true);
    return;
  }
  const map = mapOf(drawing);
  // The frame's own, whatever picture is shown.
  const placing = solvePlacing(drawing, frameKey(props));
  const view = placing.isWrong ? null : viewOf(drawing, frameKey(props));
  if (sameMap(drawing, props.board === null ? null : drawingOf(props.board))) {
    props.onSave({ map, view, name: map.name ?? "", sha256: null });
  } else {
    const saved = await callOf(session)("saveBoard", { job: props.job, body: { map } });
    props.onSave({ map: { ...map, name: saved.name }, view, name: saved.name, sha256: saved.sha256 });
  }
  if (placing.isWrong) say(`The map is kept, but the baseline is not placed. ${placing.text}`, true);
}

/** Go back to the map that is saved; one step, which can be undone. */
export function dropDrawing(session: DrawSession): void {
  const { board } = session.props;
  const { drawing } = session;
  if (board === null) return;
  change(session, drawingOf(board, drawing.value), "Go back to the saved map");
  say("The saved map is back; Undo brings the drawing back");
}

/** Say whether two drawings make the same map. */
function sameMap(a: Drawing, b: Drawing | null): boolean {
  return b !== null && JSON.stringify(mapOf(a)) === JSON.stringify(mapOf(b));
}

function draftName({ props }: DrawSession): string {
  return props.draft ?? "draw";
}

function callOf({ props }: DrawSession): typeof callApi {
  return props.call ?? callApi;
}
