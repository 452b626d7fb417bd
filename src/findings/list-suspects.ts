// findings: sources with their alternatives → every named part that may be a source, with its reasons.
import { emissivityOf, isShiny } from "../board/emissivity.js";
import { distanceToPolygon } from "../board/polygon-distance.js";
import { explainAlternative } from "../suspects/explain-alternative.js";
import { explainBeside } from "../suspects/explain-beside.js";
import { explainSuspect } from "../suspects/explain-suspect.js";
import { sharedNets } from "../suspects/net-readings.js";
import { LEAST_PROBABILITY } from "../suspects/weigh-alternatives.js";
import type { BoardContext } from "./board-context.js";
import type { Hotspot, Suspect } from "./findings-schema.js";
import type { BesideSeed, HotspotSeed } from "./measure-hotspot.js";
import { type BoardView, sidesOf } from "./seen-view.js";
import { sideEvidence } from "./side-evidence.js";

/** Only with a part at least this probable is it worth saying what is shared. */
const LEAST_RIVAL = 0.05;

/** List every named part that may be a source: the chance that it is, over all hotspots that are not normally warm.
 *  @param hotspots of the seeds, then of what may heat beside them.
 *  @param fedW watts fed in; null where not known.
 *  @returns the most probable first, normally warm parts last.
 */
export function listSuspects(
  seeds: readonly HotspotSeed[],
  beside: readonly BesideSeed[],
  hotspots: readonly Hotspot[],
  views: readonly BoardView[],
  fedW: number | null,
): Suspect[] {
  const byRef = new Map<string, Suspect>();
  seeds.forEach((seed, k) => {
    const source = seed.source!;
    const { normallyWarm } = source.candidate;
    seed.weighed.forEach(({ candidate, probability }, place) => {
      const own = candidate === source.candidate;
      if (normallyWarm ? !own : probability < LEAST_PROBABILITY && !own) return;
      const ref = candidate.ref!;
      const before = byRef.get(ref);
      const chance = normallyWarm ? 0 : probability;
      const joint = before === undefined ? chance : 1 - (1 - before.probability) * (1 - chance);
      if (before !== undefined && before.probability > chance) {
        byRef.set(ref, { ...before, probability: joint });
        return;
      }
      byRef.set(ref, {
        ref,
        side: candidate.side,
        probability: joint,
        powerW: own ? source.powerW : null,
        normallyWarm,
        hotspot: hotspots[k]!.rank,
        why: own
          ? whyOwn(seed, place, hotspots, k, views, fedW)
          : whyAlternative(seed, place, hotspots[k]!, views),
      });
    });
  });
  beside.forEach((seed, k) => {
    const suspect = besideSuspect(seed, hotspots[seeds.length + k]!);
    const before = byRef.get(suspect.ref);
    if (before === undefined || before.probability < suspect.probability) byRef.set(suspect.ref, suspect);
  });
  return [...byRef.values()].sort(
    (a, b) =>
      Number(a.normallyWarm) - Number(b.normallyWarm) ||
      b.probability - a.probability ||
      (a.ref < b.ref ? -1 : 1),
  );
}

function whyOwn(
  seed: HotspotSeed,
  place: number,
  hotspots: readonly Hotspot[],
  k: number,
  views: readonly BoardView[],
  fedW: number | null,
): string[] {
  const source = seed.source!;
  const { candidate } = source;
  const hotspot = hotspots[k]!;
  const context = views[0]!.placed;
  const region = context.board.regions[candidate.region]!;
  const farSide = !sidesOf(views).has(candidate.side);
  const runnerUp = seed.weighed[place === 0 ? 1 : 0];
  const onsets = hotspots.flatMap(({ onsetS }, other) => (other === k || onsetS === null ? [] : [onsetS]));
  return explainSuspect({
    ref: region.ref,
    powerW: source.powerW,
    powerSigmaW: source.powerSigmaW,
    peakRiseK: hotspot.peakRiseK,
    evidence: source.evidence,
    distanceMm: distanceOf(seed, hotspot, context, candidate.region),
    sigmaMm: hotspot.sourceSigmaMm,
    farSide,
    sides: sideEvidence(views, hotspot, candidate.side),
    bodyShare: source.bodyShare,
    normallyWarm: candidate.normallyWarm,
    runnerUp:
      runnerUp === undefined || candidate.normallyWarm
        ? null
        : { ref: runnerUp.candidate.ref!, odds: seed.weighed[place]!.probability / runnerUp.probability },
    shiny: !farSide && isShiny(region),
    emissivity: emissivityOf(region),
    finishStated: region.finish !== undefined || region.emissivity !== undefined,
    mirrorChance: source.mirrorChance,
    flags: hotspot.flags,
    sharedNet: candidate.normallyWarm ? null : sharedNetOf(seed, place, context),
    onsetS: hotspot.onsetS,
    onsetSigmaS: hotspot.onsetSigmaS ?? null,
    onsetLeadSigma: hotspot.onsetLeadSigma ?? null,
    othersOnsetS: onsets.length === 0 ? null : Math.min(...onsets),
    fedW,
    byFeed: source.byFeed !== null,
  });
}

function whyAlternative(
  seed: HotspotSeed,
  place: number,
  hotspot: Hotspot,
  views: readonly BoardView[],
): string[] {
  const context = views[0]!.placed;
  const { candidate, probability } = seed.weighed[place]!;
  const best = seed.weighed.find((weighed) => weighed.candidate === seed.source!.candidate);
  return explainAlternative({
    bestRef: seed.source!.candidate.ref,
    odds: (best?.probability ?? seed.weighed[0]!.probability) / probability,
    distanceMm: distanceOf(seed, hotspot, context, candidate.region),
    sigmaMm: hotspot.sourceSigmaMm,
    farSide: !sidesOf(views).has(candidate.side),
    sides:
      candidate.side === seed.source!.candidate.side ? null : sideEvidence(views, hotspot, candidate.side),
    sharedNet: sharedNetOf(seed, place, context),
  });
}

function besideSuspect({ source }: BesideSeed, { rank }: Hotspot): Suspect {
  const { candidate, beside, powerW, chance } = source;
  return {
    ref: candidate.ref!,
    side: candidate.side,
    probability: chance,
    powerW,
    normallyWarm: false,
    hotspot: rank,
    why: explainBeside({ ...source, ref: beside.ref! }),
  };
}

/** From the centre of the heat to a part's edge, mm; null where the heat makes no peak of its own. */
function distanceOf(
  seed: HotspotSeed,
  { sourceMm }: Hotspot,
  { board }: BoardContext,
  region: number,
): number | null {
  if (seed.patch === null || sourceMm === null) return null;
  return distanceToPolygon(sourceMm, board.regions[region]!.polygon);
}

/** The most probable other part that is on a net of this one; null if that is ground alone, or if the other has next to
 *  no chance.
 */
function sharedNetOf(
  seed: HotspotSeed,
  place: number,
  { board }: BoardContext,
): { ref: string; net: string } | null {
  const nets = (region: number) => ({ nets: board.regions[region]!.nets ?? [] });
  const own = nets(seed.weighed[place]!.candidate.region);
  if (seed.weighed[place]!.probability < LEAST_RIVAL) return null;
  for (const [other, { candidate, probability }] of seed.weighed.entries()) {
    if (other === place || probability < LEAST_RIVAL) continue;
    const [net] = sharedNets(own, nets(candidate.region));
    if (net !== undefined) return { ref: candidate.ref!, net };
  }
  return null;
}
