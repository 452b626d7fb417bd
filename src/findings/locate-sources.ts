// findings: rise and board → the sources by the plate fit, where a board and its view are known.
import type { BoardMap } from "../board/board-schema.js";
import { emissivityOf } from "../board/emissivity.js";
import { nearestRegions } from "../board/nearest-regions.js";
import type { PlacedView } from "../board/place-view.js";
import { centroid } from "../board/polygon.js";
import { createRaster, type Raster } from "../core/raster.js";
import { boardPoint, framePoint } from "../core/units.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median, SIGMA_PER_MAD } from "../numeric/median.js";
import { zForTail } from "../numeric/normal-distribution.js";
import { fitSources } from "../sources/fit-sources.js";
import { coverageOf } from "../sources/heat-columns.js";
import { mirrorShapes } from "../sources/mirror-shapes.js";
import { misplacedHeat, type NuisanceColumn, nuisanceColumns } from "../sources/nuisance-columns.js";
import { shrinkRaster, shrinkView } from "../sources/shrink-frame.js";
import type { SourceFit } from "../sources/source-fit.js";
import { SourceModel } from "../sources/source-model.js";
import type { AnalyseOptions } from "./analyse-options.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Pixels to which a frame is brought down, by averaging, before the fit: its cost grows with them, and heat has
 *  spread over many. */
const MOST_PIXELS = 26_000;
/** Blur of the optics, px of the frame as it comes. */
const OPTICS_SIGMA_PX = 1;
/** How far the view may lay the map beside the picture, px: fiducials are picked to a fraction of a pixel. */
const VIEW_SIGMA_PX = 0.4;
/** Finishes below this emissivity show the room rather than a small rise of their own. */
const SHINY_EMISSIVITY = 0.5;
/** Share of a mirror's blurred change that may be left beside it. */
const MIRROR_DOUBT = 0.15;
/** A pixel this far below the board's level, in units of its downward spread, has cooled … */
const COOLED_SIGMA = 6;
/** … and where it is not alone, its surroundings are left out as far as this share of it reaches. */
const COOLED_SHARE = 0.04;
/** How much a mirror may change, K: a hand against a cool room. */
const MIRROR_SIGMA_K = 5;
/** A free place is tried only this far from every named part on either side, px: nearer, the part explains it. */
const FREE_CLEARANCE_PX = 2;
/** Free places tried: as many of the strongest patches. */
const MOST_FREE_PLACES = 8;
/** Evidence below this is never taken for heat, whatever the number of candidates. */
const LEAST_EVIDENCE = 25;

/** Result of `locateSources`. */
export interface LocatedSources {
  readonly model: SourceModel;
  readonly fit: SourceFit;
  /** What the fit leaves, and where: the frame shrunken by this factor. */
  readonly residual: Raster<"K">;
  readonly factor: number;
  /** Evidence that a source had to bring. */
  readonly minEvidence: number;
}

/** Fit watts of the named regions, and of free places at the strongest patches, to the rise on the board. */
export function locateSources(
  pair: PreparedPair,
  board: BoardMap,
  view: PlacedView,
  patches: readonly DetectedPatch[],
  options: AnalyseOptions,
): LocatedSources {
  const { width } = pair.shape;
  const factor: number = Math.max(
    1,
    Math.round(Math.sqrt((pair.shape.width * pair.shape.height) / MOST_PIXELS)),
  );
  const rise = shrinkRaster(pair.rise, factor);
  const scene = shrinkRaster(pair.alignment.separated.scene, factor);
  const noise = shrinkRaster(pair.pixelNoise, factor);
  const smallView = shrinkView(view, factor);
  const opticsSigmaPx: number = Math.sqrt(OPTICS_SIGMA_PX ** 2 + (factor * factor - 1) / 12) / factor;
  const model = new SourceModel(
    board,
    smallView,
    rise.width,
    rise.height,
    (region) => {
      const [x, y] = centroid(region.polygon);
      return boardPoint(x, y);
    },
    { opticsSigmaPx: opticsSigmaPx },
  );
  const free = patches
    .map((patch) => framePoint(patch.peak % width, Math.floor(patch.peak / width)))
    .filter((px) => {
      const clearanceMm = FREE_CLEARANCE_PX * view.mmPerPxAt(px);
      return (nearestRegions(board, view.toBoard(px), undefined, 1)[0]?.distanceMm ?? Infinity) > clearanceMm;
    })
    .slice(0, MOST_FREE_PLACES)
    .flatMap((px) => model.freeCandidate(view.toBoard(px)) ?? []);
  const tests = (model.candidates.length + free.length) * 4;
  const z = zForTail(options.falseAlarmsPerFrame / options.tailFactor / tests);
  const minEvidence = Math.max(LEAST_EVIDENCE, z * z);
  const cooled = cooledPixels(rise, model.seen.onBoard);
  const variance = mirrorVariance(board, smallView, rise, noise, opticsSigmaPx).map((extra, i) =>
    cooled[i] === 1 ? Number.NaN : (noise.data[i]! / factor) ** 2 + extra,
  );
  const { trusted, uncertaintyPx } = pair.alignment;
  const fit = fitSources(
    model,
    rise.data,
    variance,
    (heat, modelK) => [
      ...nuisanceColumns(
        board,
        smallView,
        scene,
        model.seen.onBoard,
        (trusted ? uncertaintyPx : 0.3) / factor,
        modelK,
      ),
      ...mirrorColumns(board, smallView, rise, opticsSigmaPx),
      ...misplacedHeat(heat, rise.width, Math.hypot(VIEW_SIGMA_PX, view.residualPx) / factor),
    ],
    free,
    minEvidence,
  );
  return {
    model,
    fit,
    minEvidence,
    factor,
    residual: createRaster("K", rise.width, rise.height, fit.residual),
  };
}

/** Pixels that got cooler than the rest of the board by more than it varies downwards, and their surroundings. Power
 *  cools nothing: whatever this is, it is no heat, and the fit must not bend to it.
 *  @returns 1 = left out.
 */
function cooledPixels(rise: Raster<"K">, onBoard: Uint8Array): Uint8Array {
  const { width, height, data } = rise;
  const values = data.filter((value, i) => onBoard[i] === 1 && value * 0 === 0);
  const level = median(values);
  const spread =
    SIGMA_PER_MAD * median(values.filter((value) => value <= level).map((value) => level - value));
  const cold = Float32Array.from(data, (value, i) =>
    onBoard[i] === 1 && value < level - COOLED_SIGMA * spread ? 1 : 0,
  );
  const near = gaussianFilter(cold, width, height, 1.2);
  return Uint8Array.from(near, (share) => (share > COOLED_SHARE ? 1 : 0));
}

/** What declared mirrors can show beyond their faces, through the blur: any smooth change of their size. */
function mirrorColumns(
  board: BoardMap,
  view: PlacedView,
  rise: Raster<"K">,
  opticsSigmaPx: number,
): NuisanceColumn[] {
  return board.regions
    .filter((region) => region.side === view.side && emissivityOf(region) < SHINY_EMISSIVITY)
    .flatMap((region) =>
      mirrorShapes(view, region.polygon, rise.width, rise.height, opticsSigmaPx).map(
        (values): NuisanceColumn => ({ what: "mirror", values, priorSigma: MIRROR_SIGMA_K }),
      ),
    );
}

/** Variance that declared mirrors add: on their faces the picture shows the room and not the board (no number); around
 *  them, as far as the blur reaches, a share of their change is left by what the view and the optics are unsure of.
 *  @returns K² per pixel; NaN on the faces.
 */
function mirrorVariance(
  board: BoardMap,
  view: PlacedView,
  rise: Raster<"K">,
  noise: Raster<"K">,
  opticsSigmaPx: number,
): Float32Array {
  const { width, height } = rise;
  const extra = new Float32Array(width * height);
  for (const region of board.regions) {
    if (region.side !== view.side || emissivityOf(region) >= SHINY_EMISSIVITY) continue;
    const coverage = coverageOf(view, region.polygon, width, height);
    if (coverage === null) continue;
    let change = 0;
    for (let i = 0; i < coverage.length; i++) {
      if (coverage[i]! > 0.5 && rise.data[i]! * 0 === 0) change = Math.max(change, Math.abs(rise.data[i]!));
    }
    const near = gaussianFilter(coverage, width, height, Math.hypot(opticsSigmaPx, VIEW_SIGMA_PX));
    for (let i = 0; i < near.length; i++) {
      if (near[i]! > 0.5) extra[i] = Number.NaN;
      else if (near[i]! * change > 0.1 * noise.data[i]!) extra[i]! += (MIRROR_DOUBT * near[i]! * change) ** 2;
    }
  }
  return extra;
}
