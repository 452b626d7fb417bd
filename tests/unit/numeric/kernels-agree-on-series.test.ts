import { afterEach, describe, expect, it } from "vitest";
import { averageFrames } from "../../../src/clean/average-frames.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { seriesOf } from "../../../src/frames/frame-series.js";
import { stretchesOf } from "../../../src/frames/series-tiles.js";
import { sharedKernels, useKernels } from "../../../src/numeric/kernels.js";
import { openFrameSpool } from "../../../src/read/frame-spool.js";
import { cellsOf } from "../../../src/rise/frame-places.js";
import { temporalNoise } from "../../../src/rise/temporal-noise.js";
import { weighFrames } from "../../../src/rise/weigh-frames.js";
import { makeRandom } from "../../simulate/random.js";
import { bothWays } from "./both-ways.js";

afterEach(() => useKernels(true));

/** Places at which two lists are not the same to the last bit. */
function differences(fast: ArrayLike<number>, plain: ArrayLike<number>): number[] {
  return Array.from(plain).flatMap((value, i) => (Object.is(fast[i], value) ? [] : [i]));
}

/** Frames of one scene that drift, with holes in some, a flare, and a pixel without any reading.
 *  @param step levels of the readings, K; 0 for none. */
function makeFrames(width: number, height: number, count: number, step = 0): Raster<"degC">[] {
  const random = makeRandom(`series ${width} ${height} ${count} ${step}`);
  return Array.from({ length: count }, (_, k) => {
    const drift = 0.1 * random.normal();
    const data = Float32Array.from({ length: width * height }, (_, i) => {
      const valueC = 24 + (i % 7) * 0.3 + drift + 0.05 * random.normal();
      return step === 0 ? valueC : step * Math.round(valueC / step);
    });
    if (k % 4 === 1) data[(5 * width + 3) % data.length] = Number.NaN;
    if (k === 2) data[(3 * width + 2) % data.length]! += 4;
    data[width + 1] = Number.NaN;
    if (k === 3) data[2] = Number.POSITIVE_INFINITY;
    return createRaster("degC", width, height, data);
  });
}

// Sizes that no number of lanes divides; counts with and without outliers looked for; and levels so coarse that most
// pixels show no noise.
describe.each([
  [11, 7, 2, 0],
  [13, 9, 4, 0],
  [11, 7, 9, 0],
  [37, 23, 6, 0.5],
  [37, 29, 40, 0],
] as const)("frames of %i×%i, %i of them, levels %f K apart", (width, height, count, step) => {
  const frames = makeFrames(width, height, count, step);

  it("are averaged as by the plain code, to the last bit", () => {
    for (const outlierSigma of [5, 1.5, Number.POSITIVE_INFINITY]) {
      const [fast, plain] = bothWays(() => averageFrames(frames, { outlierSigma }));
      expect(differences(fast.mean.data, plain.mean.data)).toEqual([]);
      expect(differences(fast.sigma!.data, plain.sigma!.data)).toEqual([]);
      expect(fast.count).toEqual(plain.count);
      expect([fast.outliers, [...fast.offsetsK]]).toEqual([plain.outliers, [...plain.offsetsK]]);
    }
  });

  it("give the same noise in time", () => {
    const offsetsK = Float64Array.from(frames, (_, k) => 0.01 * k);
    const courses = [Float64Array.from(frames, (_, k) => Math.log1p(k))];
    const groups = [
      { frames, offsetsK, courses },
      { frames: makeFrames(width, height, 8), offsetsK: new Float64Array(8) },
    ];
    const [fast, plain] = bothWays(() => temporalNoise(groups, 0.01));
    expect(fast!.freedom).toBe(plain!.freedom);
    expect(differences(fast!.sigma.data, plain!.sigma.data)).toEqual([]);
  });

  it("are weighed alike", () => {
    const weights = frames.map((_, k) => (k === 1 ? 0 : (k + 1) / 10));
    const offsetsK = frames.map((_, k) => 0.03 * k - 0.05);
    const [fast, plain] = bothWays(() => weighFrames(frames, weights, offsetsK));
    expect(differences(fast.data, plain.data)).toEqual([]);
  });

  it("have the same cells", () => {
    const [fast, plain] = bothWays(() => cellsOf(frames).frame(1));
    expect(differences(fast, plain)).toEqual([]);
  });
});

it("frames in a file are averaged as those that are held", () => {
  const frames = makeFrames(41, 19, 12);
  const spool = openFrameSpool({ heldBytes: 0 });
  const list = frames.map((raster) => frameFromRaster(raster));
  spool.keep(list);
  const [fast, plain] = bothWays(() => averageFrames(list.map(({ raster }) => raster)));
  const held = averageFrames(frames);
  for (const other of [fast, plain]) {
    expect(differences(other.mean.data, held.mean.data)).toEqual([]);
    expect(differences(other.sigma!.data, held.sigma!.data)).toEqual([]);
  }
  spool.close();
});

// More pixels than sums wait for at a time, and more frames than are laid side by side.
it("frames in a file that come to the kernels some at a time give what held ones do", () => {
  const [width, height, count] = [287, 241, 19];
  const frames = makeFrames(width, height, count);
  const list = frames.map((raster) => frameFromRaster(raster));
  const spool = openFrameSpool({ heldBytes: 0 });
  spool.keep(list);
  const apart = list.map(({ raster }) => raster);
  const stretches = [...stretchesOf(sharedKernels()!, seriesOf(apart))];
  const kinds = ["start", "from"] as const;
  for (const kind of kinds) expect(new Set(stretches.map((one) => one[kind])).size).toBeGreaterThan(1);
  expect(stretches.reduce((sum, one) => sum + one.size * one.count, 0)).toBe(width * height * count);
  const averaged = [apart, frames].map((of) => averageFrames(of, { outlierSigma: Number.POSITIVE_INFINITY }));
  expect(differences(averaged[0]!.mean.data, averaged[1]!.mean.data)).toEqual([]);
  expect(differences(averaged[0]!.sigma!.data, averaged[1]!.sigma!.data)).toEqual([]);
  expect(averaged[0]!.count).toEqual(averaged[1]!.count);
  const offsetsK = averaged[1]!.offsetsK;
  const courses = [Float64Array.from(frames, (_, k) => Math.log1p(k))];
  const [fromFile, fromMemory] = [apart, frames].map((of) =>
    temporalNoise([{ frames: of, offsetsK, courses }], 0.01),
  );
  expect(differences(fromFile!.sigma.data, fromMemory!.sigma.data)).toEqual([]);
  spool.close();
});

it("cells of a burst that are not all kept stay as they are for three calls more", () => {
  const frames = makeFrames(37, 29, 9);
  const kept = cellsOf(frames);
  const passing = cellsOf(frames, 0);
  // The first one is asked for again before it would have its turn to be written over.
  for (const k of [0, 1, 2, 3, 0, 4, 5, 6, 8, 7, 8]) {
    const cells = passing.frame(k);
    expect(differences(cells, kept.frame(k))).toEqual([]);
  }
  const asked = [2, 3, 4, 5, 2].map((k) => passing.frame(k));
  const last = [passing.frame(6), passing.frame(7)];
  expect(differences(asked[3]!, kept.frame(5))).toEqual([]);
  expect(differences(asked[4]!, kept.frame(2))).toEqual([]);
  expect(last[0]).not.toBe(last[1]);
});
