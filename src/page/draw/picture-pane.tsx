// page: a picture in its own pixels → a pane on which fiducials are picked.
import { useLayoutEffect, useMemo, useRef } from "preact/hooks";
import type { Point } from "../../board/polygon.js";
import { boardPoint } from "../../core/units.js";
import { ARROWS, cameraKey, moveCursor, sayCross } from "./board-keys.js";
import { CrossMark, RegionShapes, regionClass, Shape } from "./board-shapes.js";
import type { DrawSession } from "./draw-session.js";
import { pickEnd, shownPlacement } from "./fiducial-actions.js";
import { FiducialMarks } from "./fiducial-marks.js";
import { cameraMatrix, fitCamera, toScreen } from "./model/camera.js";
import { type PaneUser, usePaneGestures } from "./pane-gestures.js";
import { PictureLayer } from "./picture-layer.js";
import { say } from "./say.js";
import { startPick } from "./start-points.js";

const KEYS =
  "Arrow keys move the cross by a pixel, with Shift by a tenth, with Alt by ten. Enter picks. Plus, minus and 0 zoom.";

/** Pick fiducials on the picture that is shown. */
export function PicturePane({ session }: { readonly session: DrawSession }) {
  const element = useRef<HTMLDivElement>(null);
  const { photo, picture, placing } = session;
  const user = useMemo(() => picturePointer(session), [session]);
  usePaneGestures(element, photo, user);
  const shown = picture.value;
  const { width, height } = photo.size.value;
  const showAll = (): void => {
    if (shown === null || width === 0) return;
    const bounds = { minX: -0.5, minY: -0.5, maxX: shown.width - 0.5, maxY: shown.height - 0.5 };
    photo.camera.value = fitCamera(bounds, photo.size.value, false, 0.02);
  };
  useLayoutEffect(() => {
    showAll();
    if (shown !== null) photo.cursor.value = [Math.floor(shown.width / 2), Math.floor(shown.height / 2)];
  }, [shown?.key, width > 0 && height > 0]);

  const keyDown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey) return;
    const arrow = ARROWS[event.key];
    const far = event.shiftKey ? 0.1 : event.altKey ? 10 : 1;
    if (arrow !== undefined) moveCursor(session, photo, [arrow[0] * far, arrow[1] * far]);
    else if (event.key === "Enter" || event.key === " ") pick(session, photo.cursor.value);
    else if (!cameraKey(photo, event, showAll)) return;
    event.preventDefault();
    event.stopPropagation();
  };
  const toPane = (point: Point): Point => toScreen(photo.camera.value, photo.size.value, point);
  const placed = placing.value?.placed ?? null;
  const solved =
    placed === null ? null : (point: Point): Point => toPane(placed.toFrame(boardPoint(...point)));
  return (
    <div
      ref={element}
      class="draw-pane drawing"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: a picture is picked on by keys
      tabIndex={0}
      role="application"
      aria-label={shown === null ? "No picture" : `Pick on the picture ${shown.name}`}
      aria-describedby="draw-picture-keys"
      data-pane="picture"
      onKeyDown={keyDown}
      onFocus={(event) => event.currentTarget.matches(":focus-visible") && sayCross(session, photo)}
    >
      {shown !== null && (
        <PictureLayer
          picture={shown}
          matrix={cameraMatrix(photo.camera.value, photo.size.value)}
          isPicked
          isEvened={session.isEvened.value}
        />
      )}
      <svg class="draw-svg" width={width} height={height} aria-hidden="true">
        {solved !== null && <PlacedBoard session={session} solved={solved} />}
        <FiducialMarks
          session={session}
          end="pixel"
          toPane={toPane}
          {...(solved === null ? {} : { solved })}
        />
        {session.startPoints.value.map((point, i) => {
          const [u, v] = toPane(point);
          return <circle key={i} class="draw-handle" cx={u} cy={v} r="5" />;
        })}
        <CrossMark at={toPane(photo.cursor.value)} />
      </svg>
      <span id="draw-picture-keys" class="draw-unseen">
        {KEYS}
      </span>
    </div>
  );
}

/** Outline and regions where the fiducials have them on the picture. */
function PlacedBoard({
  session,
  solved,
}: {
  readonly session: DrawSession;
  readonly solved: (point: Point) => Point;
}) {
  const { outline, regions } = session.drawing.value;
  const side = shownPlacement(session)?.side ?? "top";
  return (
    <>
      {outline.length > 0 && <Shape class="draw-outline" polygon={outline.map(solved)} />}
      <RegionShapes
        regions={regions.filter((region) => region.side === side)}
        classOf={(region) => regionClass(region, side, false, false)}
        toPane={solved}
      />
    </>
  );
}

function picturePointer(session: DrawSession): PaneUser {
  return {
    begin: () => null,
    click: (at) => pick(session, tenths(at)),
    hover: (at) => {
      session.photo.cursor.value = tenths(at);
    },
  };
}

/** A point for the beginning where one is asked for, else the pixel of a fiducial. */
function pick(session: DrawSession, pixel: Point): void {
  const { picture } = session;
  if (picture.value === null) return;
  const [x, y] = pixel;
  const { width, height } = picture.value;
  if (x < -0.5 || y < -0.5 || x > width - 0.5 || y > height - 0.5) {
    say("That is beside the picture");
    return;
  }
  if (!startPick(session, pixel)) pickEnd(session, "pixel", pixel);
}

/** A tenth of a pixel is finer than a hand picks. */
function tenths([x, y]: Point): Point {
  return [Math.round(x * 10) / 10, Math.round(y * 10) / 10];
}
