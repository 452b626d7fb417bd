// page: fiducials → numbered marks on a pane, with how far off each is.
import type { Point } from "../../board/polygon.js";
import { letterScale } from "../show/letter-scale.js";
import type { DrawSession } from "./draw-session.js";
import { shownPlacement } from "./fiducial-actions.js";
import type { DrawnFiducial } from "./model/drawing.js";

interface FiducialMarksProps {
  readonly session: DrawSession;
  readonly end: keyof DrawnFiducial;
  /** From the end's own plane to the pane. */
  readonly toPane: (point: Point) => Point;
  /** Where the solved view has a board point on this pane; not drawn on the board itself. */
  readonly solved?: (board: Point) => Point;
}

/** Mark the fiducials of the picture that is shown. */
export function FiducialMarks({ session, end, toPane, solved }: FiducialMarksProps) {
  const { placing, fiducial } = session;
  const letter = letterScale();
  const fiducials = shownPlacement(session)?.fiducials ?? [];
  return (
    <>
      {fiducials.map((both, i) => {
        const point = both[end];
        if (point === null) return null;
        const [u, v] = toPane(point);
        const isWorst = placing.value?.isWrong === true && placing.value.worst === i;
        const states = `${fiducial.value === i ? " chosen" : ""}${isWorst ? " wrong" : ""}`;
        const image = solved !== undefined && both.board !== null ? solved(both.board) : null;
        return (
          <g key={i} class={`draw-fiducial${states}`}>
            {image !== null && <line class="draw-miss" x1={u} y1={v} x2={image[0]} y2={image[1]} />}
            <circle class="draw-halo" cx={u} cy={v} r="7" />
            <circle class="draw-line" cx={u} cy={v} r="7" />
            <circle class="draw-dot" cx={u} cy={v} r="1.5" />
            <text class="draw-label" x={u + 15 * letter} y={v - 10 * letter}>
              {isWorst ? `⚠ ${i + 1}` : i + 1}
            </text>
          </g>
        );
      })}
    </>
  );
}
