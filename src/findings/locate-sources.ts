// findings: rise and board → the sources by the plate fit, where a board and its view are known.

import type { BoardMap } from "../board/board-schema.js";
import { emissivityOf } from "../board/emissivity.js";
import { nearestRegions } from "../board/nearest-regions.js";
import type { PlacedView } from "../board/place-view.js";
import { centroid } from "../board/polygon.js";
import { VIEW_SIGMA_PX } from "../board/view-error.js";
import { createRaster, type Raster } from "../core/raster.js";
import { boardPoint, type FramePoint, framePoint } from "../core/units.js";
import { OPTICS_SIGMA_PX } from "../frames/optics.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import { gaussianFilter, gaussianReachPx } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";
import { zForTail } from "../numeric/normal-distribution.js";
import { cooledPixels } from "../sources/cooled-pixels.js";
import { type CoverageWindow, coverageWindow } from "../sources/coverage-window.js";
import { endsSharply } from "../sources/ends-sharply.js";
import { LEAST_EVIDENCE } from "../sources/fit-defaults.js";
import { fitSources } from "../sources/fit-sources.js";
import { lensVeil } from "../sources/lens-veil.js";
import { faceShapes, haloMarginPx, SHAPE_SHARES, VEIL_SHAPE, VEIL_SHARE } from "../sources/mirror-shapes.js";
import { misplacedHeat, type NuisanceColumn, nuisanceColumns } from "../sources/nuisance-columns.js";
import { patchFace } from "../sources/patch-face.js";
import type { Picture } from "../sources/picture.js";
import { withProbableMirrors } from "../sources/probable-mirrors.js";
import { shrinkRaster, shrinkView } from "../sources/shrink-frame.js";
import type { SourceFit } from "../sources/source-fit.js";
import { type Candidate, SOURCE_MODEL_DEFAULTS, SourceModel } from "../sources/source-model.js";
import type { AnalyseOptions } from "./analyse-options.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Pixels to which a frame is brought down, by averaging, before the fit: its cost grows with them, and heat has
 *  spread over many. */
const MOST_PIXELS = 26_000;
/** Finishes below this emissivity are taken for mirrors here as there. */
const { shinyEmissivity } = SOURCE_MODEL_DEFAULTS;
/** Share of a mirror's blurred change that may be left beside it. */
const MIRROR_DOUBT = 0.15;
/** How much a mirror may change, K: a hand against a cool room. */
const MIRROR_SIGMA_K = 5;
/** … and what a face shows whose own change is less than noise and drift leave, K. */
const LEAST_CHANGE_K = 0.1;
/** Share of a face's change by which its veil may differ from that of the lens, as what the face shows between its
 *  pixels does. A judgement. */
const OWN_VEIL_SHARE = 0.01;
/** A pixel to which a mirror is blurred by this share shows it. A judgement. */
const SEEN_SHARE = 0.02;
/** A free place is tried only this far from every named part on either side, px: nearer, the part explains it. */
const FREE_CLEARANCE_PX = 2;
/** Free places tried: as many of the strongest patches. */
const MOST_FREE_PLACES = 8;

/** Smooth change in the rhythm of the supply, in units of the noise of one pixel's amplitude: slow drift of a camera is
 *  as much over the whole frame as a pixel's own noise is (measured: 5–12 × what white noise leaves after smoothing by
 *  8 px). */
const CYCLED_LEVEL_SIGMAS = 1;
const CYCLED_SMOOTH_SIGMAS = 0.3;

/** One pair of frames and what is known of it. */
export interface Shot {
  readonly pair: PreparedPair;
  readonly view: PlacedView;
  readonly patches: readonly DetectedPatch[];
}

/** Smooth drift of a camera over the board between two frames, K (the 0.1 K that it reached on measured frames is a
 *  little more), and the share of a change in the room that the solder mask throws back, blurred: two thirds of the
 *  0.09 that it does not emit. */
const DRIFT_SMOOTH_K = 0.08;
const MASK_SHARE = 0.06;

/** A change too small to explain anything, K. */
const NO_CHANGE_K = 1e-4;

/** Result of `locateSources`. */
export interface LocatedSources {
  readonly model: SourceModel;
  readonly fit: SourceFit;
  /** Evidence that a source had to bring. */
  readonly minEvidence: number;
  /** What the fit leaves in each shot: the frame shrunken by the factor. */
  readonly residuals: readonly { readonly residual: Raster<"K">; readonly factor: number }[];
  /** The same where only these candidates are listed: see `FinishedFit`. */
  readonly withListed: (listed: ReadonlySet<Candidate>) => LocatedSources | null;
  /** … and what the board between all faces shows: see `FinishedFit`. */
  readonly inMask: (listed: ReadonlySet<Candidate>) => LocatedSources | null;
}

/** A shot at the size at which it is fitted. */
interface SmallShot extends Shot {
  readonly smallView: PlacedView;
  readonly rise: Raster<"K">;
  readonly quadrature: Raster<"K"> | null;
  readonly scene: Raster<"degC">;
  readonly noise: Raster<"K">;
  readonly opticsSigmaPx: number;
  readonly factor: number;
}

/** Fit watts of the named regions, and of free places at the strongest patches, to the rise on the board.
 *  @param shots of one board at one time; the first is the one in question, others see its other side or another part.
 */
export function locateSources(
  shots: readonly Shot[],
  told: BoardMap,
  options: AnalyseOptions,
  fedW: number | null = null,
): LocatedSources {
  const small = shots.map((shot) => shrinkShot(shot, shots.length));
  const { afterS = null, cycle } = shots[0]!.pair;
  const cycled = cycle !== undefined;
  const modelOf = (map: BoardMap) =>
    new SourceModel(
      map,
      small.map(({ smallView: view, rise, opticsSigmaPx, scene }) => ({
        view,
        width: rise.width,
        height: rise.height,
        opticsSigmaPx,
        scene: scene.data,
      })),
      (region) => {
        const [x, y] = centroid(region.polygon);
        return boardPoint(x, y);
      },
      shots[0]!.pair.burst?.effectiveTimeS ?? afterS,
      { periodS: cycle?.periodS ?? null, oneTime: afterS !== null },
    );
  const asTold = modelOf(told);
  // What follows the supply is not mirrored.
  const board = cycled || !options.judgesMirrors ? told : withProbableMirrors(told, asTold);
  const model = board === told ? asTold : modelOf(board);
  const undeclared = model.candidates.filter(({ region }) => board.regions[region] !== told.regions[region]);
  const bare = small.flatMap((shot, k) => barePlaces(shot, board, model, k));
  const free = bare.filter(({ clear }) => clear).map(({ place }) => place);
  const tests = (model.candidates.length + free.length) * 4;
  const z = zForTail(options.falseAlarmsPerFrame / options.tailFactor / tests);
  const minEvidence = Math.max(LEAST_EVIDENCE, z * z);
  const rise = new Float32Array(model.size);
  const quadrature = cycled ? new Float32Array(model.size) : null;
  const variance = new Float32Array(model.size);
  small.forEach((shot, k) => {
    const { offset, seen } = model.pictures[k]!;
    rise.set(shot.rise.data, offset);
    if (shot.quadrature !== null) quadrature?.set(shot.quadrature.data, offset);
    variance.set(varianceOf(shot, board, seen.onBoard), offset);
  });
  const mirrors = small.map((_, k) =>
    cycled ? [] : mirrorColumns(board, model.pictures[k]!, small[k]!.rise),
  );
  const fit = fitSources(
    model,
    rise,
    variance,
    (heat, modelK, roomK) =>
      small.flatMap((shot, k) =>
        nuisanceOf(shot, board, model.pictures[k]!, model.size, roomK, heat, modelK, mirrors[k]!, options),
      ),
    { tried: free, faces: bare.map(({ place }) => place), quadrature },
    minEvidence,
    { fedW, ...options.fit, followsSupply: cycled || !options.judgesMirrors },
  );
  const located = (by: SourceFit): LocatedSources => ({
    model,
    fit: { ...by, mirrors: [...by.mirrors, ...undeclared] },
    minEvidence,
    residuals: small.map(({ rise: { width, height }, factor }, k) => {
      const { offset } = model.pictures[k]!;
      const data = by.residual.slice(offset, offset + width * height);
      return { residual: createRaster("K", width, height, data), factor };
    }),
    withListed: (listed) => locatedOrNone(fit.withListed(listed)),
    inMask: (listed) => locatedOrNone(fit.inMask(listed)),
  });
  const locatedOrNone = (by: SourceFit | null) => (by === null ? null : located(by));
  return located(fit);
}

/** By what a frame is shrunk before the fit, along each axis.
 *  @param pixels of the frame. @param shots frames that are fitted together.
 */
export function fitFactor(pixels: number, shots: number): number {
  return Math.max(1, Math.round(Math.sqrt((pixels * shots) / MOST_PIXELS)));
}

function shrinkShot(shot: Shot, shots: number): SmallShot {
  const { pair, view } = shot;
  const pixels = pair.shape.width * pair.shape.height;
  const factor = fitFactor(pixels, shots);
  return {
    ...shot,
    factor,
    rise: shrinkRaster(pair.rise, factor),
    quadrature: pair.cycle === undefined ? null : shrinkRaster(pair.cycle.quadrature, factor),
    scene: shrinkRaster(pair.alignment.separated.scene, factor),
    noise: shrinkRaster(pair.pixelNoise, factor),
    smallView: shrinkView(view, factor),
    opticsSigmaPx: Math.sqrt(OPTICS_SIGMA_PX ** 2 + (factor * factor - 1) / 12) / factor,
  };
}

/** Places of the strongest patches that lie on no part in view.
 *  @returns with each whether it is clear of the parts on the other side as well, which may explain it.
 */
function barePlaces(
  shot: SmallShot,
  board: BoardMap,
  model: SourceModel,
  picture: number,
): { readonly place: Candidate; readonly clear: boolean }[] {
  const { pair, view, patches, rise, factor, opticsSigmaPx } = shot;
  const { width } = pair.shape;
  const { onBoard } = model.pictures[picture]!.seen;
  const inView = { ...board, regions: board.regions.filter(({ side }) => side === view.side) };
  const distanceMm = (map: BoardMap, px: FramePoint) =>
    nearestRegions(map, view.toBoard(px), undefined, 1)[0]?.distanceMm ?? Infinity;
  const bare = patches
    .map((patch) => framePoint(patch.peak % width, Math.floor(patch.peak / width)))
    .filter((px) => distanceMm(inView, px) > FREE_CLEARANCE_PX * view.mmPerPxAt(px))
    .slice(0, MOST_FREE_PLACES);
  if (bare.length === 0) return [];
  const levelK = median(rise.data.filter((_, i) => onBoard[i] === 1));
  // Beside a mirror, which shows something else, a hill would seem to end.
  const clear = onBoard.slice();
  for (const { x0, y0, width, near } of shinyFaces(board, shot.smallView, rise, opticsSigmaPx)) {
    near.forEach((share, k) => {
      if (share > SEEN_SHARE) clear[(y0 + Math.floor(k / width)) * rise.width + x0 + (k % width)] = 0;
    });
  }
  return bare.flatMap((px) => {
    const x = Math.min(rise.width - 1, Math.floor(px[0] / factor));
    const y = Math.min(rise.height - 1, Math.floor(px[1] / factor));
    const face = patchFace(rise, x, y, levelK, haloMarginPx(opticsSigmaPx));
    const sharp = endsSharply(rise, face, clear, levelK);
    const place = model.freeCandidate(view.toBoard(px), { picture, window: face, sharp });
    if (place === null) return [];
    return [{ place, clear: distanceMm(board, px) > FREE_CLEARANCE_PX * view.mmPerPxAt(px) }];
  });
}

function varianceOf(shot: SmallShot, board: BoardMap, onBoard: Uint8Array): Float32Array {
  const { rise, noise, factor, smallView, opticsSigmaPx } = shot;
  const noiseK = noise.data.map((value) => value / factor);
  const cooled = cooledPixels(rise, onBoard, noiseK);
  const out = mirrorVariance(board, smallView, rise, noise, opticsSigmaPx);
  for (let i = 0; i < out.length; i++) {
    out[i] = cooled[i] === 1 ? Number.NaN : (noise.data[i]! / factor) ** 2 + out[i]!;
  }
  return out;
}

function nuisanceOf(
  shot: SmallShot,
  board: BoardMap,
  picture: Picture,
  size: number,
  roomK: number,
  heat: Float32Array,
  modelK: number,
  mirrors: readonly NuisanceColumn[],
  options: AnalyseOptions,
): NuisanceColumn[] {
  const { pair, view, factor } = shot;
  const { trusted, uncertaintyPx } = pair.alignment;
  const shiftPx = (trusted ? uncertaintyPx : 0.3) / factor;
  const beside = misplacedHeat(heat, picture, size, Math.hypot(VIEW_SIGMA_PX, view.residualPx) / factor);
  if (pair.cycle === undefined) {
    return [
      ...nuisanceColumns(board, picture, size, shiftPx, modelK, {
        ...(options.smoothBackground
          ? { smoothK: smoothChange(roomK) }
          : { smoothK: NO_CHANGE_K, restK: NO_CHANGE_K }),
      }),
      ...mirrors,
      ...beside,
    ];
  }
  // The room that faces mirror does not follow the supply: of smooth change only drift at its frequency is left.
  const noiseK = pair.cycle.amplitudeSigmaK;
  const cycled = {
    boardLevelK: CYCLED_LEVEL_SIGMAS * noiseK,
    smoothK: CYCLED_SMOOTH_SIGMAS * noiseK,
    blurWidths: 0,
    restK: 0,
  };
  return [...nuisanceColumns(board, picture, size, shiftPx, modelK, cycled), ...beside];
}

/** Smooth change of the board between frames, K: what its mask mirrors of the room's change, and drift. */
function smoothChange(roomK: number): number {
  return Math.hypot(DRIFT_SMOOTH_K, MASK_SHARE * roomK);
}

/** What declared mirrors can show beyond their faces, through the blur: any smooth change of their size, and of what a
 *  face shows itself the shares that softer optics and an outline a little off spread around it; and the veil of the
 *  lens, one share for all.
 */
function mirrorColumns(
  board: BoardMap,
  { view, seen, offset }: Picture,
  rise: Raster<"K">,
): NuisanceColumn[] {
  const { width, height } = rise;
  const shiny = board.regions.filter(
    (region) => region.side === view.side && emissivityOf(region) < shinyEmissivity,
  );
  const windows = shiny.map(({ polygon }) =>
    coverageWindow(view, polygon, width, height, haloMarginPx(seen.opticsSigmaPx)),
  );
  const inView = windows.filter((window) => window !== null);
  const veil = lensVeil(rise.data, width, inView, offset);
  return [
    ...(veil === null ? [] : [{ what: "mirror" as const, column: veil, priorSigma: VEIL_SHARE }]),
    ...inView.flatMap((window) => {
      const changeK = Math.max(LEAST_CHANGE_K, largestChange(rise, window));
      return faceShapes(window, width, seen.opticsSigmaPx, offset).map((column, s): NuisanceColumn => {
        const share = s === VEIL_SHAPE ? OWN_VEIL_SHARE : (SHAPE_SHARES[s] ?? Number.POSITIVE_INFINITY);
        return { what: "mirror", column, priorSigma: Math.min(MIRROR_SIGMA_K, share * changeK) };
      });
    }),
  ];
}

/** The largest change on a face, K. */
function largestChange(rise: Raster<"K">, { coverage, x0, y0, width }: CoverageWindow): number {
  let change = 0;
  for (let k = 0; k < coverage.length; k++) {
    if (!(coverage[k]! > 0.5)) continue;
    const rose = rise.data[(y0 + Math.floor(k / width)) * rise.width + x0 + (k % width)]!;
    if (rose * 0 === 0) change = Math.max(change, Math.abs(rose));
  }
  return change;
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
  for (const face of shinyFaces(board, view, rise, opticsSigmaPx)) {
    const { x0, y0, width: w, near } = face;
    const change = largestChange(rise, face);
    for (let k = 0; k < near.length; k++) {
      if (near[k] === 0) continue;
      const i = (y0 + Math.floor(k / w)) * width + x0 + (k % w);
      if (near[k]! > 0.5) extra[i] = Number.NaN;
      else if (near[k]! * change > 0.1 * noise.data[i]!) extra[i]! += (MIRROR_DOUBT * near[k]! * change) ** 2;
    }
  }
  return extra;
}

/** A declared mirror in view, with its blur. */
interface ShinyFace extends CoverageWindow {
  /** Coverage, blurred by optics and view. */
  readonly near: Float32Array;
}

function shinyFaces(
  board: BoardMap,
  view: PlacedView,
  { width, height }: Raster<"K">,
  opticsSigmaPx: number,
): ShinyFace[] {
  const sigmaPx = Math.hypot(opticsSigmaPx, VIEW_SIGMA_PX);
  return board.regions.flatMap((region): ShinyFace[] => {
    if (region.side !== view.side || emissivityOf(region) >= shinyEmissivity) return [];
    // Twice as far as the blur reaches: what it leaves is then the same as in the whole frame.
    const window = coverageWindow(view, region.polygon, width, height, 2 * gaussianReachPx(sigmaPx));
    if (window === null) return [];
    return [{ ...window, near: gaussianFilter(window.coverage, window.width, window.height, sigmaPx) }];
  });
}
