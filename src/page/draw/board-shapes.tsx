// page: a drawing → outline, regions, handles and fiducials as SVG over a pane.
import { boundsOf, centroid, type Point, type Polygon } from "../../board/polygon.js";
import { letterScale } from "../show/letter-scale.js";
import type { DrawSession } from "./draw-session.js";
import { pendingShape } from "./draw-tools.js";
import { cameraMatrix, toScreen } from "./model/camera.js";
import type { DrawnRegion, Side } from "./model/drawing.js";
import { polygonOf } from "./model/find-under.js";

/** A letter of a label is about so wide, and a label so high, px beside letters of a laptop. Where it does not fit into
 *  its region it would hide the outline: the table has the name, and so has the region once it is chosen or larger. */
const LETTER_PX = 8;
const LABEL_PX = 13;

/** All that is drawn on the board, in the pane's own pixels. */
export function BoardShapes({ session }: { readonly session: DrawSession }) {
  const { board, drawing, side, chosen, isOutlineChosen, problems, mode } = session;
  const camera = board.camera.value;
  const pane = board.size.value;
  const [a, , c, , e, f] = cameraMatrix(camera, pane);
  const wrong = new Set(problems.value.filter(({ isError }) => isError).map(({ shape }) => shape));
  const { outline, regions } = drawing.value;
  return (
    <>
      <g transform={`matrix(${a} 0 0 ${e} ${c} ${f})`}>
        {outline.length > 0 && (
          <Shape polygon={outline} class={`draw-outline${isOutlineChosen.value ? " chosen" : ""}`} />
        )}
        <RegionShapes
          regions={regions}
          classOf={(region) =>
            regionClass(region, side.value, chosen.value.has(region.id), wrong.has(region.id))
          }
        />
        <Pending session={session} />
      </g>
      {regions.map((region) =>
        region.side === side.value ? (
          <Label key={region.id} region={region} session={session} isWrong={wrong.has(region.id)} />
        ) : null,
      )}
      {mode.value === "draw" && <Handles session={session} />}
      <Cursor session={session} />
    </>
  );
}

/** A closed shape with a pale line under its own, so that it is seen on light and on dark. */
export function Shape({ polygon, class: name }: { readonly polygon: Polygon; readonly class: string }) {
  return <Path class={name} path={pathOf(polygon)} />;
}

/** Regions of one state as one path: a board has hundreds, and elements cost more than corners. */
export function RegionShapes(props: {
  readonly regions: readonly DrawnRegion[];
  readonly classOf: (region: DrawnRegion) => string;
  readonly toPane?: (point: Point) => Point;
}) {
  const { regions, classOf, toPane } = props;
  const paths = new Map<string, string[]>();
  for (const region of regions) {
    const name = classOf(region);
    const path = pathOf(toPane === undefined ? region.polygon : region.polygon.map(toPane));
    const others = paths.get(name);
    if (others === undefined) paths.set(name, [path]);
    else others.push(path);
  }
  // What is seen from the other side lies lowest, what is chosen on top.
  const order = (name: string): number => (name.includes("far") ? 0 : name.includes("chosen") ? 2 : 1);
  const names = [...paths.keys()].sort((a, b) => order(a) - order(b) || (a < b ? -1 : 1));
  return (
    <>
      {names.map((name) => (
        <Path key={name} class={name} path={paths.get(name)!.join("")} />
      ))}
    </>
  );
}

function Path({ path, class: name }: { readonly path: string; readonly class: string }) {
  return (
    <g class={name}>
      <path class="draw-halo" d={path} />
      <path class="draw-line" d={path} />
    </g>
  );
}

function pathOf(polygon: Polygon): string {
  return `M${polygon.map(([x, y]) => `${x} ${y}`).join("L")}Z`;
}

/** Classes of a region by its state. */
export function regionClass(region: DrawnRegion, side: Side, isChosen: boolean, isWrong: boolean): string {
  const states = [
    "draw-region",
    region.side === side ? "" : "far",
    isChosen ? "chosen" : "",
    isWrong ? "wrong" : "",
    region.kind === "shield" ? "shield" : "",
  ];
  return states.filter((state) => state !== "").join(" ");
}

function Label({
  region,
  session,
  isWrong,
}: {
  region: DrawnRegion;
  session: DrawSession;
  isWrong: boolean;
}) {
  const { camera, size } = session.board;
  const corners = region.polygon.map((corner) => toScreen(camera.value, size.value, corner));
  const [u, v] = centroid(corners);
  if (!(u > 0 && v > 0 && u < size.value.width && v < size.value.height)) return null;
  const { minX, minY, maxX, maxY } = boundsOf(corners);
  // A mark besides the colour, for eyes that don't tell it.
  const text = `${isWrong ? "⚠ " : ""}${region.ref}${region.normallyWarm === true ? " ~" : ""}`;
  const letter = letterScale();
  const isFitting = maxX - minX >= text.length * LETTER_PX * letter && maxY - minY >= LABEL_PX * letter;
  if (!isFitting && !isWrong && !session.chosen.value.has(region.id)) return null;
  return (
    <text class="draw-label" x={u} y={v}>
      {text}
    </text>
  );
}

function Pending({ session }: { readonly session: DrawSession }) {
  const { tool, points, board, mode } = session;
  const frame = session.choosing.value;
  if (frame !== null) {
    const [[x, y], [u, v]] = frame;
    return (
      <Shape
        class="draw-pending"
        polygon={[
          [x, y],
          [u, y],
          [u, v],
          [x, v],
        ]}
      />
    );
  }
  if (mode.value === "place" || tool.value === "choose" || points.value.length === 0) return null;
  return <Shape class="draw-pending" polygon={pendingShape(tool.value, points.value, board.cursor.value)} />;
}

function Handles({ session }: { readonly session: DrawSession }) {
  const { shape, drawing, corner, board, tool, points } = session;
  const at = (point: Point): Point => toScreen(board.camera.value, board.size.value, point);
  const own = tool.value === "choose" && shape.value !== null ? polygonOf(drawing.value, shape.value) : [];
  return (
    <>
      {own.map((point, i) => {
        const [u, v] = at(point);
        const isChosen = corner.value === i;
        return (
          <rect
            key={i}
            class={`draw-handle${isChosen ? " chosen" : ""}`}
            x={u - 5}
            y={v - 5}
            width="10"
            height="10"
          />
        );
      })}
      {points.value.map((point, i) => {
        const [u, v] = at(point);
        return <circle key={i} class="draw-handle" cx={u} cy={v} r="4.5" />;
      })}
    </>
  );
}

function Cursor({ session }: { readonly session: DrawSession }) {
  const { tool, mode, board } = session;
  if (tool.value === "choose" && mode.value === "draw") return null;
  const [u, v] = toScreen(board.camera.value, board.size.value, board.cursor.value);
  return <CrossMark at={[u, v]} />;
}

/** A cross where the next point would be put. */
export function CrossMark({ at: [u, v] }: { readonly at: Point }) {
  const path = `M${u - 11} ${v}h8m6 0h8M${u} ${v - 11}v8m0 6v8`;
  return (
    <g class="draw-cross">
      <path class="draw-halo" d={path} />
      <path class="draw-line" d={path} />
    </g>
  );
}
