// compare: matched hotspots and the parts of both attempts → the parts that heat in either, and whether each attempt
// shows it.
import type { Hotspot } from "../findings/findings-schema.js";
import type { PartFindings } from "../findings/parts-schema.js";
import { faceShowsHeat } from "./face-heat.js";
import { jointParts, type MatchedHotspots } from "./match-hotspots.js";
import { partAt, placeKey } from "./part-place.js";
import { strengthRatios } from "./strength-ratio.js";
import {
  cameOrWent,
  heatsByFit,
  keepsStrength,
  repeatsHeat,
  showsKnownHeat,
  warmInBoth,
} from "./tried-heat.js";
import { type PlaceChange, warmthChange } from "./warmth-change.js";

/** Parts less probable than this are not said to be a heat's source. */
const LEAST_PROBABILITY = 0.3;
/** Others that may be the source are named from this chance on. */
const LEAST_OTHER = 0.1;

/** Heat that no hotspot was found for. */
const UNMATCHED: MatchedHotspots = {
  before: null,
  after: null,
  distance: null,
  sigma: null,
  shared: 0,
  overlap: 0,
};
/** Heat, or warmth around a part, that differs by less than a factor of two is as strong for what parts beside it show.
 *  Told whatever the heat beside did, 3 false ones stood in 32 jobs (record 128). */
const SETTLED_LOG = Math.LN2;
/** A step of a part's own face is that part's, or nearly always. */
const FACE_PROBABILITY = 0.9;
/** Heat that a mirror may have made is taken for heat from this chance on. */
const SURE_HEAT = 0.8;

/** Heat of one part that at least one attempt shows. */
export interface PartHeat {
  readonly match: MatchedHotspots;
  readonly ref: string;
  readonly side: "top" | "bottom";
  readonly probability: number;
  readonly orElse: readonly string[];
  /** The part in each attempt; null where that attempt's map does not have it. */
  readonly before: PartFindings | null;
  readonly after: PartFindings | null;
  readonly bothSeen: boolean;
  /** Whether each attempt shows it, by a hotspot, by its face alone or by what the fit gives it. */
  readonly shown: readonly [boolean, boolean];
  /** Neither attempt lists it: the fit gives it heat in one of them and none in the other, or, where it is normally
   *  warm, in both. */
  readonly byFit: boolean;
  /** … and its place lost or gained warmth of its own by so many sigma; 0 if not. */
  readonly warmthSigmas: number;
}

/** Name the part of each matched or lone hotspot; one whose part is not known well enough, or is a stronger hotspot's
 *  already, has none.
 *  @returns in the order of the matches; null for those.
 */
export function namePartHeat(
  matches: readonly MatchedHotspots[],
  before: readonly PartFindings[],
  after: readonly PartFindings[],
): (PartHeat | null)[] {
  const taken = new Set<string>();
  return matches.map((match) => {
    const parts = jointParts(match);
    const named = parts.reduce((sum, { probability }) => sum + probability, 0);
    const best = parts.find((part) => !taken.has(placeKey(part)));
    if (best === undefined || named < 0.5 || best.probability < LEAST_PROBABILITY) return null;
    const { ref, side, probability } = best;
    taken.add(placeKey(best));
    const own = (list: readonly PartFindings[], hotspot: Hotspot | null): PartFindings | null => {
      const part = partAt(list, best);
      return part === undefined ? null : withHotspot(part, hotspot);
    };
    const [a, b] = [own(before, match.before), own(after, match.after)];
    return {
      match,
      ref,
      side,
      probability,
      orElse: parts.filter((p) => p !== best && p.probability >= LEAST_OTHER).map((p) => p.ref),
      before: a,
      after: b,
      bothSeen: a?.seen === true && b?.seen === true,
      shown: [
        match.before !== null || showsHeat(a, b, match.after),
        match.after !== null || showsHeat(b, a, match.before),
      ],
      byFit: false,
      warmthSigmas: 0,
    };
  });
}

/** Whether a part that the other attempt names shows heat of its own in this one, which has no hotspot for it. A name
 *  that may be the room's mirror says too little for the fit to be asked.
 */
function showsHeat(part: PartFindings | null, named: PartFindings | null, hotspot: Hotspot | null): boolean {
  if (part === null) return false;
  // A room's mirror comes and goes; what should warm, and does so twice, is no mirror.
  if (named !== null && warmInBoth(part, named) && keepsStrength(part, named)) return true;
  return faceShowsHeat(part, true) || (!mayMirror(hotspot) && showsKnownHeat(part, named));
}

/** Whether the room, mirrored in a face, may have made a hotspot. */
export function mayMirror(hotspot: Hotspot | null): boolean {
  if (hotspot === null) return false;
  const sure = hotspot.nearest.reduce((sum, { probability }) => sum + probability, 0);
  return hotspot.flags.includes("possibleReflection") && sure < SURE_HEAT;
}

/** Heat of parts that no hotspot is named for, and whose faces show it all the same, or that the fit gives heat in one
 *  attempt and none in the other, or, where they are normally warm, in both. */
export function faintHeat(
  named: readonly PartHeat[],
  before: readonly PartFindings[],
  after: readonly PartFindings[],
): PartHeat[] {
  const taken = new Set(named.map(placeKey));
  const earlier = new Map(before.map((part) => [placeKey(part), part]));
  const settled = named.filter(inBoth).every(isSettled);
  const moved = !named.every(inBoth);
  const unnamed = after.flatMap((b) => {
    const a = earlier.get(placeKey(b));
    return a === undefined || taken.has(placeKey(b)) ? [] : [[a, b] as const];
  });
  const byWarmth = settled ? partsByWarmth(before, after, named, unnamed) : new Map<string, PlaceChange>();
  return unnamed.flatMap(([a, b]): PartHeat[] => {
    // One that both would give heat to, and neither lists, stays unnamed: uneven copper is the same in both.
    const comparable = settled && (!moved || sameWarmth(a, b));
    const warmth = byWarmth.get(placeKey(b));
    const stays = warmInBoth(a, b) || repeatsHeat(a, b);
    const byFit = [
      stays || warmth?.attempt === 0 || (comparable && cameOrWent(a, b, moved)),
      stays || warmth?.attempt === 1 || (comparable && cameOrWent(b, a, moved)),
    ] as const;
    if (!faceShowsHeat(a, false) && !faceShowsHeat(b, false) && !byFit.includes(true)) return [];
    return [
      {
        match: UNMATCHED,
        ref: b.ref,
        side: b.side,
        probability: FACE_PROBABILITY,
        orElse: [],
        before: a,
        after: b,
        bothSeen: a.seen && b.seen,
        // One sure face is as good as a name for the other one.
        shown: [byFit[0] || faceShowsHeat(a, true), byFit[1] || faceShowsHeat(b, true)],
        byFit: byFit.includes(true),
        warmthSigmas: warmth?.sigmas ?? 0,
      },
    ];
  });
}

/** The part at whose place warmth left, and the one where it came, of those for which the fit speaks too: heat of one
 *  source takes warmth from all places around it, so that one part stands for it, the one whose place lost most.
 */
function partsByWarmth(
  before: readonly PartFindings[],
  after: readonly PartFindings[],
  named: readonly PartHeat[],
  unnamed: readonly (readonly [PartFindings, PartFindings])[],
): Map<string, PlaceChange> {
  const isListed = (attempt: 0 | 1) => named.some(({ shown }) => shown[attempt] && !shown[1 - attempt]);
  const sought = [!isListed(0), !isListed(1)] as const;
  const changes = warmthChange(before, after, named.filter(inBoth), sought);
  const found = new Map<string, PlaceChange>();
  for (const attempt of [0, 1] as const) {
    let best: { key: string; change: PlaceChange } | null = null;
    for (const pair of unnamed) {
      const key = placeKey(pair[0]);
      const change = changes.get(key);
      if (change?.attempt !== attempt || !heatsByFit(pair[attempt], pair[1 - attempt]!)) continue;
      if (best === null || change.ownK > best.change.ownK) best = { key, change };
    }
    if (best !== null) found.set(best.key, best.change);
  }
  return found;
}

/** Heat that both attempts show. */
export function inBoth({ shown }: PartHeat): boolean {
  return shown[0] && shown[1];
}

/** Heat of a part that heats on a healthy board too. */
export function isWarm({ before, after }: PartHeat): boolean {
  return (before ?? after)!.normallyWarm;
}

/** Warmth at a part that is about the same in both attempts: heat that came or went elsewhere does not reach it. */
function sameWarmth({ riseK: before }: PartFindings, { riseK: after }: PartFindings): boolean {
  if (before === null || after === null || !(before > 0) || !(after > 0)) return false;
  return Math.abs(Math.log(after / before)) < SETTLED_LOG;
}

/** Heat that is as strong in both attempts: what the plate's model gets wrong around it is then the same in both. */
function isSettled({ before, after }: PartHeat): boolean {
  if (before === null || after === null) return false;
  const ratio = strengthRatios([[before, after]], 0)[0]!;
  return ratio !== null && Math.abs(ratio.log) < SETTLED_LOG;
}

/** The part with the watts of the hotspot that it is now taken for the source of, where the attempt by itself gave them
 *  to a neighbour.
 */
function withHotspot(part: PartFindings, hotspot: Hotspot | null): PartFindings {
  if (hotspot === null || part.powerW !== null || hotspot.powerW === null) return part;
  const { powerW, powerSigmaW, significance } = hotspot;
  return { ...part, powerW, powerSigmaW, powerNoiseW: powerW / Math.max(1, significance) };
}
