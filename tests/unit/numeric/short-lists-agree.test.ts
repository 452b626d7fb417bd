import { afterEach, describe, expect, it } from "vitest";
import { edgeSamples, findEdges } from "../../../src/align/edge-samples.js";
import { createRaster } from "../../../src/core/raster.js";
import { framePoint } from "../../../src/core/units.js";
import { LOCATE_DEFAULTS, locateSource } from "../../../src/hotspots/locate-source.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { wideGaussian } from "../../../src/numeric/wide-gaussian.js";
import { contrastGain } from "../../../src/rise/contrast-gain.js";
import { makeRandom } from "../../simulate/random.js";
import { agreed } from "./both-ways.js";

afterEach(() => useKernels(true));

describe("loops over short lists, by the kernels and by the plain code", () => {
  it.each([
    [9, 9, 0.7, 1.4],
    [43, 43, 1.3, 2.6],
    [61, 17, 3.8, 7.6],
    [5, 80, 2.2, 4.4],
  ])("the gain of a contrast in a frame of %i×%i is the same", (width, height, sigmaPx, widePx) => {
    const gain = agreed(() => contrastGain(width, height, sigmaPx, widePx));
    expect(gain).toHaveLength(width * height);
    expect(gain.every((value) => value > 0)).toBe(true);
  });

  it("edges are read the same, of one shape and of two", () => {
    const [width, height] = [41, 29];
    const random = makeRandom("edges of short lists");
    const [first, second] = [3, 7].map((period) =>
      Float32Array.from({ length: width * height }, (_, i) =>
        i % 97 === 0 ? Number.NaN : Math.sin((i % width) / period) + 0.1 * random.normal(),
      ),
    ) as [Float32Array, Float32Array];
    const edges = findEdges(first, width, height);
    expect(edges.places.length).toBeGreaterThan(40);
    for (const most of [30, Number.POSITIVE_INFINITY]) {
      const one = agreed(() => edgeSamples(edges, [first], width, most));
      const two = agreed(() => edgeSamples(edges, [first, second], width, most));
      expect(two.gate).toEqual(one.gate);
      expect(two.shapes[0]).toEqual(one.shapes[0]);
      expect(
        [...two.y].every(
          (y, k) =>
            two.x[k]! + y * width ===
            edges.places[k * (most === 30 ? Math.ceil(edges.places.length / 30) : 1)],
        ),
      ).toBe(true);
    }
  });

  it.each([
    [2.2, 2],
    [3.8, 3],
    [7.6, 6],
    [40, 36],
  ])("a line's cells and their weights are the same, σ %f px, cells of %i", (sigmaPx) => {
    const [width, height] = [131, 47];
    const picture = Float32Array.from(
      { length: width * height },
      (_, i) => Math.sin(i / 5) + (i % width) / 9,
    );
    // Those of the last lines are kept: others are asked for between the two ways.
    const forget = (): void => {
      for (let k = 1; k < 6; k++) wideGaussian(new Float32Array(k * (k + 20)), k, k + 20, sigmaPx);
    };
    agreed(() => {
      forget();
      return wideGaussian(picture, width, height, sigmaPx);
    });
  });

  it("a spot's place, width and uncertainty are the same, at the border, beside holes and where it strays", () => {
    const [width, height] = [90, 70];
    const random = makeRandom("spots of short lists");
    const spots = [
      [30.3, 31.7, 2.5],
      [2.4, 40.2, 3],
      [87.9, 68.6, 1.4],
      [60, 20, 5.5],
    ] as const;
    const data = Float32Array.from({ length: width * height }, (_, i) => {
      const [x, y] = [i % width, Math.floor(i / width)];
      if (i % 83 === 0) return Number.NaN;
      return spots.reduce(
        (sum, [u, v, s]) => sum + 4 * Math.exp(-((x - u) ** 2 + (y - v) ** 2) / (2 * s * s)),
        0.05 * random.normal(),
      );
    });
    const rise = createRaster("K", width, height, data);
    const found = agreed(() => [
      ...spots.map(([x, y]) => locateSource(rise, framePoint(Math.round(x), Math.round(y)), 0.05)),
      // Beside a spot that draws it away; where nothing is, and where nothing is read.
      locateSource(rise, framePoint(35, 32), 0.05),
      locateSource(rise, framePoint(80, 40), 0.05),
      locateSource(createRaster("K", 9, 9, new Float32Array(81).fill(Number.NaN)), framePoint(4, 4), 0.05),
    ]);
    expect(found.filter(({ widthPx }) => widthPx !== null).length).toBeGreaterThan(2);
    expect(found.filter(({ sigmaPx }) => sigmaPx === LOCATE_DEFAULTS.strayedSigmaPx).length).toBeGreaterThan(
      0,
    );
  });
});
