// page: what is wrong with a drawing → a list that points at it.
import { choose, chooseOutline, type DrawSession } from "./draw-session.js";
import type { DrawingProblem } from "./model/list-problems.js";

/** List the problems of the map; each leads to its shape. */
export function ProblemList({ session }: { readonly session: DrawSession }) {
  const { problems } = session;
  const errors = problems.value.filter(({ isError }) => isError).length;
  const doubts = problems.value.length - errors;
  if (problems.value.length === 0) return <p class="draw-fine">✓ The map is sound.</p>;
  const counts = [
    errors > 0 ? `${errors} to be mended` : "",
    doubts > 0 ? `${doubts} to be looked at` : "",
  ].filter((text) => text !== "");
  return (
    <details class="draw-problems" open={errors > 0}>
      <summary>
        {errors > 0 ? "⚠" : "?"} {counts.join(", ")}
      </summary>
      <ul>
        {problems.value.map((problem) => (
          <li key={problem.text} class={problem.isError ? "wrong" : ""}>
            {problem.shape === null ? (
              withMark(problem)
            ) : (
              <button type="button" class="draw-link" onClick={() => pointAt(session, problem)}>
                {withMark(problem)}
              </button>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}

/** What is wrong, after the mark of an error or of a doubt. */
function withMark({ isError, text }: DrawingProblem): string {
  return `${isError ? "⚠" : "?"} ${text}`;
}

/** Choose the shape that a problem is about, seen from its side. */
export function pointAt(session: DrawSession, { shape }: DrawingProblem): void {
  session.mode.value = "draw";
  session.tool.value = "choose";
  if (shape === "outline") {
    if (session.drawing.value.outline.length === 0) session.tool.value = "outline";
    else chooseOutline(session);
    return;
  }
  const region = session.drawing.value.regions.find(({ id }) => id === shape);
  if (region === undefined) return;
  session.side.value = region.side;
  choose(session, [region.id]);
}
