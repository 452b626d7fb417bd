import { afterEach, describe, expect, it } from "vitest";
import { alignFrames } from "../../../src/align/align-frames.js";
import { bandPass } from "../../../src/align/band-pass.js";
import { cellPicture } from "../../../src/align/cell-picture.js";
import { findEdges } from "../../../src/align/edge-samples.js";
import { linePattern } from "../../../src/align/line-pattern.js";
import { separatePattern } from "../../../src/align/separate-pattern.js";
import { createRaster } from "../../../src/core/raster.js";
import { detectPatches } from "../../../src/hotspots/detect-patches.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import {
  addPixels,
  countMissing,
  differenceWhereRead,
  fillFrom,
  rangeOf,
  scalePixels,
  squaredDifference,
  subtractPixels,
} from "../../../src/numeric/pixel-arithmetic.js";
import { lineDetail } from "../../../src/rise/line-detail.js";
import { noiseByGradient } from "../../../src/rise/noise-by-gradient.js";
import { sceneGradient } from "../../../src/rise/scene-gradient.js";
import { removeSmoothDrift } from "../../../src/rise/smooth-drift.js";
import { blockEnergies } from "../../../src/sources/residual-scale.js";
import { shiftSteps } from "../../../src/sources/shift-steps.js";
import { makeRandom } from "../../simulate/random.js";
import { agreed } from "./both-ways.js";

afterEach(() => useKernels(true));

/** Noise on steps of 3 K, with a share of holes and, among them, infinite readings. */
function picture(name: string, width: number, height: number, holes: number): Float32Array {
  const random = makeRandom(`${name} ${width} ${height} ${holes}`);
  return Float32Array.from({ length: width * height }, (_, i) => {
    if (random.uniform(0, 1) < holes) return random.uniform(0, 1) < 0.1 ? Infinity : Number.NaN;
    return 24 + 3 * (((i % width) >> 3) & 1) + 0.05 * random.normal();
  });
}

describe.each([
  [37, 23],
  [16, 12],
  [64, 41],
])("a picture of %i×%i", (width, height) => {
  describe.each([0, 0.03])("with %f of it missing", (holes) => {
    const [a, b, c] = ["a", "b", "c"].map((name) => picture(name, width, height, holes)) as [
      Float32Array,
      Float32Array,
      Float32Array,
    ];
    const raster = createRaster("degC", width, height, a);

    it("has as many holes, and the same least and largest number", () => {
      expect(agreed(() => [countMissing(a)])).toEqual([a.filter((value) => Number.isNaN(value)).length]);
      const known = [...a].filter((value) => !Number.isNaN(value));
      expect(agreed(() => rangeOf(a))).toEqual({ least: Math.min(...known), most: Math.max(...known) });
      expect(agreed(() => rangeOf(a.map(() => Number.NaN)))).toEqual({ least: Infinity, most: -Infinity });
    });

    it("is added, subtracted, squared, scaled and filled as by the plain code", () => {
      agreed(() => addPixels(a, b));
      agreed(() => subtractPixels(a, b));
      agreed(() => squaredDifference(a, b));
      agreed(() => scalePixels(a, 1 / 3, -17.1));
      agreed(() => differenceWhereRead(a, b, c));
      agreed(() => fillFrom(a, b));
    });

    it("has the cells, edges, steepness and detail that the plain code finds", () => {
      const lines = agreed(() => linePattern([raster, createRaster("degC", width, height, b)]));
      for (const side of [1, 2, 3]) {
        agreed(() => cellPicture(raster, side));
        agreed(() => cellPicture(raster, side, { lines, unreliable: null, reachPx: 1 }));
      }
      const band = agreed(() => bandPass(a, width, height, 0.8, 3));
      const { places, flat } = agreed(() => findEdges(band, width, height));
      expect(places.length).toBeGreaterThan(0);
      expect(flat.includes(1)).toBe(true);
      agreed(() => sceneGradient(raster));
      const detail = agreed(() => lineDetail(createRaster("K", width, height, a)));
      if (holes === 0) expect(detail.length).toBe((width - 2) * height);
      agreed(() => separatePattern(raster, lines));
    });

    it("counts what just reaches a level, and no longer what misses it by less than its number can say", () => {
      const contrast = createRaster("K", width, height);
      const level = Math.fround(7.3);
      contrast.data.set([level], 5 * width + 4);
      contrast.data.set([level + 1], 5 * width + 11);
      const noise = createRaster("K", width, height, new Float32Array(width * height).fill(1));
      const counted = (least: number) =>
        agreed(() => detectPatches([{ sigmaPx: 1.3, contrast, noise }], contrast, least)).patches.length;
      expect([level, level * (1 + 1e-12), level * (1 - 1e-12)].map(counted)).toEqual([2, 1, 2]);
    });

    it("has the significance, residual and derivatives that the plain code finds", () => {
      const noise = createRaster(
        "K",
        width,
        height,
        c.map((value) => 0.1 + Math.abs(value - 24)),
      );
      const smooth = createRaster("K", width, height, b);
      const layers = [a, b].map((data) => ({
        sigmaPx: 1.3,
        contrast: createRaster("K", width, height, data),
        noise,
      }));
      const { significance, patches } = agreed(() => detectPatches(layers, smooth, 150));
      expect(patches.length).toBeGreaterThan(0);
      // Infinite ÷ infinite and holes have no significance.
      expect(significance.data.includes(Number.NaN)).toBe(holes > 0);
      agreed(() => shiftSteps(a, width, height));
      const off = Float32Array.from({ length: 5 });
      const two = [
        { width, height, offset: 0 },
        { width: 5, height: 1, offset: width * height },
      ];
      const all = [a, c].map((data) => Float32Array.of(...data, ...off));
      expect(agreed(() => blockEnergies(all[0]!, all[1]!, two)).length).toBeGreaterThan(1);
      const rise = createRaster("K", width, height, a);
      const offBoard = new Uint8Array(width * height).fill(1);
      const taken = agreed(() => removeSmoothDrift(rise, offBoard, { fewestBlocks: 2 }));
      expect(taken.data).not.toEqual(a);
      // Blocks with enough pixels off the board, in odd and even number, and blocks with too few.
      const some = offBoard.map((_, i) => ((i * i) % 7 < 5 && i % width > 2 ? 1 : 0));
      expect(agreed(() => removeSmoothDrift(rise, some, { fewestBlocks: 2 })).data).not.toEqual(taken.data);
    });

    it("is aligned with a moved one as by the plain code", () => {
      agreed(() => alignFrames(raster, createRaster("degC", width, height, b)));
    });

    it("has the noise by classes that the plain code finds", () => {
      const gradient = sceneGradient(raster);
      agreed(() => noiseByGradient(createRaster("K", width, height, b), gradient, { shiftPx: 0.2 }));
      // Equal slopes leave classes empty.
      const few = gradient.map((slope) => Math.round(slope));
      agreed(() => noiseByGradient(createRaster("K", width, height, b), few, { shiftPx: 0.2 }));
    });
  });
});
