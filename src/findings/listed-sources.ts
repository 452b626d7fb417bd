// findings: sources located on a board and the patches of its views → the sources that are clear enough to be listed.
import type { BoardMap } from "../board/board-schema.js";
import { distanceToPolygon } from "../board/polygon-distance.js";
import { rasterisePolygon } from "../board/rasterise-polygon.js";
import type { ResolvedOptions } from "../core/options.js";
import { framePoint } from "../core/units.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import { coverageWindow } from "../sources/coverage-window.js";
import type { FIT_DEFAULTS } from "../sources/fit-defaults.js";
import { mayBeMirrored } from "../sources/may-be-mirrored.js";
import { isFault } from "../sources/recast-candidate.js";
import type { FittedSource, SourceFit } from "../sources/source-fit.js";
import type { Candidate } from "../sources/source-model.js";
import type { LocatedSources } from "./locate-sources.js";
import { matchPatches, REACH_PX } from "./match-patches.js";
import { mirrorPixels } from "./mirror-pixels.js";
import type { BoardView } from "./seen-view.js";

type FitOptions = ResolvedOptions<typeof FIT_DEFAULTS>;

/** A pixel of the smoothed rise has warmed if it stands above zero by this many sigma: noise makes it of one in 740. */
const WARMED_SIGMA = 3;
/** Share of the board close around a part that must stand out: more than a hill on one side of it makes, which reaches
 *  that side and half of each of the two beside it. */
const RIM_SHARE = 0.5;

/** What is listed of the sources that were located. */
export interface ListedSources {
  readonly located: LocatedSources;
  /** Peaks of sources, and of what heats beside them, in each view. */
  readonly matches: readonly (readonly (DetectedPatch | null)[])[];
  /** Places among the sources of those that are listed. */
  readonly kept: readonly number[];
}

/** List what is clear enough; where that is no fault, and faults were found, what power most probably went to. */
export function listedSources(
  views: readonly BoardView[],
  board: BoardMap,
  first: LocatedSources,
  o: FitOptions,
): ListedSources {
  const listed = { located: first, ...clearOnes(views, board, first, o) };
  const candidates = listed.kept.map((k) => first.fit.sources[k]!.candidate);
  const faults = candidates.filter(isFault);
  const bare = first.inMask(new Set(candidates));
  if (bare?.fit.sources.some(({ candidate, byFeed }) => isFault(candidate) && byFeed === null)) {
    // Of all faces none speaks for a part, and none against it.
    const clear = clearOnes(views, board, bare, { ...o, unseenEvidence: o.hiddenEvidence });
    if (clear.kept.some((k) => isFault(bare.fit.sources[k]!.candidate))) return { located: bare, ...clear };
  }
  if (faults.length > 0) return listed;
  const located = first.withListed(new Set(candidates));
  if (!located?.fit.sources.some(({ byFeed }) => byFeed !== null)) return listed;
  return { located, ...clearOnes(views, board, located, o) };
}

/** Of the sources that were located those that are clear enough to be listed. */
function clearOnes(
  views: readonly BoardView[],
  board: BoardMap,
  { fit, minEvidence }: LocatedSources,
  o: FitOptions,
): Omit<ListedSources, "located"> {
  const matches = views.map(({ pair, placed, detected }) =>
    matchPatches([...fit.sources, ...fit.beside], detected.patches, board, placed.view, pair.shape.width),
  );
  const significant = views.map((view, v) => significantPixels(view, v, fit));
  const kept = fit.sources.flatMap((source, k) => {
    const hasPeak = matches.some((patches) => patches[k] !== null);
    // Power cools nothing: where all pictures got cooler the fit has bent to something else.
    if (!views.some((view) => warmedAround(view, source.candidate))) return [];
    // Power was fed in: it went somewhere, and there is no other place more probable.
    if (source.byFeed !== null) return [k];
    const { body } = source.candidate;
    if (!hasPeak && source.ownShare < leastShare(source, fit.sources, o)) return [];
    if (mayBeMirrored(source, minEvidence, o)) return [];
    // A shiny face in view may show a peak of the room: it speaks for nothing.
    const shiny = body === null && views.some(({ placed }) => placed.view.side === source.candidate.side);
    const shows =
      (hasPeak && !shiny) ||
      views.some((view, v) => liesIn(view, significant[v]!, source.candidate)) ||
      (shiny && views.some((view, v) => rimStandsOut(view, significant[v]!, source.candidate)));
    return shows || source.evidence >= unseenEvidence(views, source, o) * minEvidence ? [k] : [];
  });
  return { matches, kept };
}

/** 1 = in a significant patch, and on no face that mirrors. */
function significantPixels({ pair, placed, detected }: BoardView, v: number, fit: SourceFit): Uint8Array {
  const out = new Uint8Array(pair.rise.data.length);
  const mirrored = mirrorPixels(placed.view, v, fit, placed.shiny, pair.shape);
  for (const { pixels } of detected.patches) for (const i of pixels) if (!mirrored.has(i)) out[i] = 1;
  return out;
}

function liesIn({ pair, placed }: BoardView, mask: Uint8Array, { at }: Candidate): boolean {
  const { width, height } = pair.shape;
  const [x, y] = placed.view.toFrame(at).map(Math.round) as [number, number];
  return x >= 0 && y >= 0 && x < width && y < height && mask[y * width + x] === 1;
}

/** True if most of the board close around a part that mirrors lies in significant patches: heat comes out on all sides
 *  of it. */
function rimStandsOut({ placed, pair }: BoardView, mask: Uint8Array, { side, polygon }: Candidate): boolean {
  const { view, offBoard } = placed;
  const { width, height } = pair.shape;
  const face = view.side === side ? coverageWindow(view, polygon, width, height, REACH_PX) : null;
  if (face === null) return false;
  let [around, warm] = [0, 0];
  for (let k = 0; k < face.coverage.length; k++) {
    if (face.coverage[k]! > 0) continue;
    const [x, y] = [face.x0 + (k % face.width), face.y0 + Math.floor(k / face.width)];
    const px = framePoint(x, y);
    const isClose = distanceToPolygon(view.toBoard(px), polygon) <= REACH_PX * view.mmPerPxAt(px);
    if (!isClose || offBoard[y * width + x] === 1) continue;
    around++;
    warm += mask[y * width + x]!;
  }
  return warm > RIM_SHARE * around;
}

/** Share of the rise around it that a source must add where it makes no peak of its own. */
function leastShare(source: FittedSource, sources: readonly FittedSource[], o: FitOptions): number {
  const { candidate, mirrorChance, bodyStep } = source;
  const { body, normallyWarm } = candidate;
  if (normallyWarm) return o.leastShareOfWarm;
  if (body === null) return o.leastShareWithoutPeak;
  const standsOut = mirrorChance < o.clearMirrorChance && bodyStep >= o.clearBodyStep;
  if (standsOut) return 0;
  const wattsOf = (warm: boolean) =>
    sources.reduce(
      (sum, one) => (one !== source && one.candidate.normallyWarm === warm ? sum + one.powerW : sum),
      0,
    );
  return wattsOf(true) > wattsOf(false) ? o.leastShareBesideWarm : o.leastShareOfFace;
}

/** How many times the least evidence a part must bring that lies in no significant patch, its own or a neighbour's. A
 *  face that shows itself has been weighed against a mirror; a shiny one in view has its rim to show; one on the far
 *  side only a hill, such as mirrored rooms make too.
 */
function unseenEvidence(views: readonly BoardView[], { candidate }: FittedSource, o: FitOptions): number {
  if (candidate.body !== null) return o.quietEvidence;
  const inView = views.some(({ placed }) => placed.view.side === candidate.side);
  return inView ? o.shinyEvidence : o.unseenEvidence;
}

/** True if the picture warmed anywhere on a part or close beside it. */
function warmedAround({ pair, placed }: BoardView, { polygon }: Candidate): boolean {
  const { width, height } = pair.shape;
  const part = rasterisePolygon(placed.view, polygon, width, height);
  const reach = 3;
  const x1 = Math.min(width, part.x0 + part.width + reach);
  const y1 = Math.min(height, part.y0 + part.height + reach);
  for (let y = Math.max(0, part.y0 - reach); y < y1; y++) {
    for (let x = Math.max(0, part.x0 - reach); x < x1; x++) {
      const i = y * width + x;
      if (pair.smoothRise.data[i]! > WARMED_SIGMA * pair.layers[0]!.noise.data[i]!) return true;
    }
  }
  return part.width === 0;
}
