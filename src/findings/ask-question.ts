// findings: sources with their alternatives → what is still open about each fault.
import { isShiny } from "../board/emissivity.js";
import { signedArea } from "../board/polygon.js";
import { framePoint } from "../core/units.js";
import type { ShownFault } from "../suspects/next-step.js";
import type { Hypothesis } from "../suspects/open-question.js";
import { LEAST_PROBABILITY } from "../suspects/weigh-alternatives.js";
import type { BoardContext } from "./board-context.js";
import type { Hotspot } from "./findings-schema.js";
import type { HotspotSeed } from "./measure-hotspot.js";
import { type BoardView, sidesOf } from "./seen-view.js";
import { viewOf } from "./view-names.js";

/** Width taken for a hotspot that has no peak of its own, px: a hill as wide as a part of some millimetres. */
const HILL_PX = 6;

/** Put into a question for each fault what the fit left open about it: the named parts in its place, a place that no
 *  region names, the room mirrored, or an error of plate model and noise.
 *  @returns in the order of the hotspots; none where no fault shows.
 */
export function askQuestions(
  views: readonly BoardView[],
  seeds: readonly HotspotSeed[],
  hotspots: readonly Hotspot[],
): ShownFault[] {
  const bothSides = sidesOf(views).size > 1;
  return seeds.flatMap((seed, k): ShownFault[] => {
    if (seed.source === null || seed.source.candidate.normallyWarm) return [];
    const { pair, placed } = views.find(({ name }) => name === viewOf(seed))!;
    const { rank, sourcePx, widthPx, significance } = hotspots[k]!;
    const mmPerPx = placed.view.mmPerPxAt(framePoint(sourcePx[0], sourcePx[1]));
    const question = {
      hypotheses: hypothesesOf(seed, hotspots[k]!, placed),
      viewSide: placed.view.side,
      significance,
      widthMm: (widthPx ?? HILL_PX) * mmPerPx,
      mmPerPx,
      aligned: pair.alignment.trusted,
      isBurst: pair.burst !== undefined,
      isCycled: pair.cycle !== undefined,
      bothSides,
    };
    return [{ rank, question }];
  });
}

function hypothesesOf(seed: HotspotSeed, hotspot: Hotspot, { board, view }: BoardContext): Hypothesis[] {
  const source = seed.source!;
  const parts = seed.weighed
    .filter(({ probability }) => probability >= LEAST_PROBABILITY)
    .map(({ candidate, probability }): Hypothesis => {
      const region = board.regions[candidate.region]!;
      return {
        kind: "part",
        ref: region.ref,
        probability,
        side: region.side,
        at: [candidate.at[0], candidate.at[1]],
        radiusMm: Math.sqrt(Math.abs(signedArea(region.polygon)) / Math.PI),
        nets: region.nets ?? [],
        shiny: isShiny(region),
      };
    });
  const rest = Math.max(0, 1 - parts.reduce((sum, { probability }) => sum + probability, 0));
  const mirror = Math.min(rest, source.mirrorChance);
  const free = source.alternatives.find(({ candidate }) => candidate.ref === null)?.candidate;
  const doubt =
    free === undefined ? rest - mirror : Math.min(rest - mirror, Math.max(0, 1 - source.heatChance - mirror));
  const spot = hotspot.sourceMm ?? [source.candidate.at[0], source.candidate.at[1]];
  const other = (kind: Hypothesis["kind"], probability: number, at: readonly [number, number]) => ({
    kind,
    ref: null,
    probability,
    side: view.side,
    at,
    radiusMm: 0,
    nets: [],
    shiny: false,
  });
  return [
    ...parts,
    other("mirror", mirror, spot),
    other("doubt", doubt, spot),
    other("unnamed", rest - mirror - doubt, free === undefined ? spot : [free.at[0], free.at[1]]),
  ].filter(({ probability }) => probability >= LEAST_PROBABILITY);
}
