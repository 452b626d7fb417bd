// page: a drawing → what is wrong with its map, each with the shape that it is about.
import { checkBoard } from "../../../board/check-board.js";
import type { Problem } from "../../../core/json-problem.js";
import { capitalised } from "../../../core/sentence-case.js";
import { type Drawing, mapOf } from "./drawing.js";
import type { ShapeName } from "./find-under.js";

/** A problem of the map, pointed at. */
export interface DrawingProblem {
  readonly isError: boolean;
  /** What is wrong, and what to do: two sentences. */
  readonly text: string;
  /** Null for what is about the whole map. */
  readonly shape: ShapeName | null;
}

/** List all that is wrong or doubtful, errors first. A map without errors is fit for use. */
export function listProblems(drawing: Drawing): DrawingProblem[] {
  if (drawing.outline.length === 0) {
    return [
      {
        isError: true,
        text: "The board has no outline yet. Draw it, or pick its corners in a picture.",
        shape: "outline",
      },
    ];
  }
  return checkBoard(mapOf(drawing))
    .map((problem) => pointed(problem, drawing))
    .sort((a, b) => Number(b.isError) - Number(a.isError));
}

function pointed(problem: Problem, drawing: Drawing): DrawingProblem {
  const index = /^regions\[(\d+)\]/.exec(problem.path)?.[1];
  const region = index === undefined ? undefined : drawing.regions[Number(index)];
  const shape = region?.id ?? (problem.path.startsWith("outline") ? "outline" : null);
  const text = `${capitalised(problem.text)}. ${problem.fix}.`;
  return {
    isError: problem.severity === "error",
    // The page counts regions and corners from 1.
    text: text
      .replace(/regions\[(\d+)\]/g, (_, other: string) => `region ${Number(other) + 1}`)
      .replace(/\bpoint (\d+)/g, (_, corner: string) => `corner ${Number(corner) + 1}`),
    shape,
  };
}
