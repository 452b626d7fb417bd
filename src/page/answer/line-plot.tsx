// page: points → a plot with numbers at its axes.
import { formatSignificant } from "../../core/format-quantity.js";
import { scaleTicks } from "../../report/scale-ticks.js";
import { showNumber } from "../state/settings.js";

interface LinePlotProps {
  readonly label: string;
  readonly xs: readonly number[];
  readonly ys: readonly number[];
  readonly xUnit: string;
  readonly yUnit: string;
}

const WIDTH = 620;
const HEIGHT = 170;
const EDGE = { left: 56, right: 12, top: 10, bottom: 26 };

/** A plot of one curve; gaps where a value is no number. */
export function LinePlot({ label, xs, ys, xUnit, yUnit }: LinePlotProps) {
  const known = ys.filter(Number.isFinite);
  if (known.length < 2) return <p class="dim small">There is nothing to be plotted here.</p>;
  const lowY = Math.min(0, ...known);
  const highY = Math.max(...known) > lowY ? Math.max(...known) : lowY + 1;
  const lowX = xs[0] ?? 0;
  const highX = (xs.at(-1) ?? 1) > lowX ? (xs.at(-1) ?? 1) : lowX + 1;
  const x = (value: number): number =>
    EDGE.left + ((value - lowX) / (highX - lowX)) * (WIDTH - EDGE.left - EDGE.right);
  const y = (value: number): number =>
    HEIGHT - EDGE.bottom - ((value - lowY) / (highY - lowY)) * (HEIGHT - EDGE.top - EDGE.bottom);
  let path = "";
  let isDrawing = false;
  ys.forEach((value, i) => {
    if (!Number.isFinite(value)) {
      isDrawing = false;
      return;
    }
    path += `${isDrawing ? "L" : "M"}${x(xs[i]!).toFixed(1)} ${y(value).toFixed(1)}`;
    isDrawing = true;
  });
  const peak = known.reduce((a, b) => Math.max(a, b));
  return (
    <svg
      class="line-plot"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={showNumber(`${label}: largest ${formatSignificant(peak, 3)} ${yUnit}`)}
    >
      {scaleTicks(lowY, highY, 5).map(({ at, text }) => (
        <g key={text}>
          <line class="grid" x1={EDGE.left} x2={WIDTH - EDGE.right} y1={y(at)} y2={y(at)} />
          <text class="plot-word" x={EDGE.left - 6} y={y(at) + 4} text-anchor="end">
            {showNumber(text)}
          </text>
        </g>
      ))}
      {scaleTicks(lowX, highX, 8).map(({ at, text }) => (
        <text class="plot-word" key={text} x={x(at)} y={HEIGHT - 8} text-anchor="middle">
          {showNumber(text)}
        </text>
      ))}
      <text class="plot-word" x={WIDTH - EDGE.right} y={HEIGHT - 8} text-anchor="end">
        {xUnit}
      </text>
      <text class="plot-word" x={4} y={14}>
        {yUnit}
      </text>
      <path class="curve" d={path} />
    </svg>
  );
}
