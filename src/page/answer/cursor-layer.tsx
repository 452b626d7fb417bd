// page: pointer and keys → a place on the board, and what is there in numbers.
import { useEffect, useRef, useState } from "preact/hooks";
import type { JobState } from "../../api/jobs-schema.js";
import type { Pictures } from "../../api/pictures.js";
import type { Point } from "../../board/polygon.js";
import { formatSignificant } from "../../core/format-quantity.js";
import { type Fit, type Stage, screenToStage, stageToFrame, stageToScreen } from "../board/make-stage.js";
import { partAt } from "../board/part-at.js";
import { valuesAt } from "../board/prepare-picture.js";
import { riseText, temperatureText } from "../show/show-temperature.js";
import { showNumber, temperature } from "../state/settings.js";

interface CursorLayerProps {
  readonly attempt: JobState["attempts"][number];
  readonly stage: Stage;
  readonly fit: Fit;
  readonly size: { readonly width: number; readonly height: number };
  readonly frame: Pictures;
  /** Place on the plane; null before the first move. */
  readonly cursor: Point | null;
  readonly onCursor: (cursor: Point | null) => void;
  readonly line: readonly [Point, Point] | null;
  readonly onLine: (line: readonly [Point, Point] | null) => void;
  /** Null where the attempt is no burst. */
  readonly onCourse: ((at: Point) => void) | null;
}

/** An arrow key moves by this share of the plane's longer side, with Shift by ten times as much. */
const KEY_STEP = 1 / 200;
/** A press that moves less than this is a click, px. */
const CLICK_PX = 4;

/** The layer that takes pointer and keys. Arrows move the cursor, Enter begins and ends a profile line, T asks for the
 *  time course, Escape clears. */
export function CursorLayer(props: CursorLayerProps) {
  const { stage, fit, size, cursor, onCursor, line, onLine, onCourse } = props;
  const pressed = useRef<Point | null>(null);
  const [start, setStart] = useState<Point | null>(null);
  const layer = useRef<HTMLDivElement>(null);
  const [spoken, setSpoken] = useState("");
  const words = cursor === null ? "" : readout(cursor, props);
  useEffect(() => {
    // Whoever listens hears where the cursor came to rest, not every step of the way.
    const timer = setTimeout(() => setSpoken(words), 400);
    return () => clearTimeout(timer);
  }, [words]);
  const at = (event: PointerEvent): Point => {
    const bounds = layer.current?.getBoundingClientRect();
    return screenToStage(stage, fit, [
      event.clientX - (bounds?.left ?? 0),
      event.clientY - (bounds?.top ?? 0),
    ]);
  };
  const move = (event: PointerEvent): void => {
    const place = at(event);
    onCursor(place);
    if (pressed.current !== null && distancePx(pressed.current, place) > CLICK_PX)
      onLine([pressed.current, place]);
  };
  const press = (event: PointerEvent): void => {
    pressed.current = at(event);
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
  };
  const release = (event: PointerEvent): void => {
    const from = pressed.current;
    pressed.current = null;
    if (from !== null && distancePx(from, at(event)) <= CLICK_PX) onCourse?.(from);
  };
  const distancePx = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]) * fit.scale;
  const key = (event: KeyboardEvent): void => {
    const middle: Point = [stage.left + stage.width / 2, stage.top + stage.height / 2];
    const from = cursor ?? middle;
    const step = Math.max(stage.width, stage.height) * KEY_STEP * (event.shiftKey ? 10 : 1);
    const across = stage.isMirrored ? -step : step;
    const moves: Record<string, Point> = {
      ArrowLeft: [-across, 0],
      ArrowRight: [across, 0],
      ArrowUp: [0, -step],
      ArrowDown: [0, step],
    };
    const by = moves[event.key];
    if (by !== undefined) {
      const to: Point = [
        Math.min(stage.left + stage.width, Math.max(stage.left, from[0] + by[0])),
        Math.min(stage.top + stage.height, Math.max(stage.top, from[1] + by[1])),
      ];
      onCursor(to);
      if (start !== null) onLine([start, to]);
    } else if (event.key === "Enter") {
      setStart(start === null ? from : null);
      onCursor(from);
    } else if (event.key === "t" || event.key === "T") {
      onCourse?.(from);
    } else if (event.key === "Escape") {
      setStart(null);
      onLine(null);
      onCursor(null);
    } else return;
    event.preventDefault();
  };
  const screen = cursor === null ? null : stageToScreen(stage, fit, cursor);
  const ends = line?.map((point) => stageToScreen(stage, fit, point));
  return (
    <>
      {/* An application to screen readers: arrow keys move the cursor over the board. */}
      <div
        ref={layer}
        class="cursor-layer"
        role="application"
        aria-label="Board: arrow keys read off temperatures, Enter begins and ends a profile line, T shows the time course"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: role application takes keys
        tabIndex={0}
        onPointerMove={move}
        onPointerDown={press}
        onPointerUp={release}
        onPointerLeave={() => {
          if (pressed.current === null && document.activeElement !== layer.current) onCursor(null);
        }}
        onKeyDown={key}
      >
        <svg width={size.width} height={size.height} aria-hidden="true">
          {ends !== undefined && (
            <g class="profile-line">
              <line class="ground" x1={ends[0]![0]} y1={ends[0]![1]} x2={ends[1]![0]} y2={ends[1]![1]} />
              <line x1={ends[0]![0]} y1={ends[0]![1]} x2={ends[1]![0]} y2={ends[1]![1]} />
            </g>
          )}
          {screen !== null && (
            <path
              class="cross"
              d={`M${screen[0] - 10} ${screen[1]}h7m6 0h7M${screen[0]} ${screen[1] - 10}v7m0 6v7`}
            />
          )}
        </svg>
      </div>
      <p class="readout">
        {words === ""
          ? `Point at the board, or move over it by arrow keys${onCourse === null ? "" : "; a click shows the time course"}. Drag for a profile line.`
          : words}
        {start !== null && " Profile line begun: Enter ends it."}
      </p>
      <span class="hidden" role="status">
        {spoken}
      </span>
    </>
  );
}

/** What is at a place, in words. */
function readout(point: Point, { attempt, stage, frame }: CursorLayerProps): string {
  const values = valuesAt(frame, stageToFrame(stage, point));
  const place =
    stage.unit === "mm"
      ? `${point[0].toFixed(1)}, ${point[1].toFixed(1)} mm`
      : `${Math.round(point[0])}, ${Math.round(point[1])} px`;
  const part = partAt(attempt.board, stage.side, point);
  const texts = [
    part === null ? "" : `${part.ref}${part.label === undefined ? "" : ` ${part.label}`}`,
    place.replaceAll("-", "−"),
    `baseline ${temperatureText(values.baselineC, temperature.value, 2)}`,
    `rise ${riseText(values.riseK, temperature.value)}`,
    standsOut(values.significance),
  ];
  return showNumber(texts.filter((text) => text !== "").join(" · "));
}

/** The contrast of a place with what is around it, which is what counts: a warm place beside a hotter one lies
 *  below. */
function standsOut(significance: number): string {
  if (!Number.isFinite(significance)) return "";
  const size = formatSignificant(Math.abs(significance), 2);
  return `${size} σ ${significance < 0 ? "below" : "above"} its surroundings`;
}
