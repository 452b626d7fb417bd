// page: outline, regions, suspects and artefacts → lines and labels over the board.
import type { JobState } from "../../api/jobs-schema.js";
import { applyHomography, invertHomography } from "../../board/plane-transform.js";
import type { Point } from "../../board/polygon.js";
import { centroid } from "../../board/polygon.js";
import { formatProbability, formatToSigma } from "../../core/format-quantity.js";
import { VIEW_NAMES, viewOf } from "../../findings/view-names.js";
import { suspectPower, testedSigmaK } from "../../report/describe-findings.js";
import { artefactLetter } from "../../report/picture-marks.js";
import { edgePlace } from "../board/edge-place.js";
import { layLabels } from "../board/lay-labels.js";
import { type Fit, type Stage, stageToScreen } from "../board/make-stage.js";
import { showNumber } from "../state/settings.js";
import type { FoundPlace } from "./find-places.js";
import { shownSuspects } from "./shown-suspects.js";

type Hotspot = JobState["attempts"][number]["findings"]["hotspots"][number];

interface BoardMarksProps {
  readonly attempt: JobState["attempts"][number];
  readonly view: number;
  readonly stage: Stage;
  readonly fit: Fit;
  readonly size: { readonly width: number; readonly height: number };
  /** Below it lies the line for the cursor, which would hide a label, px. */
  readonly bottom: number;
  readonly pointed: string | null;
  /** Labels have room for ref and probability only, one below the other. */
  readonly isShort: boolean;
  /** How large letters are against those of a laptop. */
  readonly letter: number;
  /** What would count at another rate; null at the findings' own. */
  readonly places: readonly FoundPlace[] | null;
}

interface Label {
  readonly anchor: Point;
  readonly ref: string;
  readonly chance: string;
  readonly watts: string;
  readonly isFirst: boolean;
}

const LABEL_PX = 40;
/** From line to line of what is written under a name where there is no room beside it. */
const LINE_PX = 14;
const MOST_LABELS = 12;
/** Between words, and not between a number and its sign. */
const WORDS = /\b \b/;

/** Lines and labels over the board; everything they say stands in the list beside it, too. */
export function BoardMarks(props: BoardMarksProps) {
  const { attempt, view, stage, fit, size, bottom, pointed, isShort, letter, places } = props;
  const { findings, board } = attempt;
  const toScreen = (point: Point): Point => stageToScreen(stage, fit, point);
  const fromFrame = frameToStage(stage);
  const labels = labelsOf(attempt, view, stage, fromFrame, toScreen);
  const laid = layLabels(
    labels.map(({ anchor }) => anchor),
    fit,
    {
      heightPx:
        (isShort && labels.some(({ chance }) => WORDS.test(chance)) ? LABEL_PX + 8 : LABEL_PX) * letter,
      gapPx: 10,
      low: 22 * letter,
      high: Math.max(22 * letter + 1, bottom - 18 * letter),
    },
  );
  const suspected = new Set(labels.map(({ ref }) => ref));
  // As in the report: a cross where something heats, a dashed ring with a letter where it is no heat.
  const arm = 7 * letter;
  // A letter beside a mark at the right edge would be cut off there.
  const isRight = (x: number): boolean => x > fit.x + fit.width - 26 * letter;
  return (
    <svg class="board-marks" width={size.width} height={size.height} aria-hidden="true">
      {stage.outline !== null && <path class="outline" d={pathOf(stage.outline.map(toScreen))} />}
      {board?.regions
        .filter(({ side }) => side === stage.side)
        .map(({ ref, polygon }) => (
          <path
            key={ref}
            class={`region${suspected.has(ref) ? " suspected" : ""}${ref === pointed ? " pointed" : ""}`}
            d={pathOf(polygon.map(toScreen))}
          />
        ))}
      {findings.artefacts.map((artefact, i) => {
        if (viewOf(artefact) !== VIEW_NAMES[view]) return null;
        // What lies beyond the picture, on a hand or a cable, is marked at its edge.
        const { at, outward } = edgePlace(toScreen(fromFrame(artefact.px)), fit, 9 * letter);
        const [x, y] = at;
        return (
          <g key={artefactLetter(i)} class="artefact">
            <circle cx={x} cy={y} r={7 * letter} />
            {outward !== null && (
              <path
                class="outward"
                d="M9 -3.5L14 0L9 3.5"
                transform={`translate(${x} ${y}) rotate(${outward}) scale(${letter})`}
              />
            )}
            <text
              class="artefact-letter"
              text-anchor={isRight(x) ? "end" : "start"}
              x={x + (isRight(x) ? -11 : 11) * letter}
              y={y + 4 * letter}
            >
              {artefactLetter(i)}
            </text>
          </g>
        );
      })}
      {places?.map(({ peakPx }) => {
        const [x, y] = toScreen(fromFrame(peakPx));
        const arms = `M${x - arm} ${y}h${2 * arm}M${x} ${y - arm}v${2 * arm}`;
        return <path key={`${peakPx[0]} ${peakPx[1]}`} class="place" d={arms} />;
      })}
      {labels.map(({ ref, anchor: [x, y] }, i) =>
        laid.some(({ index }) => index === i) ? null : (
          <g key={`mark ${ref}`} class="label">
            <circle class="anchor" cx={x} cy={y} r={3.5 * letter} />
          </g>
        ),
      )}
      {laid.map(({ index, edge, x, y, line }) => {
        const label = labels[index]!;
        const textX = edge === "left" ? x - 4 : x + 4;
        const state = `${label.isFirst ? " first" : ""}${label.ref === pointed ? " pointed" : ""}`;
        const end = line[line.length - 1]!;
        // A narrow edge has room for a word, not for two.
        const under = isShort ? label.chance.split(WORDS) : [label.watts];
        const lines = under.filter((text) => text !== "");
        const up = 3 + (Math.max(1, lines.length) - 1) * (LINE_PX / 2);
        return (
          <g key={label.ref} class={`label ${edge}${state}`}>
            <polyline class="leader-ground" points={line.map((point) => point.join(",")).join(" ")} />
            <polyline class="leader" points={line.map((point) => point.join(",")).join(" ")} />
            <circle class="anchor" cx={end[0]} cy={end[1]} r={3.5 * letter} />
            <text x={textX} y={lines.length === 0 ? y + 5 * letter : y - up * letter}>
              <tspan class="ref">{label.ref}</tspan>
              {!isShort && <tspan dx="6">{showNumber(label.chance)}</tspan>}
            </text>
            {lines.map((text, k) => (
              <text key={text} class="watts" x={textX} y={y + (16 - up + k * LINE_PX) * letter}>
                {showNumber(text)}
              </text>
            ))}
          </g>
        );
      })}
    </svg>
  );
}

/** Suspects, then hotspots that no suspect stands for, so that a picture without a board map is labelled too; as in the
 *  report. */
function labelsOf(
  { findings, board }: JobState["attempts"][number],
  view: number,
  stage: Stage,
  fromFrame: (point: Point) => Point,
  toScreen: (point: Point) => Point,
): Label[] {
  const placeOf = (hotspot: Hotspot): Point | null => {
    if (stage.unit === "mm") return hotspot.sourceMm;
    return viewOf(hotspot) === VIEW_NAMES[view] ? fromFrame(hotspot.sourcePx) : null;
  };
  const shown = shownSuspects(findings);
  const alone = findings.hotspots.filter(
    (hotspot) => viewOf(hotspot) === VIEW_NAMES[view] && shown.every((one) => one.hotspot !== hotspot.rank),
  );
  const suspects = shown.slice(0, MOST_LABELS).flatMap((suspect, i): Label[] => {
    const hotspot = findings.hotspots.find(({ rank }) => rank === suspect.hotspot);
    const part = board?.regions.find(({ ref, side }) => ref === suspect.ref && side === suspect.side);
    // A suspect's label points at its part; without one, at the source of its hotspot.
    const isSeen = part !== undefined && (stage.side === null || part.side === stage.side);
    let at: Point | null = isSeen && stage.unit === "mm" ? centroid(part.polygon) : null;
    if (at === null && hotspot !== undefined) at = placeOf(hotspot);
    if (at === null) return [];
    const chance = suspect.normallyWarm ? "warm anyway" : formatProbability(suspect.probability);
    return [
      {
        anchor: toScreen(at),
        ref: suspect.ref,
        chance,
        watts: suspect.powerW === null ? "" : suspectPower(suspect, findings),
        isFirst: i === 0,
      },
    ];
  });
  const rest = alone.flatMap((hotspot): Label[] => {
    const at = placeOf(hotspot);
    if (at === null) return [];
    return [
      {
        anchor: toScreen(at),
        ref: `hotspot ${hotspot.rank}`,
        chance: "",
        watts: formatToSigma(hotspot.peakRiseK, testedSigmaK(findings, hotspot.view), "K"),
        isFirst: false,
      },
    ];
  });
  return [...suspects, ...rest].slice(0, MOST_LABELS);
}

/** Frame px → plane. */
export function frameToStage(stage: Stage): (point: Point) => Point {
  const inverse = invertHomography(stage.matrix);
  return (point) => applyHomography(inverse, point);
}

/** A closed path through points of the screen. */
export function pathOf(points: readonly Point[]): string {
  return `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}Z`;
}
