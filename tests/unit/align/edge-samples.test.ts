import { describe, expect, it } from "vitest";
import { bandPass } from "../../../src/align/band-pass.js";
import { cellPicture } from "../../../src/align/cell-picture.js";
import { edgeSamples, findEdges } from "../../../src/align/edge-samples.js";
import { affineOf } from "../../../src/align/rigid-transform.js";
import { movingSamples, sampleMoving } from "../../../src/align/sample-moving.js";
import { Surroundings } from "../../../src/align/surroundings.js";
import { radians } from "../../../src/core/units.js";
import { warpRaster } from "../../../src/numeric/warp.js";
import { makeRandom } from "../../simulate/random.js";

const width = 64;
const height = 46;

/** A step of 1 K at column 30, under a little noise. */
function stepPicture(seed: string): Float32Array {
  const random = makeRandom(seed);
  const data = Float32Array.from(
    { length: width * height },
    (_, i) => (i % width < 30 ? 20 : 21) + 0.01 * random.normal(),
  );
  return bandPass(data, width, height, 1.5, 6);
}

describe("cellPicture", () => {
  it("averages cells, takes the lines off, cuts what is left over, and leaves out what is no guide", () => {
    const frame = { width: 7, height: 5, data: Float32Array.from({ length: 35 }, (_, i) => i) };
    const lines = {
      columnsK: Float64Array.from([1, 3, 0, 0, 0, 0, 9]),
      rowsK: Float64Array.from([0, 0, 2, 4, 0]),
    };
    const unreliable = new Uint8Array(35);
    unreliable[3 * 7 + 5] = 1;
    const cells = cellPicture(frame, 2, { lines, unreliable, reachPx: 1.5 });
    expect([cells.width, cells.height]).toEqual([3, 2]);
    // Cell (0, 0) holds 0, 1, 7, 8; column offsets of 1 and 3 average to 2. The rows of the second line have 2 and 4.
    expect([...cells.data.subarray(0, 4)]).toEqual([4 - 2, 6, 8, 18 - 2 - 3]);
    // Pixel (5, 3) lies in the last cell; 1.5 px are less than a cell, so that its neighbours stay.
    expect(cells.data[4]).toBe(20 - 3);
    expect(cells.data[5]).toBeNaN();
  });
});

describe("findEdges and edgeSamples", () => {
  it("are where the picture is steep, with its value and slopes", () => {
    const picture = stepPicture("steep");
    const edges = findEdges(picture, width, height);
    const samples = edgeSamples(edges, [picture], width);
    expect(samples.count).toBeGreaterThan(3 * (height - 2));
    for (let k = 0; k < samples.count; k++) {
      const i = samples.y[k]! * width + samples.x[k]!;
      expect(samples.shapes[0]!.value[k]).toBe(picture[i]);
      expect(samples.shapes[0]!.slopeX[k]).toBeCloseTo(0.5 * (picture[i + 1]! - picture[i - 1]!), 6);
      expect(edges.flat[i]).toBe(0);
    }
    // Of the pixels that count for more than half, all lie within the reach of the band-pass around the step.
    const strong = [...samples.gate.keys()].filter((k) => samples.gate[k]! > 0.5);
    expect(strong.length).toBeGreaterThan(height);
    for (const k of strong) expect(Math.abs(samples.x[k]! - 29.5)).toBeLessThan(15);
  });

  it("thinned: no more than asked for, each with its own values", () => {
    const picture = stepPicture("thin");
    const few = edgeSamples(findEdges(picture, width, height), [picture], width, 50);
    expect(few.count).toBeLessThanOrEqual(50);
    expect(few.count).toBeGreaterThan(25);
    for (let k = 0; k < few.count; k++) {
      expect(few.shapes[0]!.value[k]).toBe(picture[few.y[k]! * width + few.x[k]!]);
    }
  });
});

describe("sampleMoving", () => {
  it("reads what the resampled picture shows there, with its slopes", () => {
    const picture = stepPicture("read");
    const samples = edgeSamples(findEdges(picture, width, height), [picture], width);
    const matrix = affineOf({ dxPx: 1.3, dyPx: -0.7, angleRad: radians(0.02) }, { width, height });
    const seen = movingSamples(samples.count);
    sampleMoving(picture, width, height, samples, matrix, seen);
    const warped = warpRaster(picture, width, height, matrix, { order: "cubic" });
    let compared = 0;
    for (let k = 0; k < samples.count; k++) {
      if (Number.isNaN(seen.value[k]!)) continue;
      const i = samples.y[k]! * width + samples.x[k]!;
      compared++;
      // The same 16 pixels in another order of sums: single precision of values up to 0.5 K.
      expect(Math.abs(seen.value[k]! - warped[i]!)).toBeLessThan(1e-6);
      // A smooth picture's slope against its difference over two pixels: the third derivative of a step of 1 K blurred
      // to 1.5 px is 0.12 K/px³ (0.4/σ³), a sixth of which is the difference.
      const slope = 0.5 * (warped[i + 1]! - warped[i - 1]!);
      if (slope * 0 === 0) expect(Math.abs(seen.slopeX[k]! - slope)).toBeLessThan(0.03);
    }
    expect(compared).toBeGreaterThan(samples.count / 2);
  });
});

describe("Surroundings", () => {
  it("a level is high around differences and low far from them", () => {
    const picture = stepPicture("levels");
    const samples = edgeSamples(findEdges(picture, width, height), [picture], width);
    const residual = Float32Array.from({ length: samples.count }, (_, k) => (samples.y[k]! < 12 ? -3 : 0.1));
    const rows = [...samples.y.subarray(0, samples.count)];
    expect(rows.some((y) => y < 4) && rows.some((y) => y > 32)).toBe(true);
    const levels = new Surroundings(samples, width, height).levels(residual);
    for (let k = 0; k < samples.count; k++) {
      if (samples.y[k]! < 4) expect(levels[k]).toBeGreaterThan(2.5);
      if (samples.y[k]! > 32) expect(levels[k]).toBeCloseTo(0.1, 4);
    }
  });
});
