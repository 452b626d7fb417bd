// page: a place of a burst → its rise from frame to frame.
import { useEffect, useState } from "preact/hooks";
import type { Course } from "../../api/attempts-schema.js";
import { callApi } from "../../api/call-api.js";
import type { Point } from "../../board/polygon.js";
import type { Stage } from "../board/make-stage.js";
import { announceError } from "../state/announce.js";
import { showNumber } from "../state/settings.js";
import { LinePlot } from "./line-plot.js";

interface CoursePanelProps {
  readonly job: string;
  readonly number: number;
  readonly view: number;
  readonly stage: Stage;
  /** The part that lies there; null: none, or no map. */
  readonly part: string | null;
  readonly at: Point;
  readonly framePx: Point;
  readonly onClose: () => void;
}

/** Radius of the disc that is averaged, px of the frame: noise of a single pixel hides slow growth. */
const RADIUS_PX = 2;

/** The time course of a place. */
export function CoursePanel({ job, number, view, stage, part, at, framePx, onClose }: CoursePanelProps) {
  const [course, setCourse] = useState<Course | null>(null);
  const [x, y] = framePx;
  useEffect(() => {
    const giveUp = new AbortController();
    setCourse(null);
    callApi("course", { job, number, view, x, y, radius: RADIUS_PX }, { signal: giveUp.signal }).then(
      setCourse,
      (error: unknown) => {
        if (!giveUp.signal.aborted) announceError(error);
      },
    );
    return () => giveUp.abort();
  }, [job, number, view, x, y]);
  const place = `${at[0].toFixed(1)}, ${at[1].toFixed(1)} ${stage.unit}`;
  return (
    <section class="panel plot-panel" aria-label="Time course">
      <div class="row spread">
        <h3>{showNumber(`Time course at ${part === null ? place : `${part} (${place})`}`)}</h3>
        <button type="button" class="quiet" onClick={onClose}>
          Close
        </button>
      </div>
      {course === null ? (
        <p class="dim small">Reading the burst …</p>
      ) : (
        <>
          <LinePlot
            label="Rise over time"
            xs={course.timesS ?? course.risesK.map((_, i) => i)}
            ys={course.risesK.map((value) => value ?? Number.NaN)}
            xUnit={course.timesS === null ? "frame" : "s"}
            yUnit="K"
          />
          <p class="dim small">
            Mean of {course.pixels} pixels of each frame, less the baseline there; as the camera gave it, no
            drift removed.
          </p>
        </>
      )}
    </section>
  );
}
