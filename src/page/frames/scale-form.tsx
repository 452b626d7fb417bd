// page: pictures of grey levels without a scale → the temperatures of their ends, asked for where they lie.
import { useRef, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { Inbox, InboxFile } from "../../api/inbox-schema.js";
import { convertTyped, type TypedTemperature } from "../show/convert-typed.js";
import { readNumber } from "../show/read-number.js";
import { fromUnit, toUnit } from "../show/show-temperature.js";
import { announce, announceError, takeBack } from "../state/announce.js";
import { refreshInboxSoon } from "../state/job-data.js";
import { showNumber, temperature } from "../state/settings.js";

interface ScaleFormProps {
  readonly job: string;
  readonly files: readonly InboxFile[];
  /** The scale that was last given in any job. */
  readonly last: Inbox["lastScale"];
}

/** Ask for the temperatures of black and white. */
export function ScaleForm({ job, files, last }: ScaleFormProps) {
  const isRange = last !== null && "lowC" in last;
  const unit = temperature.value;
  const offered = (valueC: number): string => showNumber(String(Number(toUnit(valueC, unit).toFixed(3))));
  // What was used last may be told after the form is there: until something is typed, the fields follow it.
  const [typed, setTyped] = useState<{ readonly low?: TypedTemperature; readonly high?: TypedTemperature }>(
    {},
  );
  const shown = (end: TypedTemperature | undefined, lastC: number | null): string => {
    if (end === undefined) return lastC === null ? "" : offered(lastC);
    return end.unit === unit ? end.text : showNumber(convertTyped(end, unit));
  };
  const low = shown(typed.low, isRange ? last.lowC : null);
  const high = shown(typed.high, isRange ? last.highC : null);
  const wrongSaid = useRef<number | null>(null);
  const submit = (event: Event): void => {
    event.preventDefault();
    takeBack(wrongSaid.current);
    const ends = [readNumber(low), readNumber(high)];
    const [lowC, highC] = ends.map((end) => (end === null ? null : fromUnit(end, unit)));
    if (lowC == null || highC == null || !(highC > lowC)) {
      wrongSaid.current = announce(
        "Two temperatures are needed, the one of white above the one of black.",
        true,
      );
      return;
    }
    callApi("changeInbox", {
      job,
      body: { files: files.map(({ sha256 }) => sha256), scale: { lowC, highC } },
    }).then(refreshInboxSoon, (error: unknown) => {
      wrongSaid.current = announceError(error);
    });
  };
  return (
    <form class="panel scale-form" onSubmit={submit}>
      <h2>{files.length === 1 ? "A picture without a scale" : `${files.length} pictures without a scale`}</h2>
      <p>
        {files
          .slice(0, 4)
          .map(({ names }) => names[0])
          .join(", ")}
        {files.length > 4 ? " …" : ""}: grey levels alone are no temperatures. The camera shows the ends of
        its scale beside the picture{isRange ? "; these were the last ones used" : ""}.
      </p>
      <div class="row">
        <label class="field">
          Black is, °{unit}
          <input
            inputMode="decimal"
            value={low}
            onInput={(event) => setTyped({ ...typed, low: { text: event.currentTarget.value, unit } })}
            required
          />
        </label>
        <label class="field">
          White is, °{unit}
          <input
            inputMode="decimal"
            value={high}
            onInput={(event) => setTyped({ ...typed, high: { text: event.currentTarget.value, unit } })}
            required
          />
        </label>
        <button type="submit" class="primary">
          Use this scale
        </button>
      </div>
    </form>
  );
}
