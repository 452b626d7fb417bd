import { describe, expect, it } from "vitest";
import { linePattern } from "../../../src/align/line-pattern.js";
import { separatePattern } from "../../../src/align/separate-pattern.js";
import { createRaster } from "../../../src/core/raster.js";
import { robustSigma } from "../../../src/numeric/median.js";
import { makeRandom } from "../../simulate/random.js";
import { makePair } from "./make-pair.js";

const width = 80;
const height = 60;

function frameWith(valueAt: (x: number, y: number) => number) {
  return createRaster(
    "degC",
    width,
    height,
    Float32Array.from({ length: width * height }, (_, i) => valueAt(i % width, Math.floor(i / width))),
  );
}

describe("linePattern", () => {
  it("finds the offsets of columns and of rows on an even scene", () => {
    const random = makeRandom("offsets");
    const columns = Array.from({ length: width }, () => 0.2 * random.normal());
    const rows = Array.from({ length: height }, () => 0.1 * random.normal());
    const frame = frameWith((x, y) => 25 + columns[x]! + rows[y]! + 0.02 * random.normal());
    const found = linePattern([frame]);
    // What is smoother than 3 px across the lines is left to the scene, by design: a running Gaussian mean of σ = 3
    // keeps 1/(2√π·3) = 9 % of white variance, and takes as much off. 60 noise values of 20 mK average to 2.6 mK.
    const missed = robustSigma(Float64Array.from(columns, (c, x) => c - found.columnsK[x]!));
    expect(missed).toBeLessThan(0.4 * 0.2);
    const related = columns.reduce((sum, c, x) => sum + c * found.columnsK[x]!, 0);
    const own = columns.reduce((sum, c) => sum + c * c, 0);
    expect(related / own).toBeGreaterThan(0.7);
    expect(related / own).toBeLessThan(1.1);
    const rowsMissed = robustSigma(Float64Array.from(rows, (r, y) => r - found.rowsK[y]!));
    expect(rowsMissed).toBeLessThan(0.4 * 0.1);
  });

  it("the edge of a board along a column is not taken for the column's offset", () => {
    const random = makeRandom("edge");
    const frame = frameWith((x) => (x < 31 ? 24 : 26) + 0.02 * random.normal());
    const { columnsK } = linePattern([frame]);
    // Noise of 20 mK over 60 rows: 2.6 mK; seventy-eight columns stay within 4 σ.
    for (const offset of columnsK) expect(Math.abs(offset)).toBeLessThan(0.0105);
  });

  it("no readings: no offsets", () => {
    const { columnsK, rowsK } = linePattern([frameWith(() => Number.NaN)]);
    expect([...columnsK, ...rowsK].every((offset) => offset === 0)).toBe(true);
  });
});

describe("separatePattern", () => {
  const none = { columnsK: new Float64Array(128), rowsK: new Float64Array(96) };

  it("on an even scene all of the detail is pattern, and its size is stated", () => {
    const random = makeRandom("even scene");
    const data = Float32Array.from({ length: 128 * 96 }, () => 25 + 0.08 * random.normal());
    const { scene, pattern, patternSigmaK } = separatePattern(createRaster("degC", 128, 96, data), none);
    // A mean over 28 pixels keeps 1/√28 = 0.19 of white noise: so much is scene, and detail that passes for an edge by
    // chance.
    expect(robustSigma(pattern.data) / 0.08).toBeGreaterThan(0.8);
    expect(robustSigma(scene.data)).toBeLessThan(0.4 * 0.08);
    // A low quantile stands for the middle of a variance from 28 pixels that scatters by 27 %: within a fifth.
    expect(patternSigmaK / 0.08).toBeGreaterThan(0.8);
    expect(patternSigmaK / 0.08).toBeLessThan(1.2);
  });

  it("a board's edges stay with the scene", () => {
    const { baseline } = makePair({ seed: "scene", noiseK: 0.02 });
    const clean = makePair({ seed: "scene", noiseK: 0 }).baseline;
    const { scene } = separatePattern(baseline, none);
    // Away from edges the scene is smoothed and thus nearer to the truth than the frame; at edges it is the frame.
    let scenePower = 0;
    let framePower = 0;
    for (let i = 0; i < clean.data.length; i++) {
      scenePower += (scene.data[i]! - clean.data[i]!) ** 2;
      framePower += (baseline.data[i]! - clean.data[i]!) ** 2;
    }
    expect(scenePower).toBeLessThan(framePower);
  });

  it("column offsets given to it are pattern, wherever they are", () => {
    const columnsK = Float64Array.from({ length: 128 }, (_, x) => (x === 40 ? 0.5 : 0));
    const { baseline } = makePair({ seed: "column" });
    const plain = separatePattern(baseline, none);
    for (let y = 0; y < 96; y++) baseline.data[y * 128 + 40]! += 0.5;
    const striped = separatePattern(baseline, { columnsK, rowsK: none.rowsK });
    for (let i = 0; i < plain.scene.data.length; i++) {
      // Two roundings of single precision at 27 °C.
      expect(Math.abs(striped.scene.data[i]! - plain.scene.data[i]!)).toBeLessThan(2e-5);
    }
  });
});
