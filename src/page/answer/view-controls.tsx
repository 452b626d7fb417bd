// page: how the board is looked at → side, layer, and the rate of false alarms.
import type { JobState } from "../../api/jobs-schema.js";
import { formatSignificant } from "../../core/format-quantity.js";
import type { RiseLayer } from "../board/prepare-picture.js";
import { RATE_LIMITS, type Threshold } from "../board/threshold-at.js";
import { showNumber } from "../state/settings.js";

interface ViewControlsProps {
  readonly attempt: JobState["attempts"][number];
  readonly view: number;
  readonly onView: (view: number) => void;
  readonly layer: RiseLayer;
  readonly onLayer: (layer: RiseLayer) => void;
  readonly hasModel: boolean;
  readonly threshold: Threshold;
  /** The rate is that of the findings. */
  readonly isOwnRate: boolean;
  /** Null: back to that of the findings. */
  readonly onRate: (falseAlarmsPerFrame: number | null) => void;
}

/** Steps of the slider in a factor of ten. */
const STEPS_A_DECADE = 20;

/** Controls above the board. */
export function ViewControls(props: ViewControlsProps) {
  const { attempt, view, onView, layer, onLayer, hasModel, threshold, isOwnRate, onRate } = props;
  const { falseAlarmsPerFrame, riseK } = threshold;
  const sides = attempt.views.map((seen) => seen?.side ?? null);
  const names = sides.map((side, i) =>
    side === null || sides.indexOf(side) !== sides.lastIndexOf(side)
      ? `${i === 0 ? "first" : "second"} view${side === null ? "" : `, ${side}`}`
      : side,
  );
  const often =
    falseAlarmsPerFrame >= 1
      ? `${formatSignificant(falseAlarmsPerFrame, 2)} a frame`
      : `one in ${formatSignificant(1 / falseAlarmsPerFrame, 2)} frames`;
  return (
    <div class="view-controls">
      {sides.length > 1 && (
        <label>
          Side{" "}
          <select value={view} onChange={(event) => onView(Number(event.currentTarget.value))}>
            {names.map((name, i) => (
              <option key={name} value={i}>
                {name}
              </option>
            ))}
          </select>
        </label>
      )}
      {hasModel && (
        <label>
          Colour{" "}
          <select value={layer} onChange={(event) => onLayer(event.currentTarget.value as RiseLayer)}>
            <option value="rise">rise, as measured</option>
            <option value="modelled">rise that the sources make</option>
            <option value="left">what the sources leave</option>
          </select>
        </label>
      )}
      <label class="rate">
        False alarms{" "}
        <input
          type="range"
          min={0}
          max={Math.log10(RATE_LIMITS.most / RATE_LIMITS.least) * STEPS_A_DECADE}
          step={1}
          value={Math.round(Math.log10(falseAlarmsPerFrame / RATE_LIMITS.least) * STEPS_A_DECADE)}
          aria-valuetext={often}
          onInput={(event) =>
            onRate(
              Number(
                (RATE_LIMITS.least * 10 ** (Number(event.currentTarget.value) / STEPS_A_DECADE)).toPrecision(
                  3,
                ),
              ),
            )
          }
        />
        <output>
          {showNumber(`${often}; a small spot counts from ${formatSignificant(riseK, 3)} K on`)}
        </output>
      </label>
      {!isOwnRate && (
        <button type="button" class="quiet" onClick={() => onRate(null)}>
          As in the findings
        </button>
      )}
    </div>
  );
}
