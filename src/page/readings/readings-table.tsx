// page: places and values → a table that is filled by the keyboard: a value, Enter, the next pin.
import { useRef, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { JobState } from "../../api/jobs-schema.js";
import type { Measure } from "../../readings/reading-schema.js";
import { readingText } from "../../report/job-words.js";
import { announceError, takeBack } from "../state/announce.js";
import { refreshJob } from "../state/job-data.js";
import { showNumber } from "../state/settings.js";
import { ClassMark } from "./class-mark.js";
import { listRows, type ReadingRow } from "./list-rows.js";
import { keyOf, placeText, type TypedPlace } from "./read-place.js";
import { sayDone } from "./say-done.js";
import { sayPasted } from "./say-pasted.js";
import { type Filling, lineOf } from "./take-pasted.js";
import { WithdrawButton } from "./withdraw-button.js";

interface ReadingsTableProps {
  readonly state: JobState;
  readonly measure: Measure;
  readonly filling: Filling;
  readonly waiting: readonly TypedPlace[];
  /** A place of which nothing is known yet is taken back. */
  readonly onForget: (place: TypedPlace) => void;
  /** What was read at a place was taken back: the place stays, to be read again. */
  readonly onWithdrawn: (place: TypedPlace) => void;
}

/** The table of readings. */
export function ReadingsTable({
  state,
  measure,
  filling,
  waiting,
  onForget,
  onWithdrawn,
}: ReadingsTableProps) {
  const body = useRef<HTMLTableSectionElement>(null);
  const rows = listRows(state, measure, waiting);
  // Whoever waits for an answer finds the rows of then, not of now.
  const shown = useRef(rows);
  shown.current = rows;
  const focusRow = (at: number): void => {
    const inputs = body.current?.querySelectorAll("input") ?? [];
    const next = inputs[at];
    if (next === undefined) document.getElementById("new-place")?.focus();
    else next.focus();
  };
  const paste = (at: number, event: ClipboardEvent): void => {
    const below = rows.slice(at).map(({ place }) => place);
    sayPasted(event, state.id, below, measure, filling);
  };
  if (rows.length === 0) {
    return (
      <p class="dim">No places yet. Name a net, or a part with its pins, below, or paste a table there.</p>
    );
  }
  return (
    <div class="table-box">
      <table class="data readings-table">
        <caption class="hidden">Readings in {measure} mode</caption>
        <thead>
          <tr>
            <th scope="col">Place</th>
            <th scope="col" class="number">
              Good board
            </th>
            <th scope="col" class="number">
              Reading
            </th>
            <th scope="col">{filling === "reading" ? "New reading" : "Good board shows"}</th>
            <th scope="col">Mark</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody ref={body}>
          {rows.map((row, at) => (
            <Row
              key={row.key}
              row={row}
              job={state.id}
              measure={measure}
              filling={filling}
              onNext={(step) => focusRow(at + step)}
              onForget={waiting.some((place) => keyOf(place) === row.key) ? () => onForget(row.place) : null}
              onWithdrawn={() => {
                onWithdrawn(row.place);
                // Without its reading the row may stand elsewhere.
                requestAnimationFrame(() => focusRow(shown.current.findIndex(({ key }) => key === row.key)));
              }}
              onPaste={(event) => paste(at, event)}
            />
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface RowProps {
  readonly row: ReadingRow;
  readonly job: string;
  readonly measure: Measure;
  readonly filling: Filling;
  readonly onNext: (step: number) => void;
  /** Null where the job knows the place. */
  readonly onForget: (() => void) | null;
  readonly onWithdrawn: () => void;
  readonly onPaste: (event: ClipboardEvent) => void;
}

function Row({ row, job, measure, filling, onNext, onForget, onWithdrawn, onPaste }: RowProps) {
  const { judged, reference, place } = row;
  const line = lastLine(row, filling);
  const [typed, setTyped] = useState("");
  const wrongSaid = useRef<number | null>(null);
  const send = async (): Promise<void> => {
    if (typed.trim() === "") {
      onNext(1);
      return;
    }
    takeBack(wrongSaid.current);
    try {
      const line = lineOf(place, typed, measure, filling);
      onNext(1);
      sayDone("", await callApi("say", { job, body: { said: [line] } }));
      // Whoever came back meanwhile and types again keeps that.
      setTyped((now) => (now === typed ? "" : now));
      void refreshJob();
    } catch (error) {
      // What was typed stays in its cell, and the hand where it is: it may be typing the next value.
      wrongSaid.current = announceError(error);
    }
  };
  const key = (event: KeyboardEvent): void => {
    const steps: Record<string, number> = { ArrowUp: -1, ArrowDown: 1 };
    const step = steps[event.key];
    if (event.key === "Enter") void send();
    else if (step !== undefined) onNext(step);
    else return;
    event.preventDefault();
  };
  return (
    <tr>
      <th scope="row" class="place">
        {placeText(place)}
      </th>
      <td class="number">
        {reference === null
          ? "–"
          : showNumber(readingText(reference.measure, reference.value, reference.overRange))}
      </td>
      <td class="number">
        {judged === null ? "–" : showNumber(readingText(judged.measure, judged.value, judged.overRange))}
      </td>
      <td>
        <input
          type="text"
          class="value"
          inputMode="decimal"
          autoComplete="off"
          aria-label={`${filling === "reading" ? "Reading" : "Good board"} at ${placeText(place)}`}
          value={typed}
          onInput={(event) => setTyped(event.currentTarget.value)}
          onKeyDown={key}
          onPaste={onPaste}
        />
      </td>
      <td>
        {judged !== null && <ClassMark of={judged.class} />}
        {line !== null && (
          <WithdrawButton
            job={job}
            seq={line.seq}
            text={`${filling} ${line.text} at ${placeText(place)}`}
            question={null}
            onDone={onWithdrawn}
          />
        )}
        {judged === null && reference === null && onForget !== null && (
          <button
            type="button"
            class="quiet small"
            aria-label={`Take off the list: ${placeText(place)}`}
            onClick={onForget}
          >
            Take off
          </button>
        )}
      </td>
      <td class="small why">{judged === null ? "" : showNumber(judged.why)}</td>
    </tr>
  );
}

/** The line of the journal that a row shows of what is filled in: the last reading there, or its reference. */
function lastLine({ judged, reference }: ReadingRow, filling: Filling): { seq: number; text: string } | null {
  const of = filling === "reading" ? judged : reference;
  const seq = filling === "reading" ? judged?.seqs.at(-1) : reference?.seq;
  if (of === null || seq === undefined) return null;
  return { seq, text: readingText(of.measure, of.value, of.overRange) };
}
