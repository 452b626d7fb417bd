// findings: prepared views of one board → its sources by one fit to all of them, each with the views that show it.
import type { PlacedView } from "../board/place-view.js";
import { rasterisePolygon } from "../board/rasterise-polygon.js";
import type { ResolvedOptions } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { noiseByGradient } from "../rise/noise-by-gradient.js";
import { sceneGradient } from "../rise/scene-gradient.js";
import { FIT_DEFAULTS } from "../sources/fit-defaults.js";
import { mayBeMirrored } from "../sources/may-be-mirrored.js";
import { shrinkRaster } from "../sources/shrink-frame.js";
import type { FittedSource, SourceFit } from "../sources/source-fit.js";
import type { Candidate } from "../sources/source-model.js";
import type { AnalyseOptions, OnStage } from "./analyse-options.js";
import type { Artefact } from "./findings-schema.js";
import type { Found } from "./found.js";
import { judgeArtefacts } from "./judge-artefacts.js";
import { type LocatedSources, locateSources } from "./locate-sources.js";
import { besideSeedOf, seedOf } from "./make-seeds.js";
import { matchPatches } from "./match-patches.js";
import type { BesideSeed, HotspotSeed } from "./measure-hotspot.js";
import { namePixels } from "./name-pixels.js";
import type { PreparedPair } from "./prepare-pair.js";
import { type BoardView, boardViews, type SeenView, sidesOf } from "./seen-view.js";
import { viewOf } from "./view-names.js";

type FitOptions = ResolvedOptions<typeof FIT_DEFAULTS>;

/** A pixel of the smoothed rise has warmed if it stands above zero by this many sigma. */
const WARMED_SIGMA = 3;
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
  const located = locateSources(
    views.map(({ pair, placed, detected }) => ({ pair, view: placed.view, patches: detected.patches })),
    board,
    options,
    fedW,
  );
  onStage("sources");
  const { fit, minEvidence } = located;
  const o = { ...FIT_DEFAULTS, ...options.fit };
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
      (hasPeak && !shiny) || views.some((view, v) => liesIn(view, significant[v]!, source.candidate));
    return shows || source.evidence >= unseenEvidence(views, source, o) * minEvidence ? [k] : [];
  });
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
  const artefacts = views.flatMap((view, v) => {
    const matched = [...seeds, ...beside].map((seed) =>
      viewOf(seed) === views[v]!.name ? seed.patch : (seed.otherPatch ?? null),
    );
    return artefactsIn(view, v, located, matched).map((artefact) =>
      views.length === 1 ? artefact : { ...artefact, view: view.name },
    );
  });
  return { seeds, beside, artefacts, fit };
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

/** Share of the rise around it that a source must add where it makes no peak of its own. */
function leastShare(source: FittedSource, sources: readonly FittedSource[], o: FitOptions): number {
  const { candidate, mirrorChance, bodyStep } = source;
  const { body, normallyWarm } = candidate;
  if (normallyWarm) return o.leastShareOfWarm;
  if (body === null) return o.leastShareWithoutPeak;
  const standsOut = mirrorChance < o.clearMirrorChance && bodyStep >= o.clearBodyStep;
  if (standsOut) return o.leastOwnShare;
  const wattsOf = (warm: boolean) =>
    sources.reduce(
      (sum, one) => (one !== source && one.candidate.normallyWarm === warm ? sum + one.powerW : sum),
      0,
    );
  return wattsOf(true) > wattsOf(false) ? o.leastShareBesideWarm : o.leastShareOfFace;
}

/** How many times the least evidence a part must bring that lies in no significant patch, its own or a neighbour's. A face
 *  that shows itself has been weighed against a mirror; a shiny one in view has its rim to show; one on the far side
 *  only a hill, such as mirrored rooms make too.
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

/** What stands out in a view and is no source's peak.
 *  @param v its place among the views that were fitted.
 *  @param matched the sources' peaks in it.
 */
function artefactsIn(
  { pair, placed, detected }: BoardView,
  v: number,
  { fit, residuals }: LocatedSources,
  matched: readonly (DetectedPatch | null)[],
): Artefact[] {
  const { view, offBoard, shiny } = placed;
  const rest = detected.patches.filter((patch) => !matched.includes(patch));
  if (rest.length === 0) return [];
  const { residual, factor } = residuals[v]!;
  const residualZ = residualSignificance(pair, residual, factor);
  return judgeArtefacts(pair, rest, residualZ, offBoard, mirrorPixels(view, v, fit, shiny, pair.shape), view);
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

/** Which part, shiny by the map or found to mirror, lies at which pixel of a view: what mirrors is on its side, and a
 *  place that no region names in the picture that showed it.
 */
function mirrorPixels(
  view: PlacedView,
  v: number,
  { mirrors }: SourceFit,
  shiny: ReadonlyMap<number, string>,
  size: { readonly width: number; readonly height: number },
): Map<number, string> {
  const out = new Map(shiny);
  for (const { polygon, ref, side, face } of mirrors) {
    if (side !== view.side || (face !== null && face.picture !== v)) continue;
    namePixels(out, view, polygon, size, ref ?? "a face that is not on the map");
  }
  return out;
}
