import { describe, expect, it } from "vitest";
import { alignFrames } from "../../../src/align/align-frames.js";
import { createRaster } from "../../../src/core/raster.js";
import { degreesFromRadians } from "../../../src/core/units.js";
import { makeRandom } from "../../simulate/random.js";
import { makePair, type PairRecipe, STILL_BOARD } from "./make-pair.js";

/** Nudges as hands make them: a few pixels, a fraction of a degree. */
const NUDGES = [
  [2.4, -1.32, 0],
  [-3.7, 2.6, 0.4],
  [0.35, 0.8, -0.6],
  [6.2, -4.4, 0.2],
  [-8.1, 3.3, -0.3],
  [1.5, -7.2, 1],
  [-0.5, 0.25, 0.1],
  [4.4, -5.5, -1],
] as const;

interface Trial {
  readonly errorPx: number;
  readonly statedPx: number;
  readonly trusted: boolean;
  readonly found: readonly [number, number];
  readonly truth: readonly [number, number];
}

/** Root mean square displacement error over the frame against what the alignment states. */
function tryNudges(recipe: Partial<PairRecipe>): Trial[] {
  const { width, height } = STILL_BOARD;
  return NUDGES.map(([dxPx, dyPx, rotationDeg], k) => {
    const pair = makePair({ ...recipe, seed: `nudge ${k}`, dxPx, dyPx, rotationDeg });
    const { transform, uncertaintyPx, trusted } = alignFrames(pair.baseline, pair.powered);
    const turn = ((degreesFromRadians(transform.angleRad) - rotationDeg) * Math.PI) / 180;
    const arm = Math.hypot(width, height) / Math.sqrt(12);
    return {
      errorPx: Math.hypot(transform.dxPx - dxPx, transform.dyPx - dyPx, turn * arm),
      statedPx: uncertaintyPx,
      trusted,
      found: [transform.dxPx, transform.dyPx],
      truth: [dxPx, dyPx],
    };
  });
}

describe("alignFrames on boards of rectangles", () => {
  // A board of 1 K contrast under 30 mK of noise: an edge of some 400 px length and 1.1 px blur places itself to a few
  // hundredths of a pixel at worst. Heat, drift and pattern may cost a multiple of that; 0.3 px is where a rise of
  // edges would begin to look like heat (0.3 px × 0.35 K/px = 0.1 K).
  it.each([
    ["plain", {}, 0.1],
    ["a spot of 20 K and a drift of 0.4 K", { spotK: 20, driftK: 0.4 }, 0.1],
    ["a sensor pattern of 50 mK", { patternK: 0.05, columnsK: 0.05 }, 0.15],
    ["spot, drift and pattern together", { spotK: 20, driftK: -0.3, patternK: 0.05, columnsK: 0.05 }, 0.15],
    ["a fifth of the contrast", { contrastK: 0.2 }, 0.3],
  ] as const)("%s: every nudge is found", (_, recipe, limitPx) => {
    const trials = tryNudges(recipe);
    for (const { errorPx, trusted } of trials) {
      expect(trusted).toBe(true);
      expect(errorPx).toBeLessThan(limitPx);
    }
    // The stated uncertainty is a root mean square over three parameters: over 24 of them its ratio to the scatter
    // has a standard error of 14 %. Up to 2.5 is let pass: boards of a few straight edges have fewer independent
    // pieces than the blocks the scatter is taken over, so that what is stated is known to be low.
    const ratio = Math.sqrt(
      trials.reduce((sum, t) => sum + (t.errorPx / t.statedPx) ** 2, 0) / trials.length,
    );
    expect(ratio).toBeGreaterThan(0.3);
    expect(ratio).toBeLessThan(2.5);
  });

  it("a strong pattern that stays with the sensor does not hold the answer at zero", () => {
    // Pattern and columns of 0.2 K each against edges of 1 K; a correlation that took them for the board would
    // answer zero. The slope of found on true is 1 without a pull.
    const trials = tryNudges({ patternK: 0.2, columnsK: 0.2 });
    let product = 0;
    let square = 0;
    for (const { found, truth } of trials) {
      for (const axis of [0, 1] as const) {
        product += found[axis] * truth[axis];
        square += truth[axis] ** 2;
      }
    }
    // Errors of 0.2 px on shifts whose squares sum to 19² px² leave the slope to 0.01.
    expect(Math.abs(product / square - 1)).toBeLessThan(0.03);
  });

  it("small nudges against a pattern: no pull either", () => {
    const errors = [0.3, 0.6, 1, 1.5].map((dxPx) => {
      const pair = makePair({ seed: `small ${dxPx}`, dxPx, dyPx: -0.5 * dxPx, patternK: 0.1, columnsK: 0.1 });
      const { transform } = alignFrames(pair.baseline, pair.powered);
      return Math.hypot(transform.dxPx - dxPx, transform.dyPx + 0.5 * dxPx);
    });
    // A pull of a tenth of the shift would be 0.17 px at the largest.
    for (const error of errors) expect(error).toBeLessThan(0.15);
  });

  it("a still board is still", () => {
    const { baseline, powered } = makePair({ seed: "still", patternK: 0.1, columnsK: 0.05 });
    const found = alignFrames(baseline, powered);
    // An edge places itself to a few hundredths, as above; a pattern that held the answer would hold it here unseen.
    expect(Math.hypot(found.transform.dxPx, found.transform.dyPx)).toBeLessThan(0.05);
  });

  it("the other way round gives the opposite movement", () => {
    const { baseline, powered } = makePair({ seed: "forth and back", dxPx: 3.3, dyPx: -1.7 });
    const forth = alignFrames(baseline, powered).transform;
    const back = alignFrames(powered, baseline).transform;
    // Two answers, each good to some hundredths.
    expect(Math.abs(forth.dxPx + back.dxPx)).toBeLessThan(0.1);
    expect(Math.abs(forth.dyPx + back.dyPx)).toBeLessThan(0.1);
  });

  it.each([2, 6])("a board that warmed unevenly by up to %i K does not draw the answer away", (warmK) => {
    // The edges of parts change by up to 0.3 of the warming, against a contrast of 0.4 to 1 K: many change their sign.
    NUDGES.forEach(([dxPx, dyPx, rotationDeg], k) => {
      const pair = makePair({ seed: `nudge ${k}`, dxPx, dyPx, rotationDeg, warmK });
      const found = alignFrames(pair.baseline, pair.powered, null, pair.emissivity);
      expect(found.trusted).toBe(true);
      // As for a fifth of the contrast above: heat leaves a share of the edges to go by.
      expect(Math.hypot(found.transform.dxPx - dxPx, found.transform.dyPx - dyPx)).toBeLessThan(0.3);
    });
  });

  it("a bench with structure of its own, which stays where it was, does not hold a nudged board", () => {
    const { width, height } = STILL_BOARD;
    NUDGES.forEach(([dxPx, dyPx, rotationDeg], k) => {
      const pair = makePair({ seed: `nudge ${k}`, dxPx, dyPx, rotationDeg, contrastK: 0.4 });
      const beside = new Uint8Array(width * height);
      for (let y = 0; y < height; y++) {
        for (let x = 0; x < width; x++) {
          // The board of `makePair`, and 6 px around it.
          const off = Math.max(0.13 * width - x, x - 0.84 * width, 0.17 * height - y, y - 0.81 * height);
          if (off <= 6) continue;
          const i = y * width + x;
          beside[i] = 1;
          const printK = 0.4 * Math.sin(0.5 * x + 0.3 * y) * Math.sin(0.4 * y);
          pair.baseline.data[i]! += printK;
          pair.powered.data[i]! += printK;
        }
      }
      const found = alignFrames(pair.baseline, pair.powered, null, null, beside);
      expect(found.trusted).toBe(true);
      // As for a fifth of the contrast above.
      expect(Math.hypot(found.transform.dxPx - dxPx, found.transform.dyPx - dyPx)).toBeLessThan(0.3);
    });
  });

  it("mirrors that change are no guide where they are named", () => {
    const pair = makePair({ seed: "mirror", dxPx: 1.4, dyPx: 0.9 });
    const { width, height } = STILL_BOARD;
    const unreliable = new Uint8Array(width * height);
    // A shiny can with a reflection of something else in each frame.
    for (let y = 30; y < 62; y++) {
      for (let x = 40; x < 84; x++) {
        const i = y * width + x;
        unreliable[i] = 1;
        pair.baseline.data[i]! += 4 * Math.sin(0.5 * x);
        pair.powered.data[i]! += 4 * Math.sin(0.5 * (x + 5));
      }
    }
    const found = alignFrames(pair.baseline, pair.powered, unreliable);
    expect(found.trusted).toBe(true);
    expect(Math.hypot(found.transform.dxPx - 1.4, found.transform.dyPx - 0.9)).toBeLessThan(0.15);
  });
});

describe("alignFrames where there is nothing to go by", () => {
  const uniform = (seed: string, width = 128, height = 96) => {
    const random = makeRandom(seed);
    const data = Float32Array.from({ length: width * height }, () => 25 + 0.04 * random.normal());
    return createRaster("degC", width, height, data);
  };

  it("uniform scenes with noise alone: not trusted, and the transform is zero", () => {
    let trusted = 0;
    for (let k = 0; k < 12; k++) {
      const found = alignFrames(uniform(`before ${k}`), uniform(`after ${k}`));
      if (found.trusted) trusted++;
      else expect(found.transform).toEqual({ dxPx: 0, dyPx: 0, angleRad: 0 });
    }
    expect(trusted).toBe(0);
  });

  it.each([
    [1, 1],
    [3, 2],
    [2, 9],
    [8, 7],
  ])("%i×%i pixels: no answer, but no exception", (width, height) => {
    const found = alignFrames(uniform("a", width, height), uniform("b", width, height));
    expect(found.transform).toEqual({ dxPx: 0, dyPx: 0, angleRad: 0 });
    expect(found.trusted).toBe(false);
  });

  it("small ones neither, where few edge pixels of noise are alike somewhere within reach: none of 150", () => {
    const [width, height] = [72, 54];
    const frame = (seed: string) => {
      const random = makeRandom(seed);
      return createRaster(
        "degC",
        width,
        height,
        Float32Array.from({ length: width * height }, () => 24 + 0.035 * random.normal()),
      );
    };
    const trusted = Array.from(
      { length: 150 },
      (_, k) => alignFrames(frame(`small before ${k}`), frame(`small after ${k}`)).trusted,
    );
    expect(trusted.filter(Boolean)).toEqual([]);
  });

  it("constant frames and frames without a reading: not trusted", () => {
    for (const value of [25, Number.NaN]) {
      const frame = createRaster("degC", 40, 30, new Float32Array(1200).fill(value));
      const found = alignFrames(frame, frame);
      expect(found.trusted).toBe(false);
      expect(found.transform).toEqual({ dxPx: 0, dyPx: 0, angleRad: 0 });
    }
  });
});

describe("alignFrames as a function", () => {
  it("leaves its input alone, gives equal answers, and its two parts of the baseline sum to it", () => {
    const { baseline, powered } = makePair({ seed: "pure", dxPx: 2, dyPx: -3, patternK: 0.1 });
    baseline.data[777] = Number.NaN;
    const before = [Float32Array.from(baseline.data), Float32Array.from(powered.data)];
    const first = alignFrames(baseline, powered);
    const second = alignFrames(baseline, powered);
    expect([baseline.data, powered.data]).toEqual(before);
    expect(second).toEqual(first);
    const { scene, pattern } = first.separated;
    for (let i = 0; i < baseline.data.length; i++) {
      const sum = scene.data[i]! + pattern.data[i]!;
      if (i === 777) expect(sum).toBeNaN();
      // Two roundings of single precision at 27 °C: 4e-6.
      else expect(Math.abs(sum - baseline.data[i]!)).toBeLessThan(1e-5);
    }
  });
});
