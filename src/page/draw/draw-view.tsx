// page: a job's map, its baseline and photos → the editor in which the board is drawn and pictures are placed on it.
import { useEffect, useRef, useState } from "preact/hooks";
import type { callApi } from "../../api/call-api.js";
import type { BoardMap, View } from "../../board/board-schema.js";
import { announceError } from "../state/announce.js";
import { showNumber } from "../state/settings.js";
import { sessionKey } from "./board-keys.js";
import { BoardPane } from "./board-pane.js";
import { ExportPanel, ImportPanel, LibraryPanel } from "./bring-panel.js";
import { ChosenPanel } from "./chosen-panel.js";
import { beginSession, type DrawSession } from "./draw-session.js";
import { EarlierPlacing } from "./earlier-placing.js";
import { shownPlacement } from "./fiducial-actions.js";
import { FiducialTable } from "./fiducial-table.js";
import { dropDrawing, followProblems, keepDrafts, loadDraft, saveDrawing } from "./keep-drawing.js";
import { followPhotos, PictureChoice } from "./picture-choice.js";
import { PicturePane } from "./picture-pane.js";
import { ProblemList } from "./problem-list.js";
import { RegionTable } from "./region-table.js";
import { lastSaid } from "./say.js";
import { StartForm } from "./start-form.js";
import { setMode, ToolRow, TopRow } from "./tool-bar.js";
import "./draw.css";
import { focusAfter } from "./focus-after.js";

/** What the editor is given. */
export interface DrawProps {
  /** Id of the job. */
  readonly job: string;
  /** What is repaired; its maps come first in the library. */
  readonly device: string;
  /** Map to begin with; null: nothing is drawn yet. */
  readonly board: BoardMap | null;
  /** Fiducials of the frame to begin with. */
  readonly view: View | null;
  /** The baseline, °C; `sha256` of its file in the inbox, null if it comes from elsewhere. */
  readonly frame: {
    readonly sha256: string | null;
    readonly name: string;
    readonly width: number;
    readonly height: number;
    readonly data: Float32Array;
  } | null;
  /** Photos of the inbox. */
  readonly photos: readonly { readonly sha256: string; readonly name: string }[];
  /** True if an attempt of the job has a view, by which the baseline may be placed. */
  readonly canPlace: boolean;
  /** Called when all is saved. `view`: of the frame, null if it is not placed; `sha256`: of the map, null if it was
   *  left as it was. */
  readonly onSave: (saved: { map: BoardMap; view: View | null; name: string; sha256: string | null }) => void;
  /** Set for a button that leads back. */
  readonly onClose?: () => void;
  /** Name of the draft; default `draw`. */
  readonly draft?: string;
  /** Asked in place of `callApi`. */
  readonly call?: typeof callApi;
}

/** Draw outline and regions, and place pictures on them. The props are taken as they are when it begins; later ones
 *  bring new photos and the newest saved map. */
export function DrawView(props: DrawProps) {
  const [session] = useState(() => beginSession(props));
  Object.assign(session.props, props);
  const [isRestored, setRestored] = useState(false);
  const [isSaving, setSaving] = useState(false);
  useEffect(() => {
    let stop: (() => void) | null = null;
    let isGone = false;
    loadDraft(session)
      .then(setRestored, announceError)
      .finally(() => {
        if (!isGone) stop = keepDrafts(session);
      });
    return () => {
      isGone = true;
      stop?.();
    };
  }, [session]);
  useEffect(() => followProblems(session), [session]);
  useEffect(() => followPhotos(session, props.photos), [session, props.photos]);

  // While it saves the button stays in the order of the keys: one that is disabled would lose the focus.
  const save = (): void => {
    if (isSaving) return;
    setSaving(true);
    saveDrawing(session)
      .then(() => setRestored(false), announceError)
      .finally(() => setSaving(false));
  };
  const element = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const keyDown = (event: KeyboardEvent): void => {
      // In a field, undo is that of the field.
      const isField = event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement;
      if (!isField && sessionKey(session, event)) event.preventDefault();
    };
    const view = element.current;
    view?.addEventListener("keydown", keyDown);
    return () => view?.removeEventListener("keydown", keyDown);
  }, [session]);
  return (
    <div class="draw-view" ref={element}>
      <TopRow session={session}>
        <span class="draw-group draw-end">
          {props.onClose !== undefined && (
            <button type="button" onClick={props.onClose}>
              Back
            </button>
          )}
          <button type="button" class="primary" aria-disabled={isSaving} onClick={save}>
            {isSaving ? "Saving …" : "Save board"}
          </button>
        </span>
      </TopRow>
      {isRestored && (
        <p class="draw-note">
          What was drawn and not saved yet is back.{" "}
          {props.board !== null && (
            <button
              type="button"
              onClick={(event) => {
                focusAfter(event.currentTarget, "board");
                dropDrawing(session);
                setRestored(false);
              }}
            >
              Take the saved map instead
            </button>
          )}
        </p>
      )}
      {session.mode.value === "draw" ? <DrawMode session={session} /> : <PlaceMode session={session} />}
      <p class="draw-said" role="status" aria-live="polite">
        {showNumber(lastSaid.value)}
      </p>
    </div>
  );
}

function DrawMode({ session }: { readonly session: DrawSession }) {
  const { picture, placing, side } = session;
  const isUnplaced = picture.value !== null && placing.value?.placed == null;
  const shownSide = isUnplaced ? side.value : (shownPlacement(session)?.side ?? side.value);
  return (
    <>
      <ToolRow session={session} />
      <div class="draw-main">
        <div class="draw-stage">
          <BoardPane session={session} />
          {shownSide !== side.value && (
            <p class="draw-hint">
              {picture.value?.name} shows the {shownSide} side.
            </p>
          )}
          {isUnplaced && (
            <p class="draw-hint">
              To draw over {picture.value?.name}, place it first:{" "}
              <button
                type="button"
                onClick={(event) => {
                  focusAfter(event.currentTarget, "picture");
                  setMode(session, "place");
                }}
              >
                Pick fiducials
              </button>
            </p>
          )}
        </div>
        <div class="draw-side">
          <ProblemList session={session} />
          <RegionTable session={session} />
          <ChosenPanel session={session} />
          <PictureChoice session={session} />
          <LibraryPanel session={session} />
          <ImportPanel session={session} />
          <ExportPanel session={session} />
        </div>
      </div>
    </>
  );
}

function PlaceMode({ session }: { readonly session: DrawSession }) {
  return (
    <div class="draw-main">
      <div class="draw-stage two">
        <PicturePane session={session} />
        <BoardPane session={session} />
      </div>
      <div class="draw-side">
        <PictureChoice session={session} />
        <EarlierPlacing session={session} />
        {session.picture.value === null ? (
          <p>Drop a baseline onto the job, or add a photo of the board, to place it.</p>
        ) : (
          <StartForm session={session} />
        )}
        <FiducialTable session={session} />
        <ProblemList session={session} />
      </div>
    </div>
  );
}
