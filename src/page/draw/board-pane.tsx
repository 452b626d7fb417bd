// page: the board in millimetres, as it is seen from a side → a pane to draw on by pointer and by keys.
import { useLayoutEffect, useMemo, useRef } from "preact/hooks";
import { composeHomographies, invertHomography } from "../../board/plane-transform.js";
import { BoardGrid } from "./board-grid.js";
import { boardKey, fitBoard, sayCross } from "./board-keys.js";
import { boardPointer, doubleClick } from "./board-pointer.js";
import { BoardShapes } from "./board-shapes.js";
import type { DrawSession } from "./draw-session.js";
import { shownPlacement } from "./fiducial-actions.js";
import { FiducialMarks } from "./fiducial-marks.js";
import { cameraMatrix, fromScreen, toScreen } from "./model/camera.js";
import { usePaneGestures } from "./pane-gestures.js";
import { PictureLayer } from "./picture-layer.js";

const KEYS =
  "Arrow keys move what is chosen, with Shift finely, with Alt they resize it. While drawing, arrow keys move the cross, " +
  "Enter puts a corner, Backspace takes it back, Shift and Enter close the shape, Escape stops. Plus, minus and 0 zoom.";

/** Draw and edit the board. */
export function BoardPane({ session }: { readonly session: DrawSession }) {
  const element = useRef<HTMLDivElement>(null);
  const { board, side, mode, tool, drawing } = session;
  const user = useMemo(() => boardPointer(session), [session]);
  usePaneGestures(element, board, user);
  const { width, height } = board.size.value;
  // A pane that has just got its size, a board turned over, or a first outline: show all of it, before a press can mean
  // a place that was seen elsewhere.
  const isEmpty = drawing.value.outline.length === 0;
  useLayoutEffect(() => fitBoard(session), [width > 0 && height > 0, side.value, isEmpty, mode.value]);

  const keyDown = (event: KeyboardEvent): void => {
    if (!boardKey(session, event)) return;
    event.preventDefault();
    event.stopPropagation();
  };
  const seen = `the board from the ${side.value === "top" ? "top" : "bottom, mirrored as it is seen"}`;
  return (
    <div
      ref={element}
      class={`draw-pane${tool.value === "choose" && mode.value === "draw" ? "" : " drawing"}`}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: a drawing is worked on by keys
      tabIndex={0}
      role="application"
      aria-label={mode.value === "place" ? `Pick on ${seen}` : `Drawing of ${seen}`}
      aria-describedby="draw-board-keys"
      data-pane="board"
      onKeyDown={keyDown}
      onFocus={(event) => event.currentTarget.matches(":focus-visible") && sayCross(session, board)}
      onDblClick={(event) => {
        const { clientLeft, clientTop } = event.currentTarget;
        const { left, top } = event.currentTarget.getBoundingClientRect();
        const at = [event.clientX - left - clientLeft, event.clientY - top - clientTop] as const;
        doubleClick(session, fromScreen(board.camera.value, board.size.value, at));
      }}
    >
      <BoardPicture session={session} />
      <svg class="draw-svg" width={width} height={height} aria-hidden="true">
        <BoardGrid session={session} />
        <BoardShapes session={session} />
        {mode.value === "place" && (
          <FiducialMarks
            session={session}
            end="board"
            toPane={(point) => toScreen(board.camera.value, board.size.value, point)}
          />
        )}
      </svg>
      <span id="draw-board-keys" class="draw-unseen">
        {KEYS}
      </span>
    </div>
  );
}

/** The picture under the board, once it is placed and shows this side. */
function BoardPicture({ session }: { readonly session: DrawSession }) {
  const { picture, placing, board, mode, side } = session;
  const placed = placing.value?.placed;
  if (mode.value === "place" || picture.value === null || placed == null) return null;
  if (shownPlacement(session)?.side !== side.value) return null;
  const toPane = cameraMatrix(board.camera.value, board.size.value);
  return (
    <PictureLayer
      picture={picture.value}
      matrix={composeHomographies(toPane, invertHomography(placed.matrix))}
      isEvened={session.isEvened.value}
    />
  );
}
