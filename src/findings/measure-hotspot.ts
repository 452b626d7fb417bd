// findings: a source or a patch → the numbers of one hotspot.
import { movePoint } from "../align/rigid-transform.js";
import type { BoardMap } from "../board/board-schema.js";
import { frameCovarianceToBoard } from "../board/frame-covariance-to-board.js";
import type { PlacedView } from "../board/place-view.js";
import { distanceToEdges, distanceToPolygon } from "../board/polygon-distance.js";
import { BAD_PIXEL } from "../clean/find-bad-pixels.js";
import { finiteOrZero } from "../core/finite-or-zero.js";
import { type FramePoint, framePoint } from "../core/units.js";
import { combinePlaces } from "../hotspots/combine-places.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import { LOCATE_DEFAULTS, type LocatedSource, locateSource } from "../hotspots/locate-source.js";
import type { HeatBeside } from "../sources/heat-beside.js";
import type { FittedSource } from "../sources/source-fit.js";
import type { Candidate } from "../sources/source-model.js";
import { POSSIBLE_REFLECTION } from "../suspects/explain-suspect.js";
import { LEAST_PROBABILITY, type Weighed } from "../suspects/weigh-alternatives.js";
import type { SideOdds } from "../suspects/weigh-sides.js";
import type { Hotspot, ViewName } from "./findings-schema.js";
import type { HotspotFlag } from "./hotspot-flags.js";
import { measureOnset } from "./measure-onset.js";
import { nearestPixel } from "./nearest-pixel.js";
import type { PreparedBurst } from "./prepare-burst.js";
import type { PreparedPair } from "./prepare-pair.js";
import { reachOfHole } from "./reach-of-hole.js";
import { trueRise } from "./true-rise.js";

/** Named candidates listed with a hotspot. */
const MOST_NEAREST = 6;

/** Uneven copper and a part's own shape pull the centre of a spot by this share of its width, along each axis
 *  (measured on simulated boards, median). */
export const SHAPE_SHARE = 0.05;
/** … and by this share where the early frames of a burst were there to correct it. */
const EARLY_SHAPE_SHARE = 0.035;

/** What is known of a hotspot before it is measured. */
export interface MeasuredSeed {
  /** Its peak in the view it belongs to. */
  readonly patch: DetectedPatch | null;
  readonly source: MeasuredSource | null;
  /** True if it may as well be made by the heat beside it. */
  readonly mayNotHeat?: boolean;
  /** True if nothing stands by itself, and it is named since the board had power. */
  readonly byPower?: boolean;
  /** True if all sources together have so many watts by the frames that they and those fed in can't both be right. */
  readonly exceedsFeed?: boolean;
  readonly weighed: readonly Weighed<Candidate>[];
  /** The view it belongs to; the primary one if not stated. */
  readonly view?: ViewName;
  /** Its peak in the other of two views, if it makes one there. */
  readonly otherPatch?: DetectedPatch | null;
  /** Probability of either side; null unless both are seen. */
  readonly sides?: SideOdds | null;
}

/** A hotspot that stands, before it is measured. */
export interface HotspotSeed extends MeasuredSeed {
  readonly source: FittedSource | null;
}

/** A hotspot that may be made by the heat beside it, before it is measured. */
export interface BesideSeed extends MeasuredSeed {
  readonly source: HeatBeside;
}

/** What a hotspot has of the source behind it. */
type MeasuredSource = Pick<
  FittedSource,
  "candidate" | "powerW" | "powerSigmaW" | "evidence" | "mirrorChance"
>;

/** Where a board is known: the map and how the frame sees it. */
export interface BoardContext {
  readonly board: BoardMap;
  readonly view: PlacedView;
}

/** Measure one hotspot. The rank is given by the caller.
 *  With a patch, place and peak are the patch's; a source without one (heat from the far side that makes no peak of
 *  its own) has its part's place, as unsure as the part is large.
 */
export function measureHotspot(
  pair: PreparedPair,
  seed: MeasuredSeed,
  context: BoardContext | null,
  rank: number,
): Hotspot {
  const { width, height } = pair.shape;
  const place = placeOf(pair, seed, context);
  const peakAt = seed.patch?.peak ?? nearestPixel(place.at, width, height);
  const peakPx: [number, number] = [peakAt % width, Math.floor(peakAt / width)];
  const pixels = seed.patch?.pixels ?? new Int32Array(0);
  let excess = 0;
  for (const i of pixels) excess += pair.rise.data[i]! * 0 === 0 ? pair.rise.data[i]! : 0;
  const mm = context === null ? null : context.view.toBoard(place.at);
  const sigmaMm = context === null ? null : sigmaOnBoard(context.view, place.at, place.sigmaPx);
  const mmPerPx = context === null ? null : context.view.mmPerPxAt(place.at);
  return {
    rank,
    peakRiseK: finiteOrZero(pair.smoothRise.data[peakAt]!),
    trueRiseK:
      context === null ? null : trueRise(pair, context, peakAt, finiteOrZero(pair.smoothRise.data[peakAt]!)),
    peakPx,
    sourcePx: [place.at[0], place.at[1]],
    sourceSigmaPx: place.sigmaPx,
    sourceMm: mm === null ? null : [mm[0], mm[1]],
    sourceSigmaMm: sigmaMm,
    areaPx: pixels.length,
    areaMm2: mmPerPx === null || seed.patch === null ? null : pixels.length * mmPerPx * mmPerPx,
    widthPx: place.widthPx,
    excessKPx: excess,
    significance: seed.patch?.significance ?? Math.sqrt(seed.source?.evidence ?? 0),
    powerW: seed.source?.powerW ?? null,
    powerSigmaW: seed.source?.powerSigmaW ?? null,
    ...measureOnset(pair, place.at, place.widthPx),
    flags: flagsOf(pair, seed, peakPx, place, context),
    nearest: nearestOf(seed, context, mm),
  };
}

interface Place {
  readonly at: FramePoint;
  readonly sigmaPx: number;
  readonly widthPx: number | null;
  /** Pixels without a reading beside it may hide where it is. */
  readonly byHole: boolean;
}

function placeOf(pair: PreparedPair, seed: MeasuredSeed, context: BoardContext | null): Place {
  const { width } = pair.shape;
  // Alignment moves the place as a whole: its error adds to that of the pixels.
  const shift = pair.alignment.trusted ? pair.alignment.uncertaintyPx / Math.SQRT2 : 0;
  if (seed.patch !== null) {
    const peak = framePoint(seed.patch.peak % width, Math.floor(seed.patch.peak / width));
    const noiseK = pair.pixelNoise.data[seed.patch.peak]!;
    const whole = locateSource(pair.rise, peak, noiseK);
    const located = pair.burst === undefined ? whole : withEarlyFrames(pair.burst, whole, seed.patch, noiseK);
    const share = (pair.burst?.early.length ?? 0) > 0 ? EARLY_SHAPE_SHARE : SHAPE_SHARE;
    // A spot wider than the widest window has no width of its own: that window's is the least that it can be.
    const shape = share * (located.widthPx ?? LOCATE_DEFAULTS.maxWindowPx);
    // It may lie anywhere in a hole beside it: evenly spread over a disc, half its radius along each axis.
    const hidden = reachOfHole(pair, located.at, located.widthPx) / 2;
    return { ...located, sigmaPx: Math.hypot(located.sigmaPx, shift, shape, hidden), byHole: hidden > 0 };
  }
  const { candidate } = seed.source!;
  const { board, view } = context!;
  const at = view.toFrame(candidate.at);
  const polygon = board.regions[candidate.region]?.polygon;
  const radius = polygon === undefined ? 1 : Math.max(...polygon.map((p) => distance(p, candidate.at)));
  return { at, sigmaPx: Math.hypot(radius / 2 / view.mmPerPxAt(at), shift), widthPx: null, byHole: false };
}

/** The place as the early frames of a burst correct it; as it is where they show no spot there. */
function withEarlyFrames(
  { early, varianceShare, baselineFrames }: PreparedBurst,
  whole: LocatedSource,
  patch: DetectedPatch,
  noiseK: number,
): LocatedSource {
  let place = whole;
  for (const { rise, smooth, varianceShare: earlyShare } of early) {
    let peak = patch.peak;
    for (const i of patch.pixels) if (smooth.data[i]! > smooth.data[peak]!) peak = i;
    const share = (earlyShare + 1 / baselineFrames) / (varianceShare + 1 / baselineFrames);
    const at = framePoint(peak % rise.width, Math.floor(peak / rise.width));
    place = combinePlaces(place, locateSource(rise, at, noiseK * Math.sqrt(share)));
  }
  return place;
}

function nearestOf(
  seed: MeasuredSeed,
  context: BoardContext | null,
  mm: readonly [number, number] | null,
): Hotspot["nearest"] {
  if (context === null || mm === null) return [];
  return seed.weighed
    .filter(({ probability }, k) => k < MOST_NEAREST && probability >= LEAST_PROBABILITY)
    .map(({ candidate, probability }) => ({
      ref: candidate.ref!,
      side: candidate.side,
      distanceMm: distanceToPolygon(mm, context.board.regions[candidate.region]!.polygon),
      probability,
    }));
}

function flagsOf(
  pair: PreparedPair,
  seed: MeasuredSeed,
  peak: readonly [number, number],
  { at, byHole }: Place,
  context: BoardContext | null,
): HotspotFlag[] {
  const { width, height } = pair.shape;
  const flags: HotspotFlag[] = [];
  const margin = 2;
  if (peak[0] < margin || peak[1] < margin || peak[0] > width - 1 - margin || peak[1] > height - 1 - margin) {
    flags.push("frameEdge");
  }
  if (
    byHole ||
    seed.patch?.pixels.some((i) => pair.badPixels.mask[i] === BAD_PIXEL.hole || pair.rise.data[i]! * 0 !== 0)
  ) {
    flags.push("noReading");
  }
  if (context !== null) {
    const edgeMm = distanceToEdges(context.view.toBoard(at), context.board.outline);
    if (edgeMm < margin * context.view.mmPerPxAt(at)) flags.push("outlineEdge");
  }
  if (isSaturated(pair, at)) flags.push("saturated");
  if (seed.source !== null && seed.source.mirrorChance > POSSIBLE_REFLECTION)
    flags.push("possibleReflection");
  if (seed.mayNotHeat === true) flags.push("besideHeat");
  if (seed.byPower === true) flags.push("namedByPower");
  if (seed.exceedsFeed === true) flags.push("exceedsFeed");
  if (!pair.alignment.trusted) flags.push("weakAlignment");
  return flags;
}

/** True if the powered frame stands at the end of its scale at, or beside, the place of a source. */
function isSaturated(pair: PreparedPair, at: FramePoint): boolean {
  if (pair.saturated === null) return false;
  const { width, height } = pair.shape;
  const [x, y] = movePoint(at, pair.alignment.transform, pair.shape);
  for (let v = Math.round(y) - 1; v <= Math.round(y) + 1; v++) {
    for (let u = Math.round(x) - 1; u <= Math.round(x) + 1; u++) {
      if (u >= 0 && v >= 0 && u < width && v < height && pair.saturated[v * width + u] === 1) return true;
    }
  }
  return false;
}

function sigmaOnBoard(view: PlacedView, at: FramePoint, sigmaPx: number): number {
  const square = sigmaPx * sigmaPx + view.residualPx * view.residualPx;
  return frameCovarianceToBoard(view, at, { xx: square, xy: 0, yy: square }).sigmaMm;
}

function distance(a: readonly [number, number], b: readonly [number, number]): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
