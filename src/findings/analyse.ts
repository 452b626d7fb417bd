// findings: frames, board and view → ranked hotspots and suspects, with all that the writers of reports need.
import { checkViewFrame } from "../board/check-view-frame.js";
import { isShiny } from "../board/emissivity.js";
import { type PlacedView, placeView } from "../board/place-view.js";
import { outlineMask, rasterisePolygon } from "../board/rasterise-polygon.js";
import type { Raster } from "../core/raster.js";
import { createRaster } from "../core/raster.js";
import { type DetectedPatches, detectPatches } from "../hotspots/detect-patches.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { noiseByGradient } from "../rise/noise-by-gradient.js";
import { sceneGradient } from "../rise/scene-gradient.js";
import { emissivityMap } from "../sources/emissivity-map.js";
import { FIT_DEFAULTS } from "../sources/fit-defaults.js";
import { shrinkRaster } from "../sources/shrink-frame.js";
import type { Candidate } from "../sources/source-model.js";
import { type Weighed, weighAlternatives } from "../suspects/weigh-alternatives.js";
import { ANALYSE_DEFAULTS, type AnalyseOptions, type AnalysisInput } from "./analyse-options.js";
import type { Analysis } from "./analysis.js";
import { assembleFindings } from "./assemble-findings.js";
import type { Found } from "./found.js";
import { judgeArtefacts, looksLikeEdge } from "./judge-artefacts.js";
import { locateSources } from "./locate-sources.js";
import { matchPatches } from "./match-patches.js";
import { type BoardContext, type HotspotSeed, measureHotspot } from "./measure-hotspot.js";
import { compareOnsets } from "./measure-onset.js";
import { prepareCycle } from "./prepare-cycle.js";
import { type PreparedPair, preparePair } from "./prepare-pair.js";

/** Evidence at which a source is as likely heat as not, above what it had to bring to be listed. */
const DOUBTFUL_EVIDENCE = 15;

/** A pixel of the smoothed rise has warmed if it stands above zero by this many sigma. */
const WARMED_SIGMA = 3;
/** Shift that the fit of sources may have left, px. */
const RESIDUAL_SHIFT_PX = 0.3;

/** Analyse the frames of one attempt: the main job.
 *  Pure: the input is not modified, and equal input gives equal findings.
 *  @throws ToolError E_FRAME_NONE without frames of a role, E_FRAME_SIZE if frames differ in size, E_VIEW_FRAME and
 *  the errors of `placeView` if the view does not fit; those of `prepareCycle` with `cycleS`.
 */
export function analyse(input: AnalysisInput, options: Partial<AnalyseOptions> = {}): Analysis {
  const o = { ...ANALYSE_DEFAULTS, ...options };
  const context = contextOf(input);
  const size = input.baseline[0]?.raster;
  const offBoard = context === null || size === undefined ? null : offBoardMask(context, size);
  const shiny = context === null || size === undefined ? null : shinyPixels(context, size);
  const mirrors = shiny === null ? null : new Uint8Array(offBoard!.length);
  for (const i of shiny?.keys() ?? []) mirrors![i] = 1;
  const burstRateHz = input.powered.length > 1 ? (input.rateHz ?? null) : null;
  const emissivity =
    context === null || size === undefined
      ? null
      : emissivityMap(context.board, context.view, size.width, size.height);
  const cycleS = input.cycleS ?? null;
  const pair =
    cycleS === null
      ? preparePair(input.baseline, input.powered, offBoard, mirrors, emissivity, burstRateHz, o)
      : prepareCycle(
          input.baseline,
          input.powered,
          cycleS,
          input.rateHz ?? null,
          offBoard,
          mirrors,
          emissivity,
          o,
        );
  const detected = detectPatches(pair.layers, pair.smoothRise, pair.threshold);
  const found =
    context === null
      ? withoutBoard(pair, detected)
      : withBoard(pair, detected, context, o, offBoard!, shiny!);
  const hotspots = compareOnsets(
    found.seeds.map((seed, k) => measureHotspot(pair, seed, context, k + 1)),
    burstRateHz,
  );
  const hotspotRanks = new Int32Array(pair.rise.data.length);
  found.seeds.forEach((seed, k) => {
    for (const i of seed.patch?.pixels ?? []) hotspotRanks[i] = k + 1;
  });
  return {
    findings: assembleFindings(input, o, pair, context, found, hotspots),
    baseline: pair.baseline,
    rise: pair.rise,
    smoothRise: pair.smoothRise,
    significance: detected.significance,
    hotspotRanks,
    board: context?.board ?? null,
    view: context?.view ?? null,
    fit: found.fit,
    sources: found.seeds.map((seed) => seed.source),
  };
}

function contextOf(input: AnalysisInput): BoardContext | null {
  const { board, view } = input;
  const size = input.baseline[0]?.raster;
  if (!board || !view || size === undefined) return null;
  const file = input.viewFile ?? "view";
  checkViewFrame(view, size.width, size.height, file);
  return { board, view: placeView(view, { file }) };
}

/** Pixels that a blurred, slightly misplaced outline can't reach. */
function offBoardMask({ board, view }: BoardContext, size: Raster): Uint8Array {
  const inside = outlineMask(view, board, size.width, size.height).data;
  const near = gaussianFilter(inside, size.width, size.height, 2);
  const off = new Uint8Array(near.length);
  for (let i = 0; i < off.length; i++) if (near[i]! < 1e-3) off[i] = 1;
  return off;
}

function withoutBoard(pair: PreparedPair, detected: DetectedPatches): Found {
  const heat = detected.patches.filter((patch) => !looksLikeEdge(pair, patch));
  const rest = detected.patches.filter((patch) => looksLikeEdge(pair, patch));
  const seeds = heat
    .map((patch): HotspotSeed => ({ patch, source: null, weighed: [] }))
    .sort((a, b) => b.patch!.prominenceK - a.patch!.prominenceK || a.patch!.peak - b.patch!.peak);
  return { seeds, artefacts: judgeArtefacts(pair, rest, null, null, new Map(), null), fit: null };
}

function withBoard(
  pair: PreparedPair,
  detected: DetectedPatches,
  context: BoardContext,
  options: AnalyseOptions,
  offBoard: Uint8Array,
  shiny: ReadonlyMap<number, string>,
): Found {
  const { board, view } = context;
  const { width } = pair.shape;
  const shot = { pair, view, patches: detected.patches };
  const { fit, minEvidence, residuals } = locateSources([shot], board, options);
  const { residual, factor } = residuals[0]!;
  const matches = matchPatches(fit.sources, detected.patches, board, view, width);
  // A part in view that lies in no significant patch, its own or a neighbour's, must bring as much evidence as one
  // that is hidden.
  const significant = new Uint8Array(offBoard.length);
  for (const { pixels } of detected.patches) for (const i of pixels) significant[i] = 1;
  const kept = fit.sources.flatMap((source, k) => {
    const px = view.toFrame(source.candidate.at);
    const inPatch = significant[Math.round(px[1]) * width + Math.round(px[0])] === 1;
    // Power cools nothing: where the picture got cooler the fit has bent to something else.
    if (!warmedAround(pair, view, source.candidate)) return [];
    if (matches[k] === null && source.ownShare < FIT_DEFAULTS.leastShareWithoutPeak) return [];
    const shows = matches[k] !== null || inPatch;
    return shows || source.evidence >= FIT_DEFAULTS.hiddenEvidence * minEvidence ? [k] : [];
  });
  const sources = kept.map((k) => fit.sources[k]!);
  const matched = kept.map((k) => matches[k]!);
  const seeds = sources.map((source, k): HotspotSeed => {
    const sure = 1 - Math.exp(-Math.max(0, source.evidence - 0.5 * minEvidence) / DOUBTFUL_EVIDENCE);
    const weighed: Weighed<Candidate>[] = weighAlternatives(
      source.alternatives,
      (candidate) => candidate.ref !== null,
      sure * source.heatChance,
    );
    return { patch: matched[k]!, source, weighed };
  });
  // Faults first: what a healthy board shows too is of less interest, however warm.
  const warm = (seed: HotspotSeed) => (seed.source!.candidate.normallyWarm ? 1 : 0);
  seeds.sort((a, b) => warm(a) - warm(b) || b.source!.evidence - a.source!.evidence);
  const rest = detected.patches.filter((patch) => !matched.includes(patch));
  const residualZ = residualSignificance(pair, residual, factor);
  const onBoard = new Uint8Array(offBoard.length);
  for (let i = 0; i < onBoard.length; i++) onBoard[i] = 1 - offBoard[i]!;
  const mirrors = mirrorPixels(view, fit.mirrors, shiny, pair.shape);
  const artefacts = judgeArtefacts(pair, rest, residualZ, onBoard, mirrors, view);
  return { seeds, artefacts, fit };
}

/** True if the picture warmed anywhere on a part or close beside it. */
function warmedAround(pair: PreparedPair, view: PlacedView, { polygon }: Candidate): boolean {
  const { width, height } = pair.shape;
  const part = rasterisePolygon(view, polygon, width, height);
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

/** What the fit leaves, smoothed at the finest size tested, ÷ its own noise; at the frame's full size. */
function residualSignificance(pair: PreparedPair, residual: Raster<"K">, factor: number): Float32Array {
  const { width, height } = pair.shape;
  const smooth = createRaster(
    "K",
    residual.width,
    residual.height,
    gaussianFilter(residual.data, residual.width, residual.height, pair.layers[0]!.sigmaPx / factor),
  );
  const scene = shrinkRaster(pair.alignment.separated.scene, factor);
  const noise = noiseByGradient(smooth, sceneGradient(scene), { shiftPx: RESIDUAL_SHIFT_PX, leastK: 1e-4 });
  const out = new Float32Array(width * height);
  for (let i = 0; i < out.length; i++) {
    const x = Math.min(residual.width - 1, Math.floor((i % width) / factor));
    const y = Math.min(residual.height - 1, Math.floor(i / width / factor));
    const k = y * residual.width + x;
    out[i] = smooth.data[k]! / noise.data[k]!;
  }
  return out;
}

/** Which part, shiny by the map or found to mirror, lies at which pixel. */
function mirrorPixels(
  view: PlacedView,
  found: readonly Candidate[],
  shiny: ReadonlyMap<number, string>,
  size: { readonly width: number; readonly height: number },
): Map<number, string> {
  const out = new Map(shiny);
  for (const { polygon, ref } of found) {
    const part = rasterisePolygon(view, polygon, size.width, size.height);
    part.coverage.forEach((share, k) => {
      if (share < 0.05) return;
      const x = part.x0 + (k % part.width);
      const y = part.y0 + Math.floor(k / part.width);
      out.set(y * size.width + x, ref ?? "a face that is not on the map");
    });
  }
  return out;
}

/** Which shiny part lies at which pixel. */
function shinyPixels({ board, view }: BoardContext, size: Raster): Map<number, string> {
  const out = new Map<number, string>();
  for (const region of board.regions) {
    if (region.side !== view.side || !isShiny(region)) continue;
    const part = rasterisePolygon(view, region.polygon, size.width, size.height);
    for (let k = 0; k < part.coverage.length; k++) {
      if (part.coverage[k]! < 0.05) continue;
      const x = part.x0 + (k % part.width);
      const y = part.y0 + Math.floor(k / part.width);
      out.set(y * size.width + x, region.ref);
    }
  }
  return out;
}
