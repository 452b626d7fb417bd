// findings: frames, board and view → ranked hotspots and suspects, with all that the writers of reports need.
import {
  ANALYSE_DEFAULTS,
  type AnalyseOptions,
  type AnalysisInput,
  type OnStage,
} from "./analyse-options.js";
import type { Analysis, ViewPictures } from "./analysis.js";
import { assembleFindings } from "./assemble-findings.js";
import { findOnBoard } from "./find-on-board.js";
import type { Hotspot } from "./findings-schema.js";
import type { Found } from "./found.js";
import { heatInViews } from "./heat-in-view.js";
import { judgeArtefacts, looksLikeEdge } from "./judge-artefacts.js";
import type { HotspotSeed, MeasuredSeed } from "./measure-hotspot.js";
import { measureHotspots } from "./measure-hotspots.js";
import { prepareViews } from "./prepare-views.js";
import { comparableFeedW, seedsToTell, seedsWithFeed } from "./seeds-with-feed.js";
import type { SeenView } from "./seen-view.js";
import { viewOf } from "./view-names.js";

/** Analyse the frames of one attempt: the main job. With a second view of the board, of its other side or of the same
 *  one, the sources are found by one fit to both.
 *  Pure: the input is not modified, and equal input gives equal findings.
 *  @param onStage told as each part of the work ends.
 *  @throws ToolError E_FRAME_NONE without frames of a role, E_FRAME_SIZE if frames of a view differ in size,
 *  E_VIEW_FRAME and the errors of `placeView` if a view does not fit; E_OTHER_VIEW if a second view comes without a
 *  board and the views; those of `prepareCycle` with `cycleS`.
 */
export function analyse(
  input: AnalysisInput,
  options: Partial<AnalyseOptions> = {},
  onStage: OnStage = () => {},
): Analysis {
  const o = { ...ANALYSE_DEFAULTS, ...options };
  const views = prepareViews(input, o, onStage);
  const [primary, other] = views;
  const fedW = comparableFeedW(input, primary!.pair);
  const found = findOnBoard(views, o, onStage, fedW) ?? withoutBoard(primary!);
  const seeds = seedsWithFeed(seedsToTell(found.seeds), fedW);
  const measured = [...seeds, ...found.beside];
  const frames = views.map(({ pair }) => pair.shape);
  const heat = found.fit === null ? null : heatInViews(found.fit.heat, frames);
  const hotspots = measureHotspots(views, measured, heat);
  onStage("suspects");
  const findings = assembleFindings(input, o, views, found, seeds, hotspots);
  onStage("findings");
  return {
    findings,
    ...picturesOf(primary!, measured, hotspots),
    board: primary!.placed?.board ?? null,
    fit: found.fit,
    sources: [...seeds.map((seed) => seed.source), ...found.beside.map(() => null)],
    other: other === undefined ? null : picturesOf(other, measured, hotspots),
  };
}

function withoutBoard({ pair, detected }: SeenView): Found {
  const heat = detected.patches.filter((patch) => !looksLikeEdge(pair, patch, false));
  const rest = detected.patches.filter((patch) => looksLikeEdge(pair, patch, false));
  const seeds = heat
    .map((patch): HotspotSeed => ({ patch, source: null, weighed: [] }))
    .sort((a, b) => b.patch!.prominenceK - a.patch!.prominenceK || a.patch!.peak - b.patch!.peak);
  const artefacts = judgeArtefacts(pair, rest, null, null, new Map(), null);
  return { seeds, beside: [], artefacts, strange: [], fit: null };
}

function picturesOf(
  { name, pair, detected, placed }: SeenView,
  seeds: readonly MeasuredSeed[],
  hotspots: readonly Hotspot[],
): ViewPictures {
  const hotspotRanks = new Int32Array(pair.rise.data.length);
  seeds.forEach((seed, k) => {
    const own = viewOf(seed) === name ? seed.patch : seed.otherPatch;
    for (const i of own?.pixels ?? []) hotspotRanks[i] = hotspots[k]!.rank;
  });
  return {
    baseline: pair.baseline,
    rise: pair.rise,
    smoothRise: pair.smoothRise,
    significance: detected.significance,
    hotspotRanks,
    view: placed?.view ?? null,
  };
}
