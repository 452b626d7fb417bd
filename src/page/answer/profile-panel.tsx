// page: a line on the board → the rise along it.
import type { Pictures } from "../../api/pictures.js";
import type { Point } from "../../board/polygon.js";
import { type Stage, stageToFrame } from "../board/make-stage.js";
import { valuesAt } from "../board/prepare-picture.js";
import { showNumber } from "../state/settings.js";
import { LinePlot } from "./line-plot.js";

interface ProfilePanelProps {
  readonly stage: Stage;
  readonly frame: Pictures;
  readonly line: readonly [Point, Point];
  readonly onClose: () => void;
}

const POINTS = 240;

/** The profile of a line. */
export function ProfilePanel({ stage, frame, line, onClose }: ProfilePanelProps) {
  const [from, to] = line;
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const xs: number[] = [];
  const ys: number[] = [];
  for (let i = 0; i <= POINTS; i++) {
    const share = i / POINTS;
    const at: Point = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
    xs.push(share * length);
    ys.push(valuesAt(frame, stageToFrame(stage, at)).riseK);
  }
  return (
    <section class="panel plot-panel" aria-label="Profile line">
      <div class="row spread">
        <h3>{showNumber(`Rise along ${length.toFixed(1)} ${stage.unit}`)}</h3>
        <button type="button" class="quiet" onClick={onClose}>
          Close
        </button>
      </div>
      <LinePlot label="Rise along the line" xs={xs} ys={ys} xUnit={stage.unit} yUnit="K" />
    </section>
  );
}
