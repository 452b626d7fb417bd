// report: painted picture and marks → the SVG that is laid over it: lines, labels at the edge, scale bars.
import { boundsOf } from "../board/polygon.js";
import { formatSignificant } from "../core/format-quantity.js";
import type { Analysis } from "../findings/analysis.js";
import { greyColour, hexColour, riseColour } from "./colour-scale.js";
import type { PaintedRise } from "./paint-rise.js";
import type { EdgeLabel, PictureMarks, ShapeMark } from "./picture-marks.js";
import { scaleTicks } from "./scale-ticks.js";
import { spreadLabels } from "./spread-labels.js";
import { fitStrokeText, strokeText, strokeTextWidth, type TextAnchor } from "./stroke-font.js";

/** Where things stand on the canvas, px. */
export interface PictureLayout {
  readonly width: number;
  readonly height: number;
  /** Top left corner of the painted frame and its size. */
  readonly left: number;
  readonly top: number;
  readonly pictureWidth: number;
  readonly pictureHeight: number;
  /** Canvas pixels per frame pixel. */
  readonly scale: number;
  readonly scalesWidth: number;
}

const INK = "#1b2530";
const QUIET = "#59646e";
const HALO = "#ffffff";
const CAP_PX = 13;
const SMALL_CAP_PX = 11;
const TINY_CAP_PX = 9;
const LABEL_DISTANCE_PX = 46;
const LABEL_GAP_PX = 14;
const TICK_ROOM_PX = 60;

/** Draw everything that lies over the painted frame.
 *  Frame pixel (x, y) stands at left + (x + 0.5) · scale, top + (y + 0.5) · scale, since integers are pixel centres.
 *  @returns an SVG of the canvas's size; transparent where nothing is drawn; holds no text elements, so needs no font.
 */
export function drawMarks(
  marks: PictureMarks,
  painted: PaintedRise,
  layout: PictureLayout,
  analysis: Analysis,
): string {
  const { width, height, left, top, pictureWidth, pictureHeight } = layout;
  const clip = `<clipPath id="frame"><rect x="${left}" y="${top}" width="${pictureWidth}" height="${pictureHeight}"/></clipPath>`;
  const inside = [
    ...marks.shapes.map((shape) => drawShape(shape, layout)),
    ...marks.artefacts.map((mark) => drawArtefact(mark, layout)),
    ...marks.hotspots.map((mark) => drawHotspot(mark, marks.hotspots.length > 1, layout)),
  ].join("");
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" fill="none" stroke-linecap="round" stroke-linejoin="round">`,
    `<defs>${clip}</defs><g clip-path="url(#frame)">${inside}</g>`,
    `<rect x="${left - 0.5}" y="${top - 0.5}" width="${pictureWidth + 1}" height="${pictureHeight + 1}" stroke="${QUIET}" stroke-width="1"/>`,
    drawLabels(marks.labels, layout),
    drawScales(painted, marks, layout, analysis),
    "</svg>",
  ].join("");
}

function drawShape(shape: ShapeMark, layout: PictureLayout): string {
  const points = shape.points.map(([x, y]) => place(x, y, layout));
  if (points.length === 0) return "";
  const d = `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}Z`;
  const dash = shape.normallyWarm ? ' stroke-dasharray="7 4"' : "";
  if (shape.weight === "suspect") {
    return `<path d="${d}" stroke="${HALO}" stroke-width="4" stroke-opacity="0.85"/><path d="${d}" stroke="${INK}" stroke-width="2"${dash}/>`;
  }
  const line =
    shape.weight === "outline" ? `stroke="${INK}" stroke-width="1.8"` : `stroke="${QUIET}" stroke-width="1"`;
  const { minX, maxX, minY, maxY } = boundsOf(points);
  const room = maxX - minX - 6;
  const tall = maxY - minY - 6;
  const fits = shape.text !== "" && strokeTextWidth(shape.text, TINY_CAP_PX) <= room && TINY_CAP_PX <= tall;
  const x = (maxX + minX) / 2;
  const y = (maxY + minY) / 2 + TINY_CAP_PX / 2;
  const name = fits ? text(shape.text, x, y, TINY_CAP_PX, "middle", { colour: QUIET, halo: true }) : "";
  return `<path d="${d}" ${line}${dash}/>${name}`;
}

function drawHotspot(
  mark: PictureMarks["hotspots"][number],
  several: boolean,
  layout: PictureLayout,
): string {
  const [x, y] = place(mark.at[0], mark.at[1], layout);
  const cross = `M${x - 9} ${y}h6M${x + 3} ${y}h6M${x} ${y - 9}v6M${x} ${y + 3}v6`;
  const rank = several
    ? text(String(mark.rank), x + 9, y - 7, SMALL_CAP_PX, "start", { colour: INK, halo: true, bold: true })
    : "";
  return `<path d="${cross}" stroke="${HALO}" stroke-width="4"/><path d="${cross}" stroke="${INK}" stroke-width="1.6"/>${rank}`;
}

function drawArtefact(mark: PictureMarks["artefacts"][number], layout: PictureLayout): string {
  const [x, y] = place(mark.at[0], mark.at[1], layout);
  const radius = Math.max(7, mark.radiusPx * layout.scale);
  const ring = `<circle cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="${radius.toFixed(1)}"`;
  // On the ring, not in its middle: there the part's own name may stand.
  const onRing = (radius + SMALL_CAP_PX / 2) * Math.SQRT1_2;
  const letter = text(mark.letter, x + onRing, y - onRing + SMALL_CAP_PX / 2, SMALL_CAP_PX, "middle", {
    colour: QUIET,
    halo: true,
  });
  return `${ring} stroke="${HALO}" stroke-width="3.5"/>${ring} stroke="${QUIET}" stroke-width="1.5" stroke-dasharray="4 4"/>${letter}`;
}

/** Labels stand beside the frame on the side nearer to what they name; where one side is full, the other takes over. */
function drawLabels(labels: readonly EdgeLabel[], layout: PictureLayout): string {
  const { left, top, pictureWidth, pictureHeight, width } = layout;
  const most = Math.max(1, Math.floor(pictureHeight / LABEL_DISTANCE_PX));
  const sides: { left: EdgeLabel[]; right: EdgeLabel[] } = { left: [], right: [] };
  for (const label of labels) {
    const wished =
      place(label.anchor[0], label.anchor[1], layout)[0] < left + pictureWidth / 2 ? "left" : "right";
    const other = wished === "left" ? "right" : "left";
    if (sides[wished].length < most) sides[wished].push(label);
    else if (sides[other].length < most) sides[other].push(label);
  }
  const parts: string[] = [];
  for (const side of ["left", "right"] as const) {
    const anchors = sides[side].map((label) => place(label.anchor[0], label.anchor[1], layout));
    const low = top + LABEL_DISTANCE_PX / 2;
    const high = Math.max(low, top + pictureHeight - LABEL_DISTANCE_PX / 2);
    const heights = spreadLabels(
      anchors.map((anchor) => anchor[1]),
      LABEL_DISTANCE_PX,
      low,
      high,
    );
    const edge = side === "left" ? left - LABEL_GAP_PX : left + pictureWidth + LABEL_GAP_PX;
    const room = (side === "left" ? left : width - left - pictureWidth) - LABEL_GAP_PX - 14;
    sides[side].forEach((label, i) => {
      parts.push(drawLabel(label, anchors[i]!, heights[i]!, side, edge, room));
    });
  }
  return parts.join("");
}

function drawLabel(
  label: EdgeLabel,
  anchor: readonly [number, number],
  y: number,
  side: "left" | "right",
  edge: number,
  room: number,
): string {
  const anchorEnd: TextAnchor = side === "left" ? "end" : "start";
  const textX = side === "left" ? edge - 8 : edge + 8;
  const knee = side === "left" ? edge + 8 : edge - 8;
  const leader = `M${edge} ${y.toFixed(1)}H${knee}L${anchor[0].toFixed(1)} ${anchor[1].toFixed(1)}`;
  return [
    `<path d="${leader}" stroke="${HALO}" stroke-width="3.5"/><path d="${leader}" stroke="${INK}" stroke-width="1.2"/>`,
    `<circle cx="${anchor[0].toFixed(1)}" cy="${anchor[1].toFixed(1)}" r="3" fill="${INK}" stroke="${HALO}" stroke-width="1"/>`,
    text(fitStrokeText(label.title, CAP_PX, room), textX, y - 3, CAP_PX, anchorEnd, {
      colour: INK,
      bold: true,
    }),
    text(fitStrokeText(label.detail, SMALL_CAP_PX, room), textX, y + 15, SMALL_CAP_PX, anchorEnd, {
      colour: INK,
    }),
  ].join("");
}

/** Bars with numbers under the frame: every colour of the picture can be read in K, every grey in °C. */
function drawScales(
  painted: PaintedRise,
  marks: PictureMarks,
  layout: PictureLayout,
  analysis: Analysis,
): string {
  const { left, top, pictureHeight, scalesWidth } = layout;
  const barY = top + pictureHeight + 40;
  const gap = 40;
  const greyWidth = Math.round((scalesWidth - gap) * 0.3);
  const riseWidth = scalesWidth - gap - greyWidth;
  const parts: string[] = [];
  const threshold = formatSignificant(analysis.findings.threshold.riseK, 2);
  if (painted.riseK === null) {
    const words = `no rise reaches ${threshold} K, the least that counts`;
    parts.push(
      text(fitStrokeText(words, SMALL_CAP_PX, riseWidth), left, barY + 11, SMALL_CAP_PX, "start", {
        colour: INK,
      }),
    );
  } else {
    const words = "rise where it is significant, K";
    parts.push(drawBar(left, barY, riseWidth, painted.riseK, words, (share) => hexColour(riseColour(share))));
  }
  if (painted.greyC !== null) {
    const greyX = left + riseWidth + gap;
    parts.push(
      drawBar(greyX, barY, greyWidth, painted.greyC, "baseline, °C", (share) => hexColour(greyColour(share))),
    );
  }
  const kinds = marks.artefacts.map((mark) => `${mark.letter} ${mark.kind}`).join(", ");
  const legend = [
    marks.artefacts.length > 0 ? `dashed rings are no heat: ${kinds}` : "",
    painted.hasNoReading ? "white: no reading" : "",
  ].filter((part) => part !== "");
  if (legend.length > 0) {
    const line = fitStrokeText(legend.join("; "), TINY_CAP_PX, layout.width - left - 10);
    parts.push(text(line, left, barY + 58, TINY_CAP_PX, "start", { colour: QUIET }));
  }
  return parts.join("");
}

function drawBar(
  x: number,
  y: number,
  width: number,
  range: { low: number; high: number },
  title: string,
  colour: (share: number) => string,
): string {
  const steps = 64;
  const step = width / steps;
  const parts = [
    text(fitStrokeText(title, SMALL_CAP_PX, width), x, y - 9, SMALL_CAP_PX, "start", { colour: INK }),
  ];
  for (let i = 0; i < steps; i++) {
    parts.push(
      `<rect x="${(x + i * step).toFixed(2)}" y="${y}" width="${(step + 0.5).toFixed(2)}" height="14" fill="${colour(i / (steps - 1))}"/>`,
    );
  }
  parts.push(`<rect x="${x}" y="${y}" width="${width}" height="14" stroke="${QUIET}" stroke-width="1"/>`);
  for (const tick of scaleTicks(range.low, range.high, Math.max(1, Math.floor(width / TICK_ROOM_PX)))) {
    const at = x + ((tick.at - range.low) / (range.high - range.low)) * width;
    parts.push(`<path d="M${at.toFixed(1)} ${y + 14}v5" stroke="${QUIET}" stroke-width="1"/>`);
    parts.push(text(tick.text, at, y + 33, TINY_CAP_PX, "middle", { colour: INK }));
  }
  return parts.join("");
}

function text(
  words: string,
  x: number,
  y: number,
  capPx: number,
  anchor: TextAnchor,
  style: { colour: string; bold?: boolean; halo?: boolean },
): string {
  const d = strokeText(words, x, y, capPx, anchor);
  if (d === "") return "";
  const halo = style.halo === true ? `<path d="${d}" stroke="${HALO}" stroke-width="4.5"/>` : "";
  return `${halo}<path d="${d}" stroke="${style.colour}" stroke-width="${(capPx / (style.bold === true ? 5.2 : 8)).toFixed(2)}"/>`;
}

function place(x: number, y: number, layout: PictureLayout): readonly [number, number] {
  return [layout.left + (x + 0.5) * layout.scale, layout.top + (y + 0.5) * layout.scale];
}
