// page: an attempt's pictures and findings → the board with colour, labels, and a cursor that reads off values.
import { useEffect, useRef, useState } from "preact/hooks";
import type { JobState } from "../../api/jobs-schema.js";
import type { Pictures } from "../../api/pictures.js";
import { layerOf } from "../../api/pictures.js";
import type { Point } from "../../board/polygon.js";
import { fitStage, type Stage, stageToFrame } from "../board/make-stage.js";
import { shownRange } from "../board/paint-rise.js";
import { partAt } from "../board/part-at.js";
import { type BoardPicture, paintLimits, type RiseLayer, viewThreshold } from "../board/prepare-picture.js";
import type { Threshold } from "../board/threshold-at.js";
import { letterScale } from "../show/letter-scale.js";
import { useSize } from "../show/use-size.js";
import { isDark } from "../state/settings.js";
import { BoardCanvas } from "./board-canvas.js";
import { BoardMarks } from "./board-marks.js";
import { ColourKey } from "./colour-key.js";
import { CoursePanel } from "./course-panel.js";
import { CursorLayer } from "./cursor-layer.js";
import { type FoundPlace, findPlaces } from "./find-places.js";
import { keepPicture, LastPicture } from "./last-picture.js";
import { PlacesLine } from "./places-line.js";
import { ProfilePanel } from "./profile-panel.js";
import { useBoardPicture } from "./use-board-picture.js";

interface BoardViewProps {
  readonly job: string;
  readonly attempt: JobState["attempts"][number];
  readonly view: number;
  readonly pictures: Pictures;
  readonly stage: Stage;
  readonly layer: RiseLayer;
  readonly threshold: Threshold;
  readonly isOwnRate: boolean;
  readonly pointed: string | null;
}

/** Room for labels beside the board, px; on narrow screens they are written shorter. */
const LABEL_ROOM = 136;
const NARROW_LABEL_ROOM = 84;
const NARROW = 560;
/** Room above the board, and for the line under it, which takes two on narrow screens, px. */
const ABOVE_PX = 6;
const READOUT_PX = 36;
const NARROW_READOUT_PX = 52;
/** A grid finer than this tells nothing more: cameras have 640 pixels at most, and a redraw has to fit into a frame. */
const MOST_GRID = 720;

/** The board of an answer. */
export function BoardView(props: BoardViewProps) {
  const { job, attempt, view, pictures, stage, layer, threshold, isOwnRate, pointed } = props;
  const box = useRef<HTMLDivElement>(null);
  const size = useSize(box);
  const [cursor, setCursor] = useState<Point | null>(null);
  const [line, setLine] = useState<readonly [Point, Point] | null>(null);
  const [courseAt, setCourseAt] = useState<Point | null>(null);
  const [places, setPlaces] = useState<readonly FoundPlace[] | null>(null);
  const picture = useBoardPicture(pictures, stage, layer, MOST_GRID);
  useEffect(() => {
    setPlaces(null);
    if (isOwnRate) return undefined;
    const significance = layerOf(pictures, "significance");
    const rise = layerOf(pictures, "smoothRise");
    if (significance === null || rise === null) return undefined;
    return findPlaces(
      {
        significance,
        rise,
        width: pictures.width,
        leastSigma: threshold.placeSigma,
        noiseK: viewThreshold(attempt.findings, view).noise.testedSigmaK,
      },
      setPlaces,
    );
  }, [pictures, threshold.placeSigma, isOwnRate]);
  const letter = letterScale();
  const isNarrow = size.width < NARROW;
  const room = (isNarrow ? NARROW_LABEL_ROOM : LABEL_ROOM) * letter;
  const readout = (isNarrow ? NARROW_READOUT_PX : READOUT_PX) * letter;
  const inner = Math.max(40, size.width - 2 * room);
  // A board that is wider than the box leaves no empty band above and below it.
  const mostHeight = (inner * stage.height) / stage.width + ABOVE_PX + readout;
  const fit = fitStage(stage, {
    x: room,
    y: ABOVE_PX,
    width: inner,
    height: Math.max(40, size.height - ABOVE_PX - readout),
  });
  if (picture === null) return <p>The pictures of this attempt have no rise.</p>;
  const painted = picture === undefined ? null : withScale(picture, threshold);
  const courses = (attempt.attempt.views[view]?.powered.length ?? 0) > 1;
  return (
    <div class="board-view">
      <div
        class="board-box"
        ref={box}
        style={size.width > 0 ? { maxHeight: `${Math.ceil(mostHeight)}px` } : {}}
      >
        {size.width > 0 && (
          <>
            {painted === null ? (
              <LastPicture job={job} />
            ) : (
              <div
                class="board-place"
                aria-hidden="true"
                style={{
                  left: `${fit.x}px`,
                  top: `${fit.y}px`,
                  width: `${fit.width}px`,
                  height: `${fit.height}px`,
                }}
              >
                <BoardCanvas
                  picture={painted.picture}
                  options={{ ...painted.options, isDark: isDark.value }}
                  width={fit.width}
                  height={fit.height}
                  onPainted={(canvas) => keepPicture(job, canvas, [fit.x, fit.y])}
                />
              </div>
            )}
            <BoardMarks
              attempt={attempt}
              view={view}
              stage={stage}
              fit={fit}
              size={size}
              bottom={size.height - readout}
              pointed={pointed}
              isShort={isNarrow}
              letter={letter}
              places={places}
            />
            <CursorLayer
              attempt={attempt}
              stage={stage}
              fit={fit}
              size={size}
              frame={pictures}
              cursor={cursor}
              onCursor={setCursor}
              line={line}
              onLine={setLine}
              onCourse={courses ? setCourseAt : null}
            />
          </>
        )}
      </div>
      {painted !== null && <ColourKey scaleK={painted.range} greyC={painted.options.greyC} layer={layer} />}
      {!isOwnRate && <PlacesLine attempt={attempt} stage={stage} places={places} view={view} />}
      {line !== null && (
        <ProfilePanel stage={stage} frame={pictures} line={line} onClose={() => setLine(null)} />
      )}
      {courseAt !== null && (
        <CoursePanel
          job={job}
          number={attempt.attempt.number}
          view={view}
          stage={stage}
          part={partAt(attempt.board, stage.side, courseAt)?.ref ?? null}
          at={courseAt}
          framePx={stageToFrame(stage, courseAt)}
          onClose={() => setCourseAt(null)}
        />
      )}
    </div>
  );
}

/** A picture, where its colours begin, and which rises they span; `range` is null where nothing is coloured. */
function withScale(picture: BoardPicture, threshold: Threshold) {
  const limits = paintLimits(picture, threshold);
  const range = shownRange(picture, limits);
  const scaleK = range ?? { low: 0, high: limits.leastRiseK };
  return { picture, range, options: { ...limits, scaleK, greyC: picture.greyC } };
}
