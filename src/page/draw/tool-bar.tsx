// page: tools, side, grid, zoom and undo → bars of buttons over the board.
import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { showNumber } from "../state/settings.js";
import { fitBoard } from "./board-keys.js";
import { choose, type DrawSession, type Mode, step, type Tool } from "./draw-session.js";
import { asksFor, finishPolygon, putPoint, takeTool } from "./draw-tools.js";
import { setPictureSide } from "./fiducial-actions.js";
import { zoomAt } from "./model/camera.js";
import { LEAST_CORNERS } from "./model/edit-polygon.js";
import { NumberField } from "./number-field.js";

const TOOLS: Readonly<Record<Tool, readonly [string, string]>> = {
  choose: [
    "Choose and move",
    "Choose regions, move them, drag their corners; two clicks on an edge add a corner",
  ],
  outline: ["Draw outline", "Put the corners of the board one by one"],
  rectangle: ["Rectangle", "A region along the axes: two opposite corners"],
  turned: ["Turned rectangle", "A region at any angle: both ends of an edge, then the opposite edge"],
  polygon: ["Polygon", "A region of any shape: its corners one by one"],
};
const GRIDS = [0, 0.05, 0.1, 0.25, 0.5, 1] as const;

/** Switch between drawing and placing, undo, and whatever the editor's owner adds at the end. */
export function TopRow({
  session,
  children,
}: {
  readonly session: DrawSession;
  readonly children: ComponentChildren;
}) {
  const { mode, history, side } = session;
  const { now, undone } = history.value;
  return (
    <div class="draw-bar">
      <fieldset class="draw-group" aria-label="What is done">
        {(["draw", "place"] as Mode[]).map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={mode.value === name}
            onClick={() => setMode(session, name)}
          >
            {name === "draw" ? "Draw board" : "Fiducials"}
          </button>
        ))}
      </fieldset>
      <fieldset class="draw-group" aria-label="Side that is seen">
        {(["top", "bottom"] as const).map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={side.value === name}
            onClick={() => {
              choose(session, []);
              // What is picked beside a picture is seen from the side that the picture shows.
              if (mode.value === "place") setPictureSide(session, name);
              else side.value = name;
            }}
          >
            {name === "top" ? "Top" : "Bottom"}
          </button>
        ))}
      </fieldset>
      <span class="draw-group">
        <button
          type="button"
          disabled={now.before === null}
          title={now.did === "" ? "" : `Undo: ${now.did}`}
          onClick={() => step(session, "undo")}
        >
          Undo
        </button>
        <button
          type="button"
          disabled={undone === null}
          title={undone === null ? "" : `Redo: ${undone.did}`}
          onClick={() => step(session, "redo")}
        >
          Redo
        </button>
      </span>
      {children}
    </div>
  );
}

/** Choose a tool; the board gets the focus, so that keys go on from there. */
export function ToolRow({ session }: { readonly session: DrawSession }) {
  const { tool, gridMm, board, points } = session;
  const zoom = (factor: number): void => {
    const { camera, size, limits } = board;
    const middle = [size.value.width / 2, size.value.height / 2] as const;
    camera.value = zoomAt(camera.value, size.value, middle, factor, limits);
  };
  return (
    <div class="draw-bar">
      <fieldset class="draw-group" aria-label="Tool">
        {(Object.keys(TOOLS) as Tool[]).map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={tool.value === name}
            title={TOOLS[name][1]}
            onClick={(event) => {
              takeTool(session, name);
              event.currentTarget
                .closest(".draw-view")
                ?.querySelector<HTMLElement>('[data-pane="board"]')
                ?.focus();
            }}
          >
            {TOOLS[name][0]}
          </button>
        ))}
      </fieldset>
      <label class="draw-field beside">
        <span>Grid</span>
        <select
          value={String(gridMm.value)}
          onChange={(event) => (gridMm.value = Number(event.currentTarget.value))}
        >
          {GRIDS.map((grid) => (
            <option key={grid} value={String(grid)}>
              {grid === 0 ? "off" : showNumber(`${grid} mm`)}
            </option>
          ))}
        </select>
      </label>
      <fieldset class="draw-group" aria-label="Zoom">
        <button type="button" aria-label="Zoom out" onClick={() => zoom(0.8)}>
          −
        </button>
        <button type="button" aria-label="Zoom in" onClick={() => zoom(1.25)}>
          +
        </button>
        <button type="button" onClick={() => fitBoard(session)}>
          Show all
        </button>
      </fieldset>
      <div class="draw-next">
        <span class="draw-ask">
          {tool.value === "choose" ? TOOLS.choose[1] : asksFor(tool.value, points.value.length)}.
        </span>
        {tool.value !== "choose" && <TypedCorner session={session} />}
        {(tool.value === "polygon" || tool.value === "outline") && points.value.length >= LEAST_CORNERS && (
          <button type="button" class="primary" onClick={() => finishPolygon(session)}>
            Close shape
          </button>
        )}
      </div>
    </div>
  );
}

/** Put a corner by its numbers: x, Tab, y, Enter. */
function TypedCorner({ session }: { readonly session: DrawSession }) {
  const [at] = useState(() =>
    signal<{ readonly x: number | null; readonly y: number | null }>({ x: null, y: null }),
  );
  const { gridMm } = session;
  const { x, y } = at.value;
  const put = (event: SubmitEvent): void => {
    event.preventDefault();
    // As it is now: Enter sets a number right before this.
    const typed = at.value;
    if (typed.x === null || typed.y === null) return;
    putPoint(session, [typed.x, typed.y]);
    session.board.cursor.value = [typed.x, typed.y];
    at.value = { x: null, y: null };
    (event.currentTarget as HTMLFormElement).querySelector("input")?.focus();
  };
  return (
    <form class="draw-pair" onSubmit={put}>
      <NumberField
        label="x"
        unit="mm"
        value={x}
        step={gridMm.value}
        onSet={(value) => (at.value = { ...at.value, x: value })}
      />
      <NumberField
        label="y"
        unit="mm"
        value={y}
        step={gridMm.value}
        onSet={(value) => (at.value = { ...at.value, y: value })}
      />
      <button type="submit" disabled={x === null || y === null}>
        Put corner
      </button>
    </form>
  );
}

/** Draw, or pick fiducials: from the side that the picture shows. */
export function setMode(session: DrawSession, mode: Mode): void {
  session.tool.value = "choose";
  session.points.value = [];
  session.mode.value = mode;
  const { picture, drawing, side } = session;
  if (mode === "place" && picture.value !== null) {
    side.value = drawing.value.placements[picture.value.key]?.side ?? "top";
  }
}
