// page: the places that count at another rate → a line that holds them against the findings.

import type { JobState } from "../../api/jobs-schema.js";
import { countOf } from "../../core/count-of.js";
import { formatSignificant } from "../../core/format-quantity.js";
import { VIEW_NAMES, viewOf } from "../../findings/view-names.js";
import type { Stage } from "../board/make-stage.js";
import { partAt } from "../board/part-at.js";
import { showNumber } from "../state/settings.js";
import { frameToStage } from "./board-marks.js";
import type { FoundPlace } from "./find-places.js";

interface PlacesLineProps {
  readonly attempt: JobState["attempts"][number];
  readonly stage: Stage;
  readonly view: number;
  readonly places: readonly FoundPlace[] | null;
}

const MOST = 6;

/** What would count at the rate that was chosen. The findings stay as they are. */
export function PlacesLine({ attempt, stage, places, view }: PlacesLineProps) {
  if (places === null) return <p class="small dim">Counting places …</p>;
  const ownCount = attempt.findings.hotspots.filter((one) => viewOf(one) === VIEW_NAMES[view]).length;
  const fromFrame = frameToStage(stage);
  const words = places.slice(0, MOST).map(({ peakPx, riseK, significance }) => {
    const at = fromFrame(peakPx);
    const part = partAt(attempt.board, stage.side, at);
    const place = part?.ref ?? `${at[0].toFixed(1)}, ${at[1].toFixed(1)} ${stage.unit}`;
    return `${place} (${formatSignificant(riseK, 2)} K, ${formatSignificant(significance, 2)} σ)`;
  });
  const more = places.length > MOST ? `, and ${places.length - MOST} more` : "";
  return (
    <p class="small">
      {showNumber(
        places.length === 0
          ? `At this rate nothing counts; the findings have ${countOf(ownCount, "hotspot")}.`
          : `At this rate ${places.length} ${places.length === 1 ? "place reaches" : "places reach"} the threshold, artefacts included; the findings have ${ownCount}: ${words.join(", ")}${more}.`,
      )}
    </p>
  );
}
