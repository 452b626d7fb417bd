// page: readings, actions, remarks of a job → the section where they are noted.
import { useEffect, useState } from "preact/hooks";
import type { Measure } from "../../readings/reading-schema.js";
import { announce, announceError } from "../state/announce.js";
import { loadDraft, saveDraftSoon } from "../state/draft.js";
import type { SectionProps } from "../state/section-props.js";
import { showNumber } from "../state/settings.js";
import { ActionsPanel } from "./actions-panel.js";
import { BeforeAfterTable } from "./before-after-table.js";
import { keyOf, readPlaces, type TypedPlace } from "./read-place.js";
import { ReadingsTable } from "./readings-table.js";
import { sayPasted } from "./say-pasted.js";
import type { Filling } from "./take-pasted.js";

const MEASURES: readonly (readonly [Measure, string])[] = [
  ["diode", "Diode, V"],
  ["resistance", "Resistance, Ω"],
  ["voltage", "Voltage, V"],
  ["current", "Current, A"],
];
/** Name of the draft that keeps places without a reading yet. */
const DRAFT = "places";

/** Note readings and actions. */
export function ReadingsSection({ state }: SectionProps) {
  const [measure, setMeasure] = useState<Measure>(state.readings.at(-1)?.measure ?? "diode");
  const [filling, setFilling] = useState<Filling>("reading");
  const [waiting, setWaiting] = useState<readonly TypedPlace[]>([]);
  const [typed, setTyped] = useState("");
  useEffect(() => {
    loadDraft(state.id, DRAFT).then((draft) => {
      if (Array.isArray(draft)) setWaiting(draft as TypedPlace[]);
    }, announceError);
  }, [state.id]);
  const parts = state.boards.flatMap(({ map }) => map.regions);
  const nets = [...new Set(parts.flatMap((part) => part.nets ?? []))];
  const add = (places: readonly TypedPlace[]): void => {
    if (places.length === 0) {
      announce("A net, a part, or a part with its pins is needed: VSYS, U6 4, J3 1-10.", true);
      return;
    }
    keep([...new Map([...waiting, ...places].map((place) => [keyOf(place), place])).values()]);
  };
  const keep = (all: readonly TypedPlace[]): void => {
    setWaiting(all);
    saveDraftSoon(state.id, DRAFT, () => all);
  };
  const submit = (event: Event): void => {
    event.preventDefault();
    const places = readPlaces(
      typed,
      parts.map(({ ref }) => ref),
    );
    add(places);
    if (places[0] === undefined) return;
    setTyped("");
    const label = `at ${placeLabel(places[0])}`;
    // The row is on the page once this change was drawn; the meter waits.
    requestAnimationFrame(() => {
      const inputs = document.querySelectorAll<HTMLInputElement>(".readings-table input");
      [...inputs].find((input) => input.getAttribute("aria-label")?.endsWith(label))?.focus();
    });
  };
  const verdicts = state.evidence?.readings.length ?? 0;
  return (
    <section aria-label="Readings and actions" class="readings-section">
      <div class="readings-main">
        <div class="row">
          <label>
            Meter{" "}
            <select value={measure} onChange={(event) => setMeasure(event.currentTarget.value as Measure)}>
              {MEASURES.map(([name, words]) => (
                <option key={name} value={name}>
                  {words}
                </option>
              ))}
            </select>
          </label>
          <label>
            Filling in{" "}
            <select value={filling} onChange={(event) => setFilling(event.currentTarget.value as Filling)}>
              <option value="reading">this board</option>
              <option value="reference">what a good board shows</option>
            </select>
          </label>
          <span class="dim small">
            A value, Enter, the next place. OL for over-range. Columns from a spreadsheet can be pasted into a
            cell.
          </span>
        </div>
        <ReadingsTable
          state={state}
          measure={measure}
          filling={filling}
          waiting={waiting}
          onWithdrawn={(place) => keep([...waiting.filter((one) => keyOf(one) !== keyOf(place)), place])}
          onForget={(place) => keep(waiting.filter((one) => keyOf(one) !== keyOf(place)))}
        />
        <form class="row" onSubmit={submit}>
          <label class="row" for="new-place">
            New place
          </label>
          <input
            id="new-place"
            type="text"
            list="nets"
            autoComplete="off"
            placeholder="VSYS, U6 4, J3 1-10"
            value={typed}
            onInput={(event) => setTyped(event.currentTarget.value)}
            onPaste={(event) => sayPasted(event, state.id, [], measure, filling)}
          />
          <button type="submit">Add</button>
          {nets.length > 0 && (
            <button type="button" class="quiet" onClick={() => add(nets.map((net) => ({ net })))}>
              All nets of the board
            </button>
          )}
          <datalist id="nets">
            {nets.map((net) => (
              <option key={net} value={net} />
            ))}
          </datalist>
        </form>
        {state.evidence !== null && verdicts > 0 && (
          <div class="panel">
            <p>{showNumber(state.evidence.verdict)}</p>
            <p>
              <strong>Next:</strong> {showNumber(state.evidence.next.sentence)}
            </p>
          </div>
        )}
        <BeforeAfterTable state={state} />
      </div>
      <ActionsPanel state={state} />
    </section>
  );
}

function placeLabel({ net, ref, pin }: TypedPlace): string {
  return net ?? (pin === undefined ? (ref ?? "") : `${ref} pin ${pin}`);
}
