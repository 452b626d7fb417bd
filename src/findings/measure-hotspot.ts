// findings: a source or a patch → the numbers of one hotspot.
import { movePoint } from "../align/rigid-transform.js";
import { frameCovarianceToBoard } from "../board/frame-covariance-to-board.js";
import type { PlacedView } from "../board/place-view.js";
import { distanceToEdges, distanceToPolygon } from "../board/polygon-distance.js";
import { BAD_PIXEL } from "../clean/find-bad-pixels.js";
import { finiteOrZero } from "../core/finite-or-zero.js";
import type { FramePoint } from "../core/units.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import type { HeatBeside } from "../sources/heat-beside.js";
import type { FittedSource } from "../sources/source-fit.js";
import type { Candidate } from "../sources/source-model.js";
import { POSSIBLE_REFLECTION } from "../suspects/explain-suspect.js";
import { LEAST_PROBABILITY, type Weighed } from "../suspects/weigh-alternatives.js";
import type { SideOdds } from "../suspects/weigh-sides.js";
import type { BoardContext } from "./board-context.js";
import type { Hotspot, ViewName } from "./findings-schema.js";
import type { ViewHeat } from "./heat-in-view.js";
import type { HotspotFlag } from "./hotspot-flags.js";
import { measureOnset } from "./measure-onset.js";
import { nearestPixel } from "./nearest-pixel.js";
import { type HotspotPlace, placeHotspot } from "./place-hotspot.js";
import type { PreparedPair } from "./prepare-pair.js";
import { trueRise } from "./true-rise.js";

/** Named candidates listed with a hotspot. */
const MOST_NEAREST = 6;

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

/** Measure one hotspot. The rank is given by the caller.
 *  With a patch, place and peak are the patch's; a source without one (heat from the far side that makes no peak of
 *  its own) has its part's place, as unsure as the part is large.
 */
export function measureHotspot(
  pair: PreparedPair,
  seed: MeasuredSeed,
  context: BoardContext | null,
  rank: number,
  heat: ViewHeat | null = null,
): Hotspot {
  const { width, height } = pair.shape;
  const place = placeHotspot(pair, seed.patch, seed.source?.candidate ?? null, context, heat);
  const peakAt = seed.patch?.peak ?? nearestPixel(place.at, width, height);
  const peakPx: [number, number] = [peakAt % width, Math.floor(peakAt / width)];
  const pixels = seed.patch?.pixels ?? new Int32Array(0);
  let excess = 0;
  for (const i of pixels) excess += pair.rise.data[i]! * 0 === 0 ? pair.rise.data[i]! : 0;
  const mm = context === null ? null : context.view.toBoard(place.at);
  const ownMm = context === null ? null : sigmaOnBoard(context.view, place.at, place.sigmaPx);
  // A place taken from the map itself is not read through the view.
  const viewMm = context === null || seed.patch === null ? 0 : viewSigmaMm(context.view, place.at);
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
    sourceSigmaMm: ownMm === null ? null : Math.hypot(ownMm, viewMm),
    viewSigmaMm: ownMm === null ? null : viewMm,
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
  { at, byHole }: HotspotPlace,
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
  const square = sigmaPx * sigmaPx;
  return frameCovarianceToBoard(view, at, { xx: square, xy: 0, yy: square }).sigmaMm;
}

function viewSigmaMm(view: PlacedView, at: FramePoint): number {
  return frameCovarianceToBoard(view, at, view.covarianceAt(at)).sigmaMm;
}
