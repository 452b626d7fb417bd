// findings: a hotspot's patch and the part that makes it → where it lies in the frame, with uncertainty.
import { type FramePoint, framePoint } from "../core/units.js";
import { combinePlaces } from "../hotspots/combine-places.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import { LOCATE_DEFAULTS, type LocatedSource, locateSource } from "../hotspots/locate-source.js";
import type { Candidate } from "../sources/source-model.js";
import type { BoardContext } from "./board-context.js";
import type { ViewHeat } from "./heat-in-view.js";
import { hillOffset } from "./hill-offset.js";
import type { PreparedBurst } from "./prepare-burst.js";
import type { PreparedPair } from "./prepare-pair.js";
import { reachOfHole } from "./reach-of-hole.js";

/** Uneven copper and a part's own shape pull the centre of a spot by this share of its width, along each axis. Measured
 *  on simulated boards: in the middle 0.037, and 0.023 with early frames, and more on those of another simulator
 *  (record 463). */
export const SHAPE_SHARE = 0.045;
/** … and by this share where the early frames of a burst were there to correct it. */
const EARLY_SHAPE_SHARE = 0.03;

/** Share of what the board makes a hill lie beside its source that stays unsure along each axis: how far heat spreads
 *  is known no better. */
const OFFSET_DOUBT = 0.25;

/** Where a hotspot lies in its frame. */
export interface HotspotPlace {
  readonly at: FramePoint;
  readonly sigmaPx: number;
  readonly widthPx: number | null;
  /** Pixels without a reading beside it may hide where it is. */
  readonly byHole: boolean;
}

/** Place a hotspot: by its patch where it makes one, as the board moves that off its source; else by its part.
 *  @param patch its peak in the view; a hotspot without one has a candidate and a context.
 *  @param heat that all sources make in the view; null where there is none to hold it against.
 */
export function placeHotspot(
  pair: PreparedPair,
  patch: DetectedPatch | null,
  candidate: Candidate | null,
  context: BoardContext | null,
  heat: ViewHeat | null,
): HotspotPlace {
  const { width } = pair.shape;
  // Alignment moves the place as a whole: its error adds to that of the pixels.
  const shift = pair.alignment.trusted ? pair.alignment.uncertaintyPx / Math.SQRT2 : 0;
  if (patch !== null) {
    const peak = framePoint(patch.peak % width, Math.floor(patch.peak / width));
    const noiseK = pair.pixelNoise.data[patch.peak]!;
    const whole = besideEdges(locateSource(pair.rise, peak, noiseK), candidate, context, heat);
    const located = pair.burst === undefined ? whole : withEarlyFrames(pair.burst, whole, patch, noiseK);
    const share = (pair.burst?.early.length ?? 0) > 0 ? EARLY_SHAPE_SHARE : SHAPE_SHARE;
    // A spot wider than the widest window has no width of its own: that window's is the least that it can be.
    const shape = share * (located.widthPx ?? LOCATE_DEFAULTS.maxWindowPx);
    // It may lie anywhere in a hole beside it: evenly spread over a disc, half its radius along each axis.
    const hidden = reachOfHole(pair, located.at, located.widthPx) / 2;
    return {
      ...located,
      sigmaPx: Math.hypot(located.sigmaPx, shift, shape, hidden, whole.doubtPx),
      byHole: hidden > 0,
    };
  }
  const { board, view } = context!;
  const { at: atMm, region } = candidate!;
  const at = view.toFrame(atMm);
  const polygon = board.regions[region]?.polygon;
  const radius = polygon === undefined ? 1 : Math.max(...polygon.map((p) => distance(p, atMm)));
  return { at, sigmaPx: Math.hypot(radius / 2 / view.mmPerPxAt(at), shift), widthPx: null, byHole: false };
}

/** The place of the source that makes a hill: that of the hill, less what the board makes lie beside the source. */
function besideEdges(
  spot: LocatedSource,
  candidate: Candidate | null,
  context: BoardContext | null,
  heat: ViewHeat | null,
): LocatedSource & { readonly doubtPx: number } {
  const strayed = spot.sigmaPx >= LOCATE_DEFAULTS.strayedSigmaPx;
  const windowPx = Math.max(LOCATE_DEFAULTS.minWindowPx, spot.widthPx ?? LOCATE_DEFAULTS.maxWindowPx);
  const offset =
    candidate === null || heat === null || strayed
      ? null
      : hillOffset(heat, context!.view.toFrame(candidate.at), windowPx);
  if (offset === null) return { ...spot, doubtPx: 0 };
  const [dx, dy] = offset;
  const at = framePoint(spot.at[0] - dx, spot.at[1] - dy);
  return { ...spot, at, doubtPx: OFFSET_DOUBT * Math.hypot(dx, dy) };
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

function distance(a: readonly [number, number], b: readonly [number, number]): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
