import { describe, expect, it } from "vitest";
import { movePoint } from "../../../src/align/rigid-transform.js";
import { createRaster } from "../../../src/core/raster.js";
import { framePoint, radians } from "../../../src/core/units.js";
import { applyKernel, kernelNoise, spotKernel } from "../../../src/rise/spot-kernel.js";
import { timeCourse, type WeighedBurst } from "../../../src/rise/time-course.js";
import { weighFrames } from "../../../src/rise/weigh-frames.js";
import { makeRandom } from "../../simulate/random.js";

const [width, height] = [80, 60];
const spotAt = (x: number, y: number, sigma: number) =>
  Float32Array.from({ length: width * height }, (_, i) =>
    Math.exp(-(((i % width) - x) ** 2 + (Math.floor(i / width) - y) ** 2) / (2 * sigma ** 2)),
  );

describe("spotKernel", () => {
  const kernel = spotKernel(framePoint(31.3, 24.8), 2.3, width, height, () => true)!;

  it("gives the peak of a spot of its own width, and nothing of a level", () => {
    // Pixels of 1 px under a spot of 2.3 px: sums differ from integrals by less than a thousandth, the cut at 3σ of the
    // surroundings by a hundredth.
    expect(applyKernel(kernel, spotAt(31.3, 24.8, 2.3))).toBeCloseTo(1, 1);
    expect(applyKernel(kernel, new Float32Array(width * height).fill(23))).toBeCloseTo(0, 5);
  });

  it("a slope cancels, and a broad rise nearly so", () => {
    const slope = Float32Array.from({ length: width * height }, (_, i) => 0.1 * (i % width));
    // Pixels lie unevenly about a centre between them: a hundredth of a pixel of both means, at 0.1 K/px, ÷ 0.3.
    expect(Math.abs(applyKernel(kernel, slope))).toBeLessThan(0.01);
    // A spot of 20 px keeps 2.3²-fold differences only: 1/(1 + (2.3/20)²) − 1/(1 + (4.6/20)²) = 0.037, ÷ 0.3.
    expect(applyKernel(kernel, spotAt(31.3, 24.8, 20))).toBeLessThan(0.13);
  });

  it("states its noise: √Σw²σ²", () => {
    const random = makeRandom("kernel noise");
    const noise = kernelNoise(kernel, () => 0.05);
    const values = Array.from({ length: 400 }, () =>
      applyKernel(
        kernel,
        Float32Array.from({ length: width * height }, () => 0.05 * random.normal()),
      ),
    );
    const rms = Math.sqrt(values.reduce((a, b) => a + b * b, 0) / 400);
    // 400 draws: ±3.5 %, at three of these.
    expect(rms / noise).toBeGreaterThan(0.89);
    expect(rms / noise).toBeLessThan(1.11);
  });

  it("leaves unusable pixels out, and gives up where most of the spot is gone", () => {
    const hot = new Set([24 * width + 31, 25 * width + 32]);
    const holed = spotKernel(framePoint(31.3, 24.8), 2.3, width, height, (i) => !hot.has(i))!;
    const picture = spotAt(31.3, 24.8, 2.3);
    for (const i of hot) picture[i] = 99;
    // The two are at the top and 2/(2π·2.3²) = 6 % of the weights; with them a reading of 99 would show.
    expect(applyKernel(holed, picture)).toBeGreaterThan(0.85);
    expect(applyKernel(holed, picture)).toBeLessThan(1.05);
    expect(spotKernel(framePoint(-4, 20), 2.3, width, height, () => true)).toBeNull();
  });
});

describe("timeCourse", () => {
  const transform = { dxPx: 1.6, dyPx: -2.3, angleRad: radians(-0.02) };
  const at = framePoint(44.4, 27.1);
  const heights = [0, 0.5, 1.2, 1.7, 2];
  const sigmaK = 0.04;

  function burst(): { burst: WeighedBurst; rise: ReturnType<typeof createRaster<"K">> } {
    const random = makeRandom("course");
    const size = { width, height };
    const [x, y] = movePoint(at, transform, size);
    const spot = spotAt(x, y, 2.1);
    const frames = heights.map((top, k) =>
      createRaster(
        "degC",
        width,
        height,
        spot.map((share) => 22 + 0.2 * k + top * share + sigmaK * random.normal()),
      ),
    );
    const weights = Float64Array.of(0, 0.1, 0.2, 0.3, 0.4);
    const offsets = [0, 0.2, 0.4, 0.6, 0.8];
    const weighted = heights.reduce((sum, top, k) => sum + weights[k]! * top, 0);
    const rise = createRaster(
      "K",
      width,
      height,
      spotAt(at[0], at[1], 2.1).map((share) => weighted * share),
    );
    return {
      rise,
      burst: {
        frames,
        timesS: Float64Array.of(0.25, 0.75, 1.25, 1.75, 2.25),
        weights,
        mean: weighFrames(frames, weights, offsets),
        bad: new Uint8Array(width * height),
        pixelSigmaK: sigmaK,
        sensorSigma: null,
      },
    };
  }

  it("heights frame by frame, though the board had moved and the level wanders", () => {
    const { burst: one, rise } = burst();
    const course = timeCourse(one, rise, at, 2.1, transform)!;
    expect([...course.timesS]).toEqual([0.25, 0.75, 1.25, 1.75, 2.25]);
    heights.forEach((top, k) => {
      // Four times the stated noise, and a hundredth of the height for the kernel's cut.
      expect(Math.abs(course.riseK[k]! - top)).toBeLessThan(4 * course.sigmaK[k]! + 0.03);
    });
    // Σw² of two Gaussians of 2.1 and 4.2 px ÷ 0.3: √0.45/(2√π·2.1)/0.3 = 0.30 of a pixel's noise.
    expect(course.sigmaK[0]! / sigmaK).toBeGreaterThan(0.27);
    expect(course.sigmaK[0]! / sigmaK).toBeLessThan(0.33);
  });

  it("the noise of single pixels where it is known", () => {
    const { burst: one, rise } = burst();
    const sensorSigma = createRaster("K", width, height, new Float32Array(width * height).fill(0.08));
    sensorSigma.data[25 * width + 53] = Number.NaN;
    const course = timeCourse({ ...one, sensorSigma }, rise, at, 2.1, transform)!;
    expect(course.sigmaK[0]! / timeCourse(one, rise, at, 2.1, transform)!.sigmaK[0]!).toBeCloseTo(2, 1);
  });

  it("a spot that has left the frame: null", () => {
    const { burst: one, rise } = burst();
    expect(timeCourse(one, rise, framePoint(-6, 3), 2, transform)).toBeNull();
  });
});
