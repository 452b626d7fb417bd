// findings: prepared views of one board → its sources by one fit to all of them, each with the views that show it.
import { createRaster, type Raster } from "../core/raster.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { noiseByGradient } from "../rise/noise-by-gradient.js";
import { sceneGradient } from "../rise/scene-gradient.js";
import { FIT_DEFAULTS } from "../sources/fit-defaults.js";
import { shrinkRaster } from "../sources/shrink-frame.js";
import type { AnalyseOptions, OnStage } from "./analyse-options.js";
import type { Artefact } from "./findings-schema.js";
import type { Found } from "./found.js";
import { heatAt, heatInViews, type ViewHeat } from "./heat-in-view.js";
import { judgeArtefacts, mirrorLimits, strangeRises } from "./judge-artefacts.js";
import { listedSources } from "./listed-sources.js";
import { type LocatedSources, locateSources } from "./locate-sources.js";
import { besideSeedOf, seedOf } from "./make-seeds.js";
import type { BesideSeed, HotspotSeed } from "./measure-hotspot.js";
import { mirrorPixels } from "./mirror-pixels.js";
import type { PreparedPair } from "./prepare-pair.js";
import { type BoardView, boardViews, type SeenView, sidesOf } from "./seen-view.js";
import { viewOf } from "./view-names.js";

/** Shift that the fit of sources may have left, px. */
const RESIDUAL_SHIFT_PX = 0.3;

/** Find the sources on a board that is known, in one fit to all of its views, and name what else stands out in each.
 *  A source belongs to the primary view where that one shows a peak of it, or neither does; else to the other view.
 *  @returns null where no board is known.
 */
export function findOnBoard(
  seen: readonly SeenView[],
  options: AnalyseOptions,
  onStage: OnStage = () => {},
  fedW: number | null = null,
): Found | null {
  const known = boardViews(seen);
  if (known === null) return null;
  const { board, views } = known;
  const first = locateSources(
    views.map(({ pair, placed, detected }) => ({ pair, view: placed.view, patches: detected.patches })),
    board,
    options,
    fedW,
  );
  onStage("sources");
  const o = { ...FIT_DEFAULTS, ...options.fit };
  const { located, matches, kept } = listedSources(views, board, first, o);
  const { fit, minEvidence } = located;
  const bothSides = sidesOf(views).size > 1;
  const seeds = kept.map((k) =>
    seedOf(
      fit.sources[k]!,
      matches.map((patches) => patches[k]!),
      minEvidence,
      bothSides,
    ),
  );
  // Faults first: what a healthy board shows too is of less interest, however warm.
  const warm = (seed: HotspotSeed) => (seed.source!.candidate.normallyWarm ? 1 : 0);
  seeds.sort((a, b) => warm(a) - warm(b) || b.source!.evidence - a.source!.evidence);
  const stand = new Set(kept.map((k) => fit.sources[k]!.candidate));
  const beside = fit.beside.flatMap((source, k): BesideSeed[] => {
    if (!stand.has(source.beside)) return [];
    const peaks = matches.map((patches) => patches[fit.sources.length + k]!);
    return [besideSeedOf(source, peaks, bothSides)];
  });
  const frames = views.map(({ pair }) => pair.shape);
  const heat = heatInViews(fit.heat, frames);
  const artefacts = views.flatMap((view, v) => {
    const matched = [...seeds, ...beside].map((seed) =>
      viewOf(seed) === views[v]!.name ? seed.patch : (seed.otherPatch ?? null),
    );
    return artefactsIn(view, v, located, matched, heat[v]!).map((artefact) =>
      views.length === 1 ? artefact : { ...artefact, view: view.name },
    );
  });
  const strange = views.flatMap(({ name, placed }) =>
    strangeRises(
      artefacts.filter((one) => (one.view ?? name) === name),
      mirrorLimits(placed.view, board),
    ),
  );
  return { seeds, beside, artefacts, strange, fit };
}

/** What stands out in a view and is no source's peak.
 *  @param v its place among the views that were fitted.
 *  @param matched the sources' peaks in it.
 */
function artefactsIn(
  { pair, placed, detected }: BoardView,
  v: number,
  { fit, residuals }: LocatedSources,
  matched: readonly (DetectedPatch | null)[],
  heat: ViewHeat,
): Artefact[] {
  const { view, offBoard, shiny } = placed;
  const rest = detected.patches.filter((patch) => !matched.includes(patch));
  if (rest.length === 0) return [];
  const { residual, factor } = residuals[v]!;
  const residualZ = residualSignificance(pair, residual, factor);
  const mirrored = mirrorPixels(view, v, fit, shiny, pair.shape);
  const limitAt = mirrorLimits(view, placed.board);
  const { width } = pair.shape;
  const heatK = (pixel: number) => heatAt(heat, pixel % width, Math.floor(pixel / width));
  return judgeArtefacts(pair, rest, residualZ, offBoard, mirrored, view, limitAt, heatK);
}

/** What the fit leaves, smoothed at the finest size tested, ÷ its own noise.
 *  @returns tells it for a pixel of the frame's full size: it is asked of a few.
 */
function residualSignificance(
  pair: PreparedPair,
  residual: Raster<"K">,
  factor: number,
): (pixel: number) => number {
  const { width } = pair.shape;
  const smooth = createRaster(
    "K",
    residual.width,
    residual.height,
    gaussianFilter(residual.data, residual.width, residual.height, pair.layers[0]!.sigmaPx / factor),
  );
  const scene = shrinkRaster(pair.alignment.separated.scene, factor);
  const noise = noiseByGradient(smooth, sceneGradient(scene), { shiftPx: RESIDUAL_SHIFT_PX, leastK: 1e-4 });
  return (pixel) => {
    const x = Math.min(residual.width - 1, Math.floor((pixel % width) / factor));
    const y = Math.min(residual.height - 1, Math.floor(pixel / width / factor));
    const k = y * residual.width + x;
    return Math.fround(smooth.data[k]! / noise.data[k]!);
  };
}
