// page: how the board is looked at → lines of whole millimetres, with numbers at the edges.
import { letterScale } from "../show/letter-scale.js";
import { showNumber } from "../state/settings.js";
import type { DrawSession } from "./draw-session.js";
import { fromScreen, toScreen } from "./model/camera.js";
import { mmText } from "./model/say-shape.js";

/** Distances between lines, mm: each one is drawn from where it is wide enough on the screen. */
const PITCHES = [0.1, 0.5, 1, 5, 10, 50, 100] as const;
/** Beside letters of a laptop: lines nearer than this would grey the pane, px … */
const LEAST_PX = 14;
/** … and numbers nearer than this would run into each other. */
const LEAST_NUMBER_PX = 44;

/** The corner belongs to the numbers along the upper edge, px. */
const CORNER_PX = 28;

/** Draw the lines, the origin's ones stronger. */
export function BoardGrid({ session }: { readonly session: DrawSession }) {
  const { camera, size } = session.board;
  const { width, height } = size.value;
  if (width === 0) return null;
  const { scale } = camera.value;
  const letter = letterScale();
  const lines = PITCHES.find((mm) => mm * scale >= LEAST_PX) ?? 100;
  const numbers = PITCHES.find((mm) => mm >= lines && mm * scale >= LEAST_NUMBER_PX * letter) ?? 500;
  const a = fromScreen(camera.value, size.value, [0, 0]);
  const b = fromScreen(camera.value, size.value, [width, height]);
  const xs = between(Math.min(a[0], b[0]), Math.max(a[0], b[0]), lines);
  const ys = between(a[1], b[1], lines);
  const u = (x: number): number => toScreen(camera.value, size.value, [x, 0])[0];
  const v = (y: number): number => toScreen(camera.value, size.value, [0, y])[1];
  const path = [
    ...xs.map((x) => `M${u(x).toFixed(1)} 0V${height}`),
    ...ys.map((y) => `M0 ${v(y).toFixed(1)}H${width}`),
  ].join("");
  const hasNumber = (mm: number): boolean => Math.abs(mm / numbers - Math.round(mm / numbers)) < 1e-6;
  return (
    <g class="draw-grid">
      <path d={path} />
      <path class="origin" d={`M${u(0).toFixed(1)} 0V${height}M0 ${v(0).toFixed(1)}H${width}`} />
      {xs.filter(hasNumber).map((x) => (
        <text key={`x ${x}`} x={u(x) + 3 * letter} y={11 * letter}>
          {rulerText(x)}
        </text>
      ))}
      {ys
        .filter((y) => hasNumber(y) && v(y) > CORNER_PX * letter)
        .map((y) => (
          <text key={`y ${y}`} x={3 * letter} y={v(y) - 3 * letter}>
            {rulerText(y)}
          </text>
        ))}
    </g>
  );
}

/** As elsewhere on the page, a minus and no hyphen. */
function rulerText(mm: number): string {
  return showNumber(mmText(mm)).replace("-", "−");
}

function between(from: number, to: number, pitch: number): number[] {
  const first = Math.ceil(from / pitch);
  const count = Math.max(0, Math.floor(to / pitch) - first + 1);
  return Array.from({ length: count }, (_, i) => (first + i) * pitch);
}
