// page: attempts and what was held against each other → cards in a row, what was done between them, and lines that join
// the same part from one to the next.
import type { JobState } from "../../api/jobs-schema.js";
import { centroid, type Point } from "../../board/polygon.js";
import type { Change, Comparison } from "../../compare/comparison-schema.js";
import { changeText } from "../../report/describe-comparison.js";
import { actionText } from "../../report/job-words.js";

type JobAttempt = JobState["attempts"][number];

/** What became of a part from one attempt to the next. */
export interface JoinedPart {
  readonly ref: string;
  readonly change: Change;
  /** … in words. */
  readonly words: string;
  /** Middle of the part, board mm; null where it is on no map. */
  readonly at: Point | null;
  readonly side: "top" | "bottom";
  readonly why: string;
  /** Heat in the earlier and in the later attempt, by the frames alone, W; null: not known. */
  readonly powerW: readonly [number | null, number | null];
}

/** Two attempts that follow each other. */
export interface Join {
  readonly before: number;
  readonly after: number;
  readonly parts: readonly JoinedPart[];
  /** What was done between them, in words. */
  readonly done: readonly string[];
  readonly verdict: string | null;
  /** Why they were not compared; null where they were. */
  readonly reason: string | null;
}

/** Parts that are warm on every board and stay so say nothing here. */
function isTelling({ normallyWarm, change }: Comparison["parts"][number]): boolean {
  return !(normallyWarm && (change === "persisted" || change === "unsure"));
}

/** Join attempts that follow each other.
 *  @param compared comparisons by the number of the later attempt.
 */
export function joinChanges(state: JobState, compared: JobState["comparisons"]): Join[] {
  return state.attempts.slice(1).map((attempt, i) => {
    const earlier = state.attempts[i]!;
    const before = earlier.attempt.number;
    const after = attempt.attempt.number;
    const found = compared.find((one) => one.before === before && one.after === after);
    const done = state.actions
      .filter(({ seq }) => seq > earlier.seq && seq < attempt.seq)
      .map((action) => actionText(action));
    const { comparison, reason } = found ?? { comparison: null, reason: "they are of different boards" };
    return {
      before,
      after,
      done,
      reason: comparison === null ? (reason ?? "not compared") : null,
      verdict: comparison?.verdict ?? null,
      parts:
        comparison?.parts.filter(isTelling).map((part) => {
          const { ref, side, change, why, powerW } = part;
          const at = placeOf(attempt, ref) ?? placeOf(earlier, ref);
          return { ref, side, change, words: changeText(part), why, powerW, at };
        }) ?? [],
    };
  });
}

function placeOf({ board }: JobAttempt, ref: string): Point | null {
  const part = board?.regions.find((one) => one.ref === ref);
  return part === undefined ? null : centroid(part.polygon);
}
