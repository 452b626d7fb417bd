// page: fiducials while they are picked → how far the picture is placed, and what is wrong with it, in words.
import { findWorstFiducial } from "../../../board/find-worst-fiducial.js";
import type { PlacedView } from "../../../board/place-view.js";
import { placeView } from "../../../board/place-view.js";
import type { Point } from "../../../board/polygon.js";
import { solveFiducials } from "../../../board/solve-fiducials.js";
import { countOf } from "../../../core/count-of.js";
import { ToolError } from "../../../core/errors.js";
import { capitalised } from "../../../core/sentence-case.js";
import { boardPoint } from "../../../core/units.js";
import { type Drawing, viewOf } from "./drawing.js";

/** How far a picture is placed. */
export interface Placing {
  /** Null until the fiducials fix a transform that can be believed. */
  readonly placed: PlacedView | null;
  /** For each fiducial of the placement: how far the solved board point is from its pixel, px; null where an end is
   *  missing or nothing is solved. With fewer than five fiducials they are fitted exactly, and this says nothing. */
  readonly missesPx: readonly (number | null)[];
  /** True where there are fiducials to spare, so that the misses say how good they are. */
  readonly isChecked: boolean;
  /** Number (in the placement) of the one that fits worst; null where none stands out. */
  readonly worst: number | null;
  /** One sentence. */
  readonly text: string;
  readonly isWrong: boolean;
}

/** Solve the fiducials of a picture as far as they go. */
export function solvePlacing(drawing: Drawing, picture: string): Placing {
  const placement = drawing.placements[picture];
  const all = placement?.fiducials ?? [];
  const whole = all.flatMap((fiducial, i) => (fiducial.board && fiducial.pixel ? i : []));
  const view = viewOf(drawing, picture);
  if (view === null) {
    const missing = 2 - whole.length;
    return {
      ...NOTHING,
      missesPx: all.map(() => null),
      text: `${countOf(missing, "more fiducial")} needed; four and more, near the corners, correct for a slanting camera.`,
    };
  }
  try {
    const placed = placeView(view);
    const missesPx = missesOf(all, (board) => placed.toFrame(boardPoint(...board)));
    const isChecked = whole.length > 4;
    const worst = isChecked ? whole[findWorstFiducial(view).index]! : null;
    return { placed, missesPx, isChecked, worst, text: sayPlaced(placed, whole.length), isWrong: false };
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    return {
      ...NOTHING,
      missesPx: missesAnyway(drawing, picture),
      isChecked: whole.length > 4,
      worst: worstOf(error, whole),
      text: numbered(`${capitalised(error.parts.problem)}. ${error.parts.fix}.`, whole),
      isWrong: true,
    };
  }
}

const NOTHING = Object.freeze({ placed: null, isChecked: false, worst: null, isWrong: false });

function missesOf(all: Drawing["placements"][string]["fiducials"], image: (board: Point) => Point) {
  return all.map(({ board, pixel }) => {
    if (board === null || pixel === null) return null;
    const [x, y] = image(board);
    return Math.hypot(x - pixel[0], y - pixel[1]);
  });
}

/** Misses of a fit that is not believed: they still show where it goes wrong. */
function missesAnyway(drawing: Drawing, picture: string): (number | null)[] {
  const all = drawing.placements[picture]!.fiducials;
  try {
    const { fit } = solveFiducials(viewOf(drawing, picture)!);
    let k = 0;
    return all.map(({ board, pixel }) => (board && pixel ? fit.residuals[k++]! : null));
  } catch (error) {
    // Neither kind is a fault: such fiducials have no fit at all.
    if (error instanceof ToolError || error instanceof RangeError) return all.map(() => null);
    throw error;
  }
}

function worstOf(error: ToolError, whole: readonly number[]): number | null {
  const index = /^fiducials\[(\d+)\]/.exec(error.parts.place?.path ?? "")?.[1];
  return index === undefined ? null : whole[Number(index)]!;
}

/** The page counts fiducials from 1, as they stand in its table. */
function numbered(text: string, whole: readonly number[]): string {
  return text.replace(/fiducials\[(\d+)\]/g, (_, index: string) => `fiducial ${whole[Number(index)]! + 1}`);
}

function sayPlaced(placed: PlacedView, count: number): string {
  const limits = {
    2: "Placed by 2 fiducials, as if the camera looked straight down; 4 and more correct for its slant.",
    3: "Placed by 3 fiducials; 4 and more correct for a slanting camera.",
    4: "Placed by 4 fiducials; a fifth would show whether they agree.",
  };
  const exact = limits[count as keyof typeof limits];
  return exact ?? `Placed by ${count} fiducials, ${placed.residualPx.toFixed(2)} px off in the mean.`;
}
