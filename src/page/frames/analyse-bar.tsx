// page: frames, conditions and placing → an attempt.
import { useEffect, useRef, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { InboxFile } from "../../api/inbox-schema.js";
import type { JobState } from "../../api/jobs-schema.js";
import { announce, announceError, takeBack } from "../state/announce.js";
import { loadDraft, saveDraftSoon } from "../state/draft.js";
import { loadPlacedView, placedView } from "../state/placed-views.js";
import { followTask, isGoing, tasksOf } from "../state/tasks.js";
import { attemptBody, bodyAhead, countFrames } from "./attempt-body.js";
import { NO_CONDITIONS, type TypedConditions } from "./conditions.js";
import { ConditionsForm } from "./conditions-form.js";
import { PlacingLine } from "./placing-line.js";
import { sizeTrouble } from "./size-trouble.js";
import type { SortedInbox } from "./sort-frames.js";
import { useAnalyseAhead } from "./use-analyse-ahead.js";

interface AnalyseBarProps {
  readonly state: JobState;
  readonly baseline: readonly InboxFile[];
  readonly powered: readonly InboxFile[];
  /** Frames of the other view; null: there is none. */
  readonly other: SortedInbox["other"] | null;
  /** Files are still being sent or read. */
  readonly isComing: boolean;
}

/** What to do about a number that is none. */
const WRITE_WORDS = "Write it like 0.9 or 0,9, without its unit, or leave the field empty.";
/** Name of the draft that keeps what was typed. */
const DRAFT = "conditions";

/** Say the conditions, see how the baseline is placed, and analyse. */
export function AnalyseBar({ state, baseline, powered, other, isComing }: AnalyseBarProps) {
  const [typed, setTyped] = useState<TypedConditions>(NO_CONDITIONS);
  const [isLoaded, setLoaded] = useState(false);
  const [isBusy, setBusy] = useState(false);
  useEffect(() => {
    loadDraft(state.id, DRAFT)
      .then((draft) => {
        if (draft !== null) setTyped({ ...NO_CONDITIONS, ...(draft as TypedConditions) });
      }, announceError)
      .finally(() => setLoaded(true));
  }, [state.id]);
  const bar = useRef<HTMLElement>(null);
  const typedMs = useRef(0);
  const wrongSaid = useRef<number | null>(null);
  const change = (next: TypedConditions): void => {
    typedMs.current = performance.now();
    takeBack(wrongSaid.current);
    setTyped(next);
    saveDraftSoon(state.id, DRAFT, () => next);
  };
  const first = baseline[0] ?? null;
  const otherFirst = other?.baseline[0] ?? null;
  const frames = countFrames(powered);
  const nets = [
    ...new Set(state.boards.flatMap(({ map }) => map.regions.flatMap((part) => part.nets ?? []))),
  ];
  const lacking = isComing
    ? "Files are still being read."
    : (sizeTrouble([...baseline, ...powered]) ??
      (baseline.length === 0
        ? "A frame without power is missing: it tells what was warm before."
        : powered.length === 0
          ? `A frame with power is missing.${againWords(state)}`
          : otherTrouble(state.id, other, first)));
  const board = state.boards.at(-1)?.name ?? null;
  const parts = { baseline, powered, other, typed, board };
  const analyse = async (): Promise<void> => {
    setBusy(true);
    try {
      const placed = first === null ? null : await loadPlacedView(state.id, first.sha256);
      const otherPlaced = otherFirst === null ? null : await loadPlacedView(state.id, otherFirst.sha256);
      const body = attemptBody({ ...parts, placed, otherPlaced });
      if ("wrong" in body) {
        wrongSaid.current = announce(`${body.wrong} is not a number above 0. ${WRITE_WORDS}`, true);
        // The field that is meant, which may be beyond the edge of the window.
        bar.current?.querySelector<HTMLInputElement>(`[data-words="${body.wrong}"]`)?.focus();
      } else followTask((await callApi("makeAttempt", { job: state.id, body: body.ok })).task);
    } catch (error) {
      announceError(error);
    } finally {
      setBusy(false);
    }
  };
  const isAnalysing = tasksOf(state.id).some((task) => task.kind === "attempt" && isGoing(task));
  const placedOf = (file: InboxFile | null) => (file === null ? null : placedView(state.id, file.sha256));
  const isReady = isLoaded && lacking === null && !isBusy && !isAnalysing;
  const ahead = isReady
    ? bodyAhead({ ...parts, placed: placedOf(first), otherPlaced: placedOf(otherFirst) })
    : null;
  useAnalyseAhead(state.id, ahead, typedMs.current);
  return (
    <section ref={bar} class="analyse-bar" aria-label="Analyse">
      <ConditionsForm isReady={isLoaded} typed={typed} onChange={change} powered={frames} nets={nets} />
      {first !== null && <PlacingLine state={state} baseline={first} isComing={isComing} />}
      {otherFirst !== null && state.boards.length > 0 && (
        <PlacingLine state={state} baseline={otherFirst} isComing={isComing} />
      )}
      <div class="row">
        <button
          type="button"
          class="primary big"
          disabled={lacking !== null || isBusy || isAnalysing}
          onClick={analyse}
        >
          Analyse
        </button>
        <span class={lacking === null ? "dim" : ""}>
          {lacking ??
            (frames > 1 && typed.rateHz.trim() === ""
              ? "Without a rate, who heated first stays unknown."
              : "")}
        </span>
      </div>
    </section>
  );
}

/** The board was drawn after an attempt: how its parts get names. */
function againWords({ boards, attempts }: JobState): string {
  const last = attempts.at(-1);
  if (boards.length === 0 || last === undefined || last.attempt.board !== null) return "";
  return ` To have the parts of attempt ${last.attempt.number} named, drop its frame with power again.`;
}

/** Two views are joined on the board: both have to be whole, and placed. */
function otherTrouble(
  job: string,
  other: SortedInbox["other"] | null,
  first: InboxFile | null,
): string | null {
  if (other === null) return null;
  const [otherFirst] = other.baseline;
  if (otherFirst === undefined) return "The other view lacks a frame without power.";
  if (other.powered.length === 0) return "The other view lacks a frame with power.";
  const isPlaced = (file: InboxFile | null): boolean =>
    file !== null && placedView(job, file.sha256) !== null;
  if (!isPlaced(first) || !isPlaced(otherFirst))
    return "Two views are joined on the board: place the first baseline of each.";
  return sizeTrouble([...other.baseline, ...other.powered]);
}
