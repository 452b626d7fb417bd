import { afterEach, describe, expect, it } from "vitest";
import { affineOf } from "../../../src/align/rigid-transform.js";
import type { SeparatedFrame } from "../../../src/align/separate-pattern.js";
import { ToolError } from "../../../src/core/errors.js";
import { createRaster } from "../../../src/core/raster.js";
import { radians } from "../../../src/core/units.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { subtractPixels } from "../../../src/numeric/pixel-arithmetic.js";
import { warpRaster } from "../../../src/numeric/warp.js";
import { subtractFrames } from "../../../src/rise/subtract-frames.js";
import { makeRandom } from "../../simulate/random.js";
import { agreed } from "../numeric/both-ways.js";

const width = 24;
const height = 18;
const still = { dxPx: 0, dyPx: 0, angleRad: radians(0) };

function separated(sceneAt: (x: number, y: number) => number, patternK: number): SeparatedFrame {
  const random = makeRandom("pattern");
  const scene = createRaster("degC", width, height);
  const pattern = createRaster("K", width, height);
  for (let i = 0; i < scene.data.length; i++) {
    scene.data[i] = sceneAt(i % width, Math.floor(i / width));
    pattern.data[i] = patternK * random.normal();
  }
  return { scene, pattern, sceneShare: new Float32Array(width * height), patternSigmaK: patternK };
}

const hills = (x: number, y: number) => 25 + 2 * Math.sin(0.35 * x + 0.2) * Math.cos(0.3 * y);

afterEach(() => useKernels(true));

describe("subtractFrames", () => {
  it("gives the same bits with the kernels and by the plain code, moved or not, and keeps them when it is asked again", () => {
    const baseline = separated(hills, 0.2);
    const powered = createRaster(
      "degC",
      width,
      height,
      baseline.scene.data.map((v, i) => v + Math.sin(i)),
    );
    const moved = { dxPx: 1.3, dyPx: -0.6, angleRad: radians(0.02) };
    const plain = agreed(() =>
      [moved, still].map((transform) => subtractFrames(baseline, powered, transform).data),
    );
    // In both ways what is moved is read by splines: a plain difference of these hills would be off by more.
    expect(
      Math.max(...plain[0]!.map((v, i) => (Number.isNaN(v) ? 0 : Math.abs(v - plain[1]![i]!)))),
    ).toBeGreaterThan(0.1);
    const cubic = warpRaster(
      subtractPixels(powered.data, baseline.pattern.data),
      width,
      height,
      affineOf(moved, baseline.scene),
      {},
    );
    const byCubic = subtractPixels(cubic, baseline.scene.data);
    expect(plain[0]).not.toEqual(byCubic);
  });

  it("puts the result where a picture is that nobody needs any more, if that is wanted", () => {
    const baseline = separated(hills, 0.2);
    const powered = createRaster("degC", width, height, baseline.scene.data.map(Math.sin));
    const wanted = subtractFrames(baseline, powered, still);
    const places = [new Float32Array(width * height), new Float32Array(width * height)];
    for (const [k, kernels] of [true, false].entries()) {
      useKernels(kernels);
      const rise = subtractFrames(baseline, powered, still, places[k]);
      expect(rise.data).toBe(places[k]);
      expect(rise).toEqual(wanted);
    }
  });

  it("without movement: the plain difference, pixel by pixel", () => {
    const baseline = separated(hills, 0.2);
    const random = makeRandom("powered");
    const powered = createRaster(
      "degC",
      width,
      height,
      Float32Array.from(baseline.scene.data, (v) => v + random.uniform(-1, 7)),
    );
    const rise = subtractFrames(baseline, powered, still);
    expect(rise).toMatchObject({ unit: "K", width, height });
    for (let i = 0; i < rise.data.length; i++) {
      const plain = powered.data[i]! - (baseline.scene.data[i]! + baseline.pattern.data[i]!);
      // Three roundings of single precision at 30 °C.
      expect(Math.abs(rise.data[i]! - plain)).toBeLessThan(1e-5);
    }
  });

  it("after a move the pattern is taken off where the sensor has it, the scene where the board is", () => {
    const baseline = separated(hills, 0.3);
    const powered = createRaster("degC", width, height);
    for (let i = 0; i < powered.data.length; i++) {
      // The board went 3 px right and 2 px up and warmed by 1.5 K; the sensor stayed.
      powered.data[i] = hills((i % width) - 3, Math.floor(i / width) + 2) + baseline.pattern.data[i]! + 1.5;
    }
    const rise = subtractFrames(baseline, powered, { dxPx: 3, dyPx: -2, angleRad: radians(0) });
    let seen = 0;
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const value = rise.data[y * width + x]!;
        if (x + 3 > width - 1 || y - 2 < 0) {
          expect(value, `content of (${x}, ${y}) left the frame`).toBeNaN();
          continue;
        }
        seen++;
        // Whole pixels: an interpolation gives the values themselves, to single precision.
        expect(Math.abs(value - 1.5)).toBeLessThan(1e-4);
      }
    }
    expect(seen).toBe((width - 3) * (height - 2));
  });

  it.each([
    [3, 0],
    [0, -2],
    [-4, 0],
    [0, 5],
  ])("after a move of %i px right and %i px down along one axis alone as well", (dx, dy) => {
    const baseline = separated(hills, 0.3);
    const powered = createRaster("degC", width, height);
    for (let i = 0; i < powered.data.length; i++)
      powered.data[i] = hills((i % width) - dx, Math.floor(i / width) - dy) + baseline.pattern.data[i]! + 1.5;
    const rise = subtractFrames(baseline, powered, { dxPx: dx, dyPx: dy, angleRad: radians(0) });
    const values = [...rise.data].filter((value) => !Number.isNaN(value));
    expect(values).toHaveLength((width - Math.abs(dx)) * (height - Math.abs(dy)));
    // Whole pixels again.
    for (const value of values) expect(Math.abs(value - 1.5)).toBeLessThan(1e-4);
  });

  it("after a turn alone as well", () => {
    const baseline = separated(hills, 0);
    const angle = 0.02;
    const [cx, cy] = [(width - 1) / 2, (height - 1) / 2];
    const powered = createRaster("degC", width, height);
    for (let i = 0; i < powered.data.length; i++) {
      // Content turned clockwise as seen (y down) about the centre: what is here came from the place turned back.
      const [x, y] = [(i % width) - cx, Math.floor(i / width) - cy];
      powered.data[i] = hills(
        cx + Math.cos(angle) * x + Math.sin(angle) * y,
        cy - Math.sin(angle) * x + Math.cos(angle) * y,
      );
    }
    const rise = subtractFrames(baseline, powered, { dxPx: 0, dyPx: 0, angleRad: radians(angle) });
    for (let y = 4; y < height - 4; y++)
      for (let x = 4; x < width - 4; x++) expect(Math.abs(rise.data[y * width + x]!)).toBeLessThan(2e-3);
  });

  it("a fraction of a pixel on a smooth scene leaves next to nothing", () => {
    const baseline = separated(hills, 0);
    const powered = createRaster("degC", width, height);
    for (let i = 0; i < powered.data.length; i++) {
      powered.data[i] = hills((i % width) - 0.4, Math.floor(i / width) - 0.7);
    }
    const rise = subtractFrames(baseline, powered, { dxPx: 0.4, dyPx: 0.7, angleRad: radians(0) });
    // Cubic spline interpolation errs by about (k·h)⁴/384 of a wave's height: 2 K × 0.35⁴/384 = 0.1 mK; near the
    // border the spline knows less: only the inside is held to 2 mK.
    for (let y = 4; y < height - 4; y++) {
      for (let x = 4; x < width - 4; x++) expect(Math.abs(rise.data[y * width + x]!)).toBeLessThan(2e-3);
    }
  });

  it("a missing reading in either frame is missing in the rise, and nothing else is", () => {
    const baseline = separated(hills, 0.1);
    baseline.scene.data[50] = Number.NaN;
    const powered = createRaster(
      "degC",
      width,
      height,
      Float32Array.from(baseline.scene.data, () => 27),
    );
    powered.data[70] = Number.NaN;
    const missing = [...subtractFrames(baseline, powered, still).data].flatMap((v, i) =>
      Number.isNaN(v) ? [i] : [],
    );
    expect(missing).toEqual([50, 70]);
  });

  it.each([
    [width - 1, height],
    [width, height + 1],
  ])("a frame of %i×%i differs in one side alone: E_FRAME_SIZE", (w, h) => {
    const attempt = () => subtractFrames(separated(hills, 0), createRaster("degC", w, h), still);
    expect(attempt).toThrow(/^E_FRAME_SIZE: /);
  });

  it("frames of different size: E_FRAME_SIZE with both sizes", () => {
    const turned = createRaster("degC", height, width);
    const attempt = () => subtractFrames(separated(hills, 0), turned, still);
    expect(attempt).toThrow(ToolError);
    expect(attempt).toThrow(/^E_FRAME_SIZE: .*24×18.*18×24/);
  });
});
