// report: findings, board and view → what is drawn over the picture, in frame pixels.
import { boundsOf } from "../board/polygon.js";
import { formatPower, formatProbability, formatToSigma } from "../core/format-quantity.js";
import { boardPoint } from "../core/units.js";
import type { Analysis } from "../findings/analysis.js";
import type { Artefact, Suspect, ViewName } from "../findings/findings-schema.js";
import { wattsStand } from "./describe-findings.js";
import { isShown } from "./is-shown.js";
import { canDrawText } from "./stroke-font.js";

/** A point in frame pixels, integers are pixel centres. */
type Px = readonly [number, number];

/** A closed line in frame pixels. */
export interface ShapeMark {
  readonly points: readonly Px[];
  /** Drawn inside where there is room; "" for none. */
  readonly text: string;
  readonly weight: "outline" | "region" | "suspect";
  /** A part that heats on a healthy board too. */
  readonly normallyWarm: boolean;
}

/** A label at the picture's edge with the point that it names. */
export interface EdgeLabel {
  readonly anchor: Px;
  readonly title: string;
  readonly detail: string;
}

/** Everything that is drawn over the painted picture. */
export interface PictureMarks {
  readonly shapes: readonly ShapeMark[];
  readonly hotspots: readonly { readonly at: Px; readonly rank: number }[];
  readonly artefacts: readonly {
    readonly at: Px;
    readonly radiusPx: number;
    readonly letter: string;
    readonly kind: string;
  }[];
  readonly labels: readonly EdgeLabel[];
}

/** More labels than this hide the board; the table lists the rest. */
const MOST_LABELS = 10;

/** Collect the marks of a picture: outline, regions, suspects with labels, hotspots, artefacts.
 *  Regions of the side that the view does not see are left out. Hotspots that no listed suspect stands for get a
 *  label of their own, so that a picture without a board map is labelled too.
 *  @param analysis as `seenFrom` gives it for the view.
 *  @param name the view: of the artefacts those of this view are drawn, each with its letter of the whole list.
 */
export function pictureMarks(analysis: Analysis, name: ViewName = "primary"): PictureMarks {
  const { findings } = analysis;
  const labels: EdgeLabel[] = [];
  const labelled = new Set<number>();
  for (const [i, suspect] of findings.suspects.entries()) {
    if (!isShown(suspect)) continue;
    const anchor = suspectAnchor(suspect, analysis);
    if (anchor === null) continue;
    if (suspect.hotspot !== null) labelled.add(suspect.hotspot);
    if (labels.length < MOST_LABELS)
      labels.push({
        anchor,
        title: canDrawText(suspect.ref) ? suspect.ref : `suspect ${i + 1}`,
        detail: suspectDetail(suspect, analysis),
      });
  }
  for (const hotspot of findings.hotspots) {
    if (labelled.has(hotspot.rank) || labels.length >= MOST_LABELS) continue;
    const rise = formatToSigma(hotspot.peakRiseK, findings.noise.testedSigmaK, "K");
    labels.push({ anchor: hotspot.sourcePx, title: `hotspot ${hotspot.rank}`, detail: rise });
  }
  return {
    shapes: boardShapes(analysis),
    hotspots: findings.hotspots.map((hotspot) => ({ at: hotspot.sourcePx, rank: hotspot.rank })),
    artefacts: findings.artefacts.flatMap(({ kind, px, areaPx, view = "primary" }, i) =>
      view === name
        ? [{ at: px, radiusPx: Math.sqrt(Math.max(1, areaPx) / Math.PI), letter: artefactLetter(i), kind }]
        : [],
    ),
    labels,
  };
}

/** Letter of an artefact, the same in picture and table: a…z, aa, ab, … */
export function artefactLetter(index: number): string {
  const letter = String.fromCharCode(97 + (index % 26));
  return index < 26 ? letter : `${artefactLetter(Math.floor(index / 26) - 1)}${letter}`;
}

/** What an artefact kind means to a reader. */
export const ARTEFACT_WORDS: Readonly<Record<Artefact["kind"], string>> = Object.freeze({
  reflection: "reflection",
  edge: "edge left by a nudge",
  drift: "drift",
  pixel: "faulty pixel",
  saturation: "end of the camera's scale",
  outside: "outside the board",
});

function suspectDetail(suspect: Suspect, analysis: Analysis): string {
  const hotspot = analysis.findings.hotspots.find((spot) => spot.rank === suspect.hotspot);
  const first = suspect.normallyWarm ? "warm anyway" : formatProbability(suspect.probability);
  if (suspect.powerW === null || !wattsStand(hotspot)) return first;
  const watts = formatPower(suspect.powerW, hotspot?.powerSigmaW ?? null);
  return `${first} · ${watts.value} ${watts.text.split(" ").at(-1)}`;
}

/** The point a suspect's label leads to: the middle of its region if this view shows it, else its hotspot. */
function suspectAnchor(suspect: Suspect, analysis: Analysis): Px | null {
  const { board, view, findings, baseline } = analysis;
  const region = board?.regions.find((one) => one.ref === suspect.ref && one.side === suspect.side);
  if (region !== undefined && view !== null && view.side === region.side) {
    const at = middle(toFrame(region.polygon, analysis));
    const [x, y] = at ?? [-1, -1];
    if (x >= 0 && y >= 0 && x <= baseline.width - 1 && y <= baseline.height - 1) return at;
  }
  return findings.hotspots.find((spot) => spot.rank === suspect.hotspot)?.sourcePx ?? null;
}

function boardShapes(analysis: Analysis): ShapeMark[] {
  const { board, view, findings } = analysis;
  if (board === null || view === null) return [];
  const suspected = new Set(
    findings.suspects.filter(isShown).map((suspect) => `${suspect.side} ${suspect.ref}`),
  );
  const shapes: ShapeMark[] = [
    { points: toFrame(board.outline, analysis), text: "", weight: "outline", normallyWarm: false },
  ];
  const regions = board.regions.filter((region) => region.side === view.side);
  const isSuspect = (ref: string): boolean => suspected.has(`${view.side} ${ref}`);
  // Suspects last, so that no neighbour's line covers theirs.
  for (const region of [
    ...regions.filter((r) => !isSuspect(r.ref)),
    ...regions.filter((r) => isSuspect(r.ref)),
  ]) {
    const suspect = isSuspect(region.ref);
    shapes.push({
      points: toFrame(region.polygon, analysis),
      text: suspect || !canDrawText(region.ref) ? "" : region.ref,
      weight: suspect ? "suspect" : "region",
      normallyWarm: region.normallyWarm === true,
    });
  }
  return shapes;
}

function toFrame(polygon: readonly (readonly [number, number])[], analysis: Analysis): Px[] {
  const view = analysis.view;
  if (view === null) return [];
  return polygon.map(([x, y]) => {
    const point = view.toFrame(boardPoint(x, y));
    return [point[0], point[1]];
  });
}

/** Centre of a polygon's bounding box: inside every convex part, and near enough for a leader line on others. */
function middle(points: readonly Px[]): Px | null {
  if (points.length === 0) return null;
  const { minX, maxX, minY, maxY } = boundsOf(points);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}
