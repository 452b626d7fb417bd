// page: the attempts of a job → small boards side by side, joined by what persisted, went, and is new.
import { useEffect, useRef, useState } from "preact/hooks";
import type { JobState } from "../../api/jobs-schema.js";
import { momentText, powerText, sincePowerOn } from "../../report/job-words.js";
import { ColourKey } from "../answer/colour-key.js";
import { fitStage } from "../board/make-stage.js";
import { shownRange } from "../board/paint-rise.js";
import { FramesLink } from "../frames/frames-link.js";
import { ATTEMPT_QUESTION, WithdrawButton } from "../readings/withdraw-button.js";
import { useSize } from "../show/use-size.js";
import { sectionHash } from "../state/route.js";
import type { SectionProps } from "../state/section-props.js";
import { showNumber } from "../state/settings.js";
import { type CardSize, cardSize } from "./card.js";
import { ChangeList } from "./change-list.js";
import { ChangeReasons } from "./change-reasons.js";
import { joinChanges } from "./join-changes.js";
import { JoinLines } from "./join-lines.js";
import { namedHeat } from "./named-heat.js";
import { SmallBoard } from "./small-board.js";
import { useComparisons } from "./use-comparisons.js";
import { smallGrid, useSmallPictures } from "./use-small-pictures.js";

/** Attempts side by side. */
export function AttemptsSection({ state }: SectionProps) {
  const [withHealthy, setWithHealthy] = useState(true);
  const section = useRef<HTMLElement>(null);
  const room = roomIn(section.current, useSize(section).width);
  const card = cardSize(state.attempts.length, room);
  const pictures = useSmallPictures(state, room === 0 ? 0 : smallGrid(card.width, devicePixelRatio));
  const joins = joinChanges(state, useComparisons(state, withHealthy));
  useFocusAfterFewer(state.attempts.length);
  const hasHealthy = state.attempts.some(({ attempt }) => attempt.conditions.healthy);
  if (state.attempts.length === 0) {
    return (
      <section ref={section} aria-label="Attempts" class="pad">
        <p class="lead">There is no attempt yet.</p>
        <FramesLink class="attempts-empty" state={state} />
      </section>
    );
  }
  const ranges = [...pictures.values()].flatMap((small) => shownRange(small.picture, small) ?? []);
  const scaleK =
    ranges.length === 0
      ? null
      : { low: Math.min(...ranges.map(({ low }) => low)), high: Math.max(...ranges.map(({ high }) => high)) };
  const changed = new Set(joins.flatMap(({ parts }) => parts.map(({ ref }) => ref)));
  return (
    <section ref={section} aria-label="Attempts" class="attempts-section">
      <div class="row spread">
        <ColourKey scaleK={scaleK} greyC={null} layer="rise" />
        <span class="row small">
          All boards on the same colours.
          {hasHealthy && (
            <label class="check">
              <input
                type="checkbox"
                checked={withHealthy}
                onChange={(event) => setWithHealthy(event.currentTarget.checked)}
              />
              Take off what good boards show
            </label>
          )}
        </span>
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys */}
      <section class="strip-box" tabIndex={0} aria-label="Attempts side by side">
        <div
          class="strip"
          style={{
            gridTemplateColumns: state.attempts.map(() => `${card.width}px`).join(` ${card.gap}px `),
          }}
        >
          {state.attempts.flatMap((attempt, i) => {
            const join = joins[i - 1];
            return [
              ...(join === undefined
                ? []
                : [<ChangeList key={`to ${join.after}`} join={join} card={card} />]),
              <AttemptCard
                key={attempt.attempt.number}
                state={state}
                attempt={attempt}
                small={pictures.get(attempt.attempt.number) ?? null}
                scaleK={scaleK}
                refs={changed}
                card={card}
              />,
            ];
          })}
          <JoinLines attempts={state.attempts} joins={joins} pictures={pictures} card={card} />
        </div>
      </section>
      <ol class="join-words">
        {joins.map((join) => (
          <li key={join.after}>
            <strong>
              Attempt {join.before} to {join.after}:
            </strong>{" "}
            {showNumber(join.verdict ?? `not compared: ${join.reason}.`)}
            <ChangeReasons join={join} />
          </li>
        ))}
      </ol>
    </section>
  );
}

/** Where the attempt that had the focus was taken back, the focus goes to those that are left, or to what brings new
 *  ones. */
function useFocusAfterFewer(count: number): void {
  const before = useRef(count);
  useEffect(() => {
    const isFewer = count < before.current;
    before.current = count;
    if (isFewer && document.activeElement === document.body) {
      document.querySelector<HTMLElement>(".strip-box, .attempts-empty")?.focus();
    }
  }, [count]);
}

/** Room inside a section, px: what its padding leaves. */
function roomIn(section: HTMLElement | null, widthPx: number): number {
  if (section === null || widthPx === 0) return 0;
  const { paddingLeft, paddingRight } = getComputedStyle(section);
  return widthPx - Number.parseFloat(paddingLeft) - Number.parseFloat(paddingRight);
}

interface AttemptCardProps {
  readonly state: JobState;
  readonly attempt: JobState["attempts"][number];
  readonly small: Parameters<typeof SmallBoard>[0]["small"] | null;
  readonly scaleK: { readonly low: number; readonly high: number } | null;
  readonly refs: ReadonlySet<string>;
  readonly card: CardSize;
}

function AttemptCard({ state, attempt, small, scaleK, refs, card }: AttemptCardProps) {
  const { number, conditions } = attempt.attempt;
  const power = powerText(attempt);
  const time = sincePowerOn(attempt);
  const fit = small === null ? null : fitStage(small.picture.stage, { x: 0, y: 0, ...card });
  return (
    <article class="attempt-card" aria-label={`Attempt ${number}`}>
      <div class="small-box" style={{ height: `${card.height}px` }}>
        {small === null || fit === null ? (
          <p class="dim small">Reading …</p>
        ) : (
          <div class="small-place" aria-hidden="true" style={{ left: `${fit.x}px`, top: `${fit.y}px` }}>
            <SmallBoard
              attempt={attempt}
              small={small}
              fit={fit}
              scaleK={scaleK ?? { low: 0, high: small.leastRiseK }}
              refs={refs}
            />
          </div>
        )}
      </div>
      <h2>
        <a href={sectionHash(state.id, "answer", number)}>Attempt {number}</a>
        {conditions.healthy && <span class="chip">good board</span>}
      </h2>
      <p>{showNumber(namedHeat(attempt.findings))}</p>
      {power !== "" && <p class="small">{showNumber(power)}</p>}
      {time !== null && <p class="small">{showNumber(time)}</p>}
      {conditions.connected.length > 0 && <p class="small">Connected: {conditions.connected.join(", ")}</p>}
      {conditions.remark !== null && <p class="small">{conditions.remark}</p>}
      <p class="dim small">{momentText(attempt.at)}</p>
      <WithdrawButton
        job={state.id}
        seq={attempt.seq}
        text={`Attempt ${number}`}
        question={ATTEMPT_QUESTION}
      />
    </article>
  );
}
