// findings: views, fit and hotspots → what the attempt says of every part of the map, whether it heats or not.
import type { Region } from "../board/board-schema.js";
import { isShiny } from "../board/emissivity.js";
import { boundsOf, signedArea } from "../board/polygon.js";
import {
  framePixel,
  type PolygonCoverage,
  polygonToFrame,
  rasterisePolygon,
} from "../board/rasterise-polygon.js";
import { finiteOrNull } from "../core/finite-or-null.js";
import { finiteOrZero } from "../core/finite-or-zero.js";
import { OPTICS_SIGMA_PX } from "../frames/optics.js";
import { normalTail } from "../numeric/normal-distribution.js";
import { CONTRAST_DEFAULTS } from "../rise/local-contrast.js";
import type { FittedSource, SourceFit } from "../sources/source-fit.js";
import type { TriedPart } from "../sources/try-parts.js";
import type { Hotspot } from "./findings-schema.js";
import type { HotspotSeed } from "./measure-hotspot.js";
import type { PartFindings } from "./parts-schema.js";
import type { PreparedPair } from "./prepare-pair.js";
import type { BoardView } from "./seen-view.js";

/** Share of a face that must lie in the frame for the part to count as seen. */
const LEAST_IN_FRAME = 0.5;
/** A face that makes less than this share of its contrast at any size is too large, or too small, to be read. */
const LEAST_GAIN = 0.02;

/** Say for every region of the map what the views show of it, what was found in it, and what would have been.
 *  Of two views that see a part, the one whose limit is lower speaks for it.
 *  @param seeds what was found, @param hotspots the same measured; in one order.
 *  @param leastStepK a smaller step on a dull face is taken for the room that it mirrors.
 *  @returns in the order of the map.
 */
export function measureParts(
  views: readonly BoardView[],
  fit: SourceFit,
  seeds: readonly HotspotSeed[],
  hotspots: readonly Hotspot[],
  leastStepK: number,
): PartFindings[] {
  const { board } = views[0]!.placed;
  const limitsW = new Map([...fit.smallestPowersW].map(([candidate, powerW]) => [candidate.region, powerW]));
  const tried = new Map([...fit.tried].map(([candidate, part]) => [candidate.region, part]));
  const sources = new Map(
    seeds.flatMap(({ source }) => (source === null ? [] : [[source.candidate.region, source] as const])),
  );
  // A step of the face that would have been taken for the room is none that would have been found.
  const roomK = views.some(({ pair }) => pair.cycle !== undefined) ? 0 : leastStepK;
  return board.regions.map((region, index): PartFindings => {
    const faces = views.map((view) => lookAt(view, region));
    const own = faces.filter((face) => face?.ownSide && face.share >= LEAST_IN_FRAME);
    const seen = own.sort((a, b) => (a!.limitK ?? Number.MAX_VALUE) - (b!.limitK ?? Number.MAX_VALUE))[0];
    const shown = seen ?? faces.find((face) => face !== null) ?? null;
    const shiny = isShiny(region);
    const { minX, minY, maxX, maxY } = boundsOf(region.polygon);
    return {
      ref: region.ref,
      side: region.side,
      normallyWarm: region.normallyWarm ?? false,
      ...(region.nets === undefined ? {} : { nets: [...region.nets] }),
      boundsMm: [minX, minY, maxX, maxY],
      seen: seen !== undefined,
      shiny,
      hotspot: hotspotOf(region, hotspots),
      ...powersOf(sources.get(index)),
      riseK: shown?.riseK ?? null,
      riseSigmaK: shown?.riseSigmaK ?? null,
      contrastK: seen?.contrastK ?? null,
      contrastSigmaK: seen?.contrastSigmaK ?? null,
      contrastGain: seen?.contrastGain ?? null,
      limitW: finiteOrNull(limitsW.get(index)),
      ...triedIn(tried.get(index)),
      limitK: shiny || seen === undefined || seen!.limitK === null ? null : Math.max(seen!.limitK, roomK),
    };
  });
}

/** Noise alone: χ² says how many sigma the watts stand above none. */
function powersOf(
  source: FittedSource | undefined,
): Pick<PartFindings, "powerW" | "powerSigmaW" | "powerNoiseW"> {
  if (source === undefined) return { powerW: null, powerSigmaW: null, powerNoiseW: null };
  const { powerW, powerSigmaW, evidence } = source;
  return { powerW, powerSigmaW, powerNoiseW: powerW / Math.sqrt(Math.max(1, evidence)) };
}

function triedIn(
  part: TriedPart | undefined,
): Pick<PartFindings, "triedW" | "triedSigmaW" | "triedEvidence" | "mirrored"> {
  if (part === undefined) return { triedW: null, triedSigmaW: null, triedEvidence: null };
  const { powerW, sigmaW, evidence, mirrored } = part;
  return {
    triedW: powerW,
    triedSigmaW: sigmaW,
    triedEvidence: evidence,
    ...(mirrored ? { mirrored } : {}),
  };
}

/** The hotspot that a part is the most probable source of. */
function hotspotOf(region: Region, hotspots: readonly Hotspot[]): number | null {
  const own = hotspots.find(({ nearest }) => {
    const best = nearest.reduce<Hotspot["nearest"][number] | null>(
      (most, one) => (most === null || one.probability > most.probability ? one : most),
      null,
    );
    return best !== null && best.ref === region.ref && best.side === region.side;
  });
  return own?.rank ?? null;
}

/** A face, or its place seen from the other side, in one view. */
interface Face {
  readonly ownSide: boolean;
  /** Share of it in the frame. */
  readonly share: number;
  readonly riseK: number;
  readonly riseSigmaK: number;
  readonly contrastK: number | null;
  readonly contrastSigmaK: number | null;
  readonly contrastGain: number | null;
  readonly limitK: number | null;
}

function lookAt({ pair, placed }: BoardView, region: Region): Face | null {
  const { view } = placed;
  const { width, height } = pair.shape;
  const face = rasterisePolygon(view, region.polygon, width, height);
  if (face.width === 0) return null;
  const areaPx = Math.abs(signedArea(polygonToFrame(view, region.polygon)));
  const pixels = pixelsOf(face, width);
  const layer = pair.layers[0]!;
  let peak = pixels[0]!.at;
  let inFrame = 0;
  for (const { at, share } of pixels) {
    inFrame += share;
    if (!(pair.smoothRise.data[at]! <= pair.smoothRise.data[peak]!)) peak = at;
  }
  const riseK = pair.smoothRise.data[peak]!;
  // Smoothing alone leaves 1/(4πσ²) of a pixel's variance, of which the contrast keeps 0.45.
  const riseSigmaK = layer.noise.data[peak]! / Math.sqrt(0.45);
  return {
    ownSide: region.side === view.side,
    share: areaPx > 0 ? inFrame / areaPx : 0,
    riseK: finiteOrZero(riseK),
    riseSigmaK: finiteOrZero(riseSigmaK),
    ...contrastIn(pair, region, centrePixel(pixels, width), areaPx),
  };
}

/** How much warmer than its surroundings an even face would be that makes the contrast seen in its middle, at the size
 *  that shows it best.
 */
function contrastIn(
  pair: PreparedPair,
  { polygon }: Region,
  centre: number,
  areaPx: number,
): Pick<Face, "contrastK" | "contrastSigmaK" | "contrastGain" | "limitK"> {
  const { minX, minY, maxX, maxY } = boundsOf(polygon);
  const long = Math.sqrt(areaPx * ((maxX - minX) / (maxY - minY)));
  const sides = [long, areaPx / long] as const;
  let best: { contrastK: number; contrastSigmaK: number; contrastGain: number } | null = null;
  for (const { sigmaPx, contrast, noise } of pair.layers) {
    const wide = Math.hypot(OPTICS_SIGMA_PX, CONTRAST_DEFAULTS.surroundRatio * sigmaPx);
    const gain = middleOf(sides, Math.hypot(OPTICS_SIGMA_PX, sigmaPx)) - middleOf(sides, wide);
    const contrastK = contrast.data[centre]! / gain;
    const contrastSigmaK = noise.data[centre]! / gain;
    if (!(gain >= LEAST_GAIN) || !(contrastK * 0 === 0) || !(contrastSigmaK > 0)) continue;
    if (best === null || contrastSigmaK < best.contrastSigmaK)
      best = { contrastK, contrastSigmaK, contrastGain: gain };
  }
  if (best === null) return { contrastK: null, contrastSigmaK: null, contrastGain: null, limitK: null };
  return { ...best, limitK: pair.threshold * best.contrastSigmaK };
}

/** What a rectangle of height 1, blurred by a Gaussian, shows in its middle. */
function middleOf([a, b]: readonly [number, number], sigmaPx: number): number {
  return (1 - 2 * normalTail(a / (2 * sigmaPx))) * (1 - 2 * normalTail(b / (2 * sigmaPx)));
}

/** Pixels that a face covers, at least one of them by half, or the one that it covers most. */
function pixelsOf(face: PolygonCoverage, width: number): { at: number; share: number }[] {
  const out: { at: number; share: number }[] = [];
  face.coverage.forEach((share, k) => {
    if (share <= 0) return;
    out.push({ at: framePixel(face, k, width), share });
  });
  // A polygon in the window whose shares round to nothing still has its corner pixel.
  return out.length > 0 ? out : [{ at: face.y0 * width + face.x0, share: 0 }];
}

function centrePixel(pixels: readonly { at: number; share: number }[], width: number): number {
  let sum = 0;
  let x = 0;
  let y = 0;
  for (const { at, share } of pixels) {
    sum += share;
    x += share * (at % width);
    y += share * Math.floor(at / width);
  }
  return sum > 0 ? Math.round(y / sum) * width + Math.round(x / sum) : pixels[0]!.at;
}
