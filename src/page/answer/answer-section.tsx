// page: the attempts of a job → the answer of one of them: verdict, board, suspects, reasons.
import { useEffect, useMemo, useState } from "preact/hooks";
import type { JobState } from "../../api/jobs-schema.js";
import type { Pictures } from "../../api/pictures.js";
import { makeStage } from "../board/make-stage.js";
import { type RiseLayer, viewThreshold } from "../board/prepare-picture.js";
import { thresholdAt } from "../board/threshold-at.js";
import { FramesLink } from "../frames/frames-link.js";
import { CautionsNote } from "../show/cautions-note.js";
import { announceError } from "../state/announce.js";
import { attemptPictures } from "../state/attempt-pictures.js";
import type { SectionProps } from "../state/section-props.js";
import { isGoing, tasksOf } from "../state/tasks.js";
import { AttemptTabs } from "./attempt-tabs.js";
import { BoardView } from "./board-view.js";
import { LastPicture } from "./last-picture.js";
import { Reasons } from "./reasons.js";
import { SuspectList } from "./suspect-list.js";
import { VerdictPanel, WholeJob } from "./verdict-panel.js";
import { ViewControls } from "./view-controls.js";

type JobAttempt = JobState["attempts"][number];

/** The answer of an attempt; the latest where the address names none. */
export function AnswerSection({ state, attempt }: SectionProps) {
  const shown =
    state.attempts.find((one) => one.attempt.number === attempt) ??
    (attempt === null ? state.attempts.at(-1) : undefined);
  if (shown === undefined && attempt !== null && state.attempts.length > 0)
    return <MissingAnswer state={state} number={attempt} />;
  if (shown === undefined) {
    const isComing = tasksOf(state.id).some(isGoing);
    return (
      <section aria-label="Answer" class="pad">
        <p class="lead">
          {isComing
            ? "The first attempt is being analysed; its answer comes here by itself."
            : "There is no attempt yet."}
        </p>
        {!isComing && <FramesLink state={state} />}
        <CautionsNote />
      </section>
    );
  }
  return (
    <section aria-label="Answer" class="answer-section">
      <AttemptTabs state={state} shown={shown.attempt.number} />
      <OneAnswer key={shown.attempt.number} state={state} attempt={shown} />
    </section>
  );
}

/** An attempt that the address names and the job has not, or not yet: its work is told of before the job is. */
function MissingAnswer({ state, number }: { readonly state: JobState; readonly number: number }) {
  const line = state.entries.find(({ said }) => said.type === "attempt" && said.number === number);
  const isWithdrawn = line !== undefined && state.withdrawn.includes(line.seq);
  const isComing = !isWithdrawn && tasksOf(state.id).some((task) => isGoing(task) || task.attempt === number);
  return (
    <section aria-label="Answer" class="answer-section">
      <AttemptTabs state={state} shown={number} />
      <p class="lead">
        {isComing
          ? `The answer of attempt ${number} comes here by itself.`
          : isWithdrawn
            ? `Attempt ${number} was withdrawn and no longer counts. Choose one of those above.`
            : `This job has no attempt ${number}. Choose one of those above.`}
      </p>
    </section>
  );
}

function OneAnswer({ state, attempt }: { readonly state: JobState; readonly attempt: JobAttempt }) {
  const { findings, board, views } = attempt;
  const { number } = attempt.attempt;
  const [view, setView] = useState(0);
  const [layer, setLayer] = useState<RiseLayer>("rise");
  const [rate, setRate] = useState<number | null>(null);
  const [pointed, setPointed] = useState<string | null>(null);
  const [pictures, setPictures] = useState<Pictures | null>(null);
  useEffect(() => {
    let isGone = false;
    setPictures(null);
    attemptPictures(state.id, number, view).then((found) => {
      if (!isGone) setPictures(found);
    }, announceError);
    return () => {
      isGone = true;
    };
  }, [state.id, number, view]);
  const seen = views[view] ?? null;
  const stage = useMemo(() => {
    if (pictures === null) return null;
    return makeStage(seen === null ? null : board, seen, pictures);
  }, [pictures, seen, board]);
  const ofView = viewThreshold(findings, view);
  const pixels = pictures === null ? 1 : pictures.width * pictures.height;
  const threshold = thresholdAt(ofView, pixels, rate ?? findings.threshold.falseAlarmsPerFrame);
  return (
    <div class="answer">
      <VerdictPanel attempt={attempt} />
      <div class="answer-board">
        <ViewControls
          attempt={attempt}
          view={view}
          onView={setView}
          layer={layer}
          onLayer={setLayer}
          hasModel={pictures?.layers.some(({ name }) => name === "modelled") ?? false}
          threshold={threshold}
          isOwnRate={rate === null}
          onRate={setRate}
        />
        {pictures === null || stage === null ? (
          <div class="board-wait">
            <LastPicture job={state.id} />
            <p class="dim">Reading the pictures of attempt {number} …</p>
          </div>
        ) : (
          <BoardView
            job={state.id}
            attempt={attempt}
            view={view}
            pictures={pictures}
            stage={stage}
            layer={layer}
            threshold={threshold}
            isOwnRate={rate === null}
            pointed={pointed}
          />
        )}
      </div>
      <div class="answer-side">
        <WholeJob state={state} />
        <SuspectList attempt={attempt} pointed={pointed} onPoint={setPointed} />
        <Reasons attempt={attempt} />
        <CautionsNote />
      </div>
    </div>
  );
}
