// findings: sources and the views that show them → hotspots, each with its place from both views where both show a
// peak.
import { distanceToPolygon } from "../board/polygon-distance.js";
import { boardPoint, framePoint } from "../core/units.js";
import type { Hotspot } from "./findings-schema.js";
import type { ViewHeat } from "./heat-in-view.js";
import { type MeasuredSeed, measureHotspot } from "./measure-hotspot.js";
import { compareOnsets } from "./measure-onset.js";
import { SHAPE_SHARE } from "./place-hotspot.js";
import type { SeenView } from "./seen-view.js";
import { viewOf } from "./view-names.js";

/** Measure the hotspots in their order. One that both views show has the pixels of the primary view, and its place on
 *  the board from both.
 *  @param heat that the sources make in each view; null where no board is known.
 */
export function measureHotspots(
  views: readonly SeenView[],
  seeds: readonly MeasuredSeed[],
  heat: readonly ViewHeat[] | null,
): Hotspot[] {
  const measured = seeds.map((seed, k) => measureInViews(views, seed, k + 1, heat));
  // Each view has a power-on of its own: onsets are compared within a view.
  const ordered = new Map<number, Hotspot>();
  for (const { name, burstRateHz } of views) {
    const own = measured.filter((hotspot) => viewOf(hotspot) === name);
    for (const hotspot of compareOnsets(own, burstRateHz)) ordered.set(hotspot.rank, hotspot);
  }
  return measured.map(({ rank }) => ordered.get(rank)!);
}

function measureInViews(
  views: readonly SeenView[],
  seed: MeasuredSeed,
  rank: number,
  heat: readonly ViewHeat[] | null,
): Hotspot {
  // What may not heat takes no part in the fit.
  const heatIn = (view: SeenView) => (seed.mayNotHeat ? null : (heat?.[views.indexOf(view)] ?? null));
  const named = views.find(({ name }) => name === viewOf(seed))!;
  const hotspot = measureHotspot(named.pair, seed, named.placed, rank, heatIn(named));
  const second = views.find(({ name }) => name !== named.name);
  if (second === undefined) return hotspot;
  const additions = { view: named.name, sideOdds: seed.sides ?? null };
  if (!seed.otherPatch) return { ...hotspot, ...additions, otherView: null };
  const opposite = { ...seed, patch: seed.otherPatch };
  const there = measureHotspot(second.pair, opposite, second.placed, rank, heatIn(second));
  const { peakRiseK, peakPx, sourcePx, sourceSigmaPx, widthPx, significance } = there;
  return {
    ...withJointPlace(hotspot, there, named, second),
    ...additions,
    otherView: { peakRiseK, peakPx, sourcePx, sourceSigmaPx, widthPx, significance },
  };
}

/** Average two places of one source by inverse variance. Uneven copper and the part's own shape pull the heat itself,
 *  which both views see: that part of the error does not become less. Places that differ by more than they say make the
 *  mean as much less certain (Birge ratio, Birge 1932, Phys. Rev. 40:207, from memory).
 */
function withJointPlace(first: Hotspot, second: Hotspot, a: SeenView, b: SeenView): Hotspot {
  if (first.sourceMm === null || second.sourceMm === null || a.placed === null) return first;
  const sharedMm = Math.min(pullMm(first, a), pullMm(second, b));
  const own = [first, second].map(({ sourceSigmaMm }) =>
    Math.max(1e-6, (sourceSigmaMm ?? 0) ** 2 - sharedMm ** 2),
  );
  const sum = own[0]! + own[1]!;
  const share = own[0]! / sum;
  const apartMm = Math.hypot(first.sourceMm[0] - second.sourceMm[0], first.sourceMm[1] - second.sourceMm[1]);
  // χ² of two coordinates, ÷ 2.
  const ratio2 = Math.max(1, apartMm ** 2 / sum / 2);
  const [x, y] = [0, 1].map((c) => (1 - share) * first.sourceMm![c]! + share * second.sourceMm![c]!);
  const sourceMm = boardPoint(x!, y!);
  const { regions } = a.placed.board;
  return {
    ...first,
    sourceMm: [sourceMm[0], sourceMm[1]],
    sourceSigmaMm: Math.sqrt(((own[0]! * own[1]!) / sum) * ratio2 + sharedMm ** 2),
    // Each view has clicks of its own.
    viewSigmaMm: Math.hypot((1 - share) * (first.viewSigmaMm ?? 0), share * (second.viewSigmaMm ?? 0)),
    nearest: first.nearest.map((part) => {
      const region = regions.find(({ ref, side }) => ref === part.ref && side === part.side)!;
      return { ...part, distanceMm: distanceToPolygon(sourceMm, region.polygon) };
    }),
  };
}

/** By how much the heat itself may lie beside its source, mm. */
function pullMm({ widthPx, sourcePx }: Hotspot, { placed }: SeenView): number {
  return SHAPE_SHARE * (widthPx ?? 0) * placed!.view.mmPerPxAt(framePoint(sourcePx[0], sourcePx[1]));
}
