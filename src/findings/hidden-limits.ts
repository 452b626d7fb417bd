// findings: pair, board and fit → what the shiny faces in view could hide, in kelvins and in watts.
import type { Region } from "../board/board-schema.js";
import { emissivityOf, isShiny } from "../board/emissivity.js";
import { framePixel, type PolygonCoverage, rasterisePolygon } from "../board/rasterise-polygon.js";
import { finiteOrNull } from "../core/finite-or-null.js";
import { OPTICS_SIGMA_PX } from "../frames/optics.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";
import { CONTRAST_DEFAULTS, type ContrastLayer } from "../rise/local-contrast.js";
import { riseFromApparent } from "../rise/rise-from-apparent.js";
import type { SourceFit } from "../sources/source-fit.js";
import type { BoardContext } from "./board-context.js";
import type { Limit } from "./findings-schema.js";
import type { PreparedPair } from "./prepare-pair.js";
import type { BoardView } from "./seen-view.js";

/** State what the shiny faces of all views could hide, the worst first; of a face that two views show, what neither
 *  would have shown.
 */
export function hiddenLimits(views: readonly BoardView[], fit: SourceFit): Limit[] {
  const least = new Map<string, Limit>();
  for (const limit of views.flatMap(({ pair, placed }) => limitsInView(pair, placed, fit))) {
    const name = `${limit.side} ${limit.ref}`;
    const before = least.get(name);
    if (before === undefined || limit.riseK < before.riseK) least.set(name, limit);
  }
  return [...least.values()].sort(
    (a, b) =>
      (b.powerW ?? Number.MAX_VALUE) - (a.powerW ?? Number.MAX_VALUE) ||
      b.riseK - a.riseK ||
      (a.ref < b.ref ? -1 : 1),
  );
}

/** State, for every face in view that mirrors rather than shows, how much warmer it could be, and how many watts could
 *  lie under it, without anything having been seen.
 *  `riseK`: a rise of the whole face whose contrast just reaches the threshold at the size that shows it best, ÷ the
 *  emissivity by band radiance. `powerW`: the watts, spread over the face, whose warmth of the board around it would
 *  have been evidence enough; null where the fit has no answer.
 */
function limitsInView(pair: PreparedPair, context: BoardContext, fit: SourceFit): Limit[] {
  const { board, view } = context;
  const { width, height } = pair.shape;
  const powers = powersByRegion(fit);
  return board.regions.flatMap((region, index): Limit[] => {
    if (region.side !== view.side || !isShiny(region)) return [];
    const face = rasterisePolygon(view, region.polygon, width, height);
    if (face.width === 0) return [];
    const apparentK = smallestApparentRise(pair, face);
    const ambientC = levelOf(pair, face);
    const riseK = riseFromApparent(apparentK, emissivityOf(region), ambientC, ambientC);
    if (!Number.isFinite(riseK)) return [];
    return [{ ref: region.ref, side: region.side, riseK, powerW: finiteOrNull(powers.get(index)) }];
  });
}

/** Fewest watts that would have been found in a part, median over the parts of a side, or of both; null where there is
 *  none. Parts that already heat are left out: what they hide is a question of its own.
 */
export function smallestPower(fit: SourceFit, side: Region["side"] | null): number | null {
  const found = new Set(fit.sources.map((source) => source.candidate.region));
  const powers = [...fit.smallestPowersW]
    .filter(([candidate]) => !found.has(candidate.region) && (side === null || candidate.side === side))
    .map(([, powerW]) => powerW);
  return powers.length === 0 ? null : finiteOrNull(median(powers));
}

function powersByRegion(fit: SourceFit): Map<number, number> {
  return new Map([...fit.smallestPowersW].map(([candidate, powerW]) => [candidate.region, powerW]));
}

/** Rise of a whole face, as the camera shows it, whose contrast reaches the threshold somewhere, K. */
function smallestApparentRise(pair: PreparedPair, face: PolygonCoverage): number {
  return Math.min(...pair.layers.map((layer) => pair.threshold * leastNoise(pair, layer, face)));
}

/** Least of noise ÷ contrast of a face one kelvin warmer, K. */
function leastNoise(pair: PreparedPair, layer: ContrastLayer, face: PolygonCoverage): number {
  const wide = Math.hypot(OPTICS_SIGMA_PX, CONTRAST_DEFAULTS.surroundRatio * layer.sigmaPx);
  const margin = Math.ceil(3 * wide);
  const width = face.width + 2 * margin;
  const height = face.height + 2 * margin;
  const one = new Float32Array(width * height);
  for (let y = 0; y < face.height; y++) {
    const row = face.coverage.subarray(y * face.width, (y + 1) * face.width);
    one.set(row, (y + margin) * width + margin);
  }
  const near = gaussianFilter(one, width, height, Math.hypot(OPTICS_SIGMA_PX, layer.sigmaPx));
  const around = gaussianFilter(one, width, height, wide);
  let least = Number.POSITIVE_INFINITY;
  for (let y = 0; y < face.height; y++) {
    for (let x = 0; x < face.width; x++) {
      const k = (y + margin) * width + x + margin;
      const noiseK = layer.noise.data[(face.y0 + y) * pair.shape.width + face.x0 + x]!;
      const contrast = near[k]! - around[k]!;
      if (contrast > 1e-6 && noiseK > 0) least = Math.min(least, noiseK / contrast);
    }
  }
  return least;
}

/** What a face shows in the baseline, °C: the room it mirrors, which the board without power is as warm as. */
function levelOf(pair: PreparedPair, face: PolygonCoverage): number {
  const values: number[] = [];
  for (let k = 0; k < face.coverage.length; k++) {
    const value = pair.baseline.data[framePixel(face, k, pair.shape.width)]!;
    if (face.coverage[k]! > 0.5 && value * 0 === 0) values.push(value);
  }
  return values.length === 0 ? median(pair.baseline.data) : median(values);
}
