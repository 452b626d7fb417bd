import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { radians } from "../../../src/core/units.js";
import { temporalComponent } from "../../../src/rise/temporal-component.js";
import { weighFrames } from "../../../src/rise/weigh-frames.js";
import { makeRandom } from "../../simulate/random.js";

const [width, height] = [90, 64];
const angleRad = radians(0.03);
const transform = { dxPx: 2.4, dyPx: -1.7, angleRad };
/** Heat in five frames; they average 2. */
const shown = [0.5, 1.5, 2, 2.6, 3.4];

const gaussian = (x: number, y: number) => (i: number) =>
  Math.exp(-(((i % width) - x) ** 2 + (Math.floor(i / width) - y) ** 2) / (2 * 2.1 ** 2));

/** Where the baseline's (30, 20) stands in the powered frames. */
function moved(): [number, number] {
  const [cx, cy] = [(width - 1) / 2, (height - 1) / 2];
  const [u, v] = [30 - cx, 20 - cy];
  const [c, s] = [Math.cos(angleRad), Math.sin(angleRad)];
  return [cx + c * u - s * v + transform.dxPx, cy + s * u + c * v + transform.dyPx];
}

function look(frameNoise: number, change: (frame: Float32Array, k: number) => void = () => {}) {
  const random = makeRandom("component");
  const place = gaussian(...moved());
  const frames = shown.map((top, k) => {
    const data = Float32Array.from(
      { length: width * height },
      (_, i) => 24 + 0.3 * k + top * place(i) + frameNoise * random.normal(),
    );
    change(data, k);
    return createRaster("degC", width, height, data);
  });
  const shares = new Float64Array(5).fill(0.2);
  const offsets = [0, 0.3, 0.6, 0.9, 1.2];
  const bad = new Uint8Array(width * height);
  bad[31 * width + 40] = 1;
  const inBaseline = gaussian(30, 20);
  const rise = createRaster(
    "K",
    width,
    height,
    Float32Array.from({ length: width * height }, (_, i) => 2 * inBaseline(i) + 0.02 * random.normal()),
  );
  const mean = weighFrames(frames, shares, offsets);
  return temporalComponent(
    { frames, shares, mean, bad, pixelSigmaK: frameNoise },
    { rise, gradient: new Float32Array(width * height), shiftPx: 0.1, transform },
  );
}

describe("temporalComponent", () => {
  it("follows the heat though the board moved since the baseline and the level wanders", () => {
    const growth = look(0.02)!;
    // The picture is read between pixels where the board moved: a hundredth of the heat is lost or gained.
    shown.forEach((top, k) => {
      expect(growth.heights[k]).toBeCloseTo(top / 2, 1);
    });
    expect(growth.heights.reduce((a, b) => a + b, 0) / 5).toBeCloseTo(1, 9);
  });

  it("states the noise of a height as it scatters", () => {
    const clean = look(1e-6)!.heights;
    const noisy = look(0.3)!;
    const z = noisy.heights.map((height, k) => (height - clean[k]!) / noisy.sigma);
    // Five heights with one sum fixed: χ² with 4 degrees of freedom is below 18.5 in 999 of 1000.
    expect(z.reduce((a, b) => a + b * b, 0)).toBeLessThan(18.5);
    expect(noisy.sigma).toBeGreaterThan(0);
  });

  it("a faulty pixel and a missing reading take no part", () => {
    const plain = look(0.02)!.heights;
    const faulty = look(0.02, (frame, k) => {
      frame[31 * width + 40] = k === 2 ? 90 : 24;
      if (k === 3) frame[22 * width + 33] = Number.NaN;
    })!.heights;
    plain.forEach((height, k) => {
      // One of some hundred pixels of the spot is gone in one frame.
      expect(Math.abs(faulty[k]! - height)).toBeLessThan(0.05);
    });
  });

  it("no heat: null", () => {
    const frames = shown.map(() => createRaster("degC", width, height));
    const shares = new Float64Array(5).fill(0.2);
    const flat = createRaster("K", width, height);
    const random = makeRandom("flat");
    for (let i = 0; i < flat.data.length; i++) flat.data[i] = 0.05 * random.normal();
    const stack = {
      frames,
      shares,
      mean: frames[0]!,
      bad: new Uint8Array(width * height),
      pixelSigmaK: 0.05,
    };
    const seen = { rise: flat, gradient: new Float32Array(width * height), shiftPx: 0.1, transform };
    expect(temporalComponent(stack, seen)).toBeNull();
  });
});
