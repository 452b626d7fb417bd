import { expect, it } from "vitest";
import type { NoiseShare } from "../../../src/align/edge-samples.js";
import { NormalEquations, type RefineOptions } from "../../../src/align/normal-equations.js";
import { radians } from "../../../src/core/units.js";
import { makeRandom } from "../../simulate/random.js";

const STILL = { dxPx: 0, dyPx: 0, angleRad: radians(0) };

function pullOf(patternK2: number, pixelK2: number, noiseShare: NoiseShare | null): number {
  const options: RefineOptions = {
    noiseK: 0.05,
    patternK2,
    pixelK2,
    fineSigmaPx: 1.5,
    misfitPx: [0.1],
    drawnMisfitPx: 0,
    noiseShare,
    broughtBack: STILL,
    distrustSurroundings: true,
    maxIterations: 1,
    settledPx: 0.01,
    priorShiftPx: 10,
    priorAngleRad: 0.03,
  };
  return new NormalEquations(120, 90).numbersAt(STILL, 0.1, options).pull;
}

it.each([0.2, 0.6, 1])(
  "where noise and pattern are taken for edges the pull is that of the pattern's part in them (%f of the variance)",
  (ofPattern) => {
    // Slopes of pattern and noise are Gaussian along x and y; taken are those whose sum is steep. Known answer: squared
    // slopes of the pattern there ÷ everywhere.
    const random = makeRandom(`pull ${ofPattern}`);
    const draw = (variance: number): number => Math.sqrt(variance) * random.normal();
    let [taken, together, pattern] = [0, 0, 0];
    for (let k = 0; k < 200_000; k++) {
      const [px, py] = [draw(ofPattern), draw(ofPattern)];
      const [x, y] = [px + draw(1 - ofPattern), py + draw(1 - ofPattern)];
      if (x * x + y * y < 8) continue;
      taken++;
      together += (x * x + y * y) / 2;
      pattern += (px * px + py * py) / (2 * ofPattern);
    }
    const share = { ofGates: 1, ofSlopes: 1, steeper: together / taken };
    const ratio = pullOf(0.01 * ofPattern, 0.01, share) / pullOf(0.01 * ofPattern, 0.01, null);
    // Some 3,700 are taken, so that the mean of their squared slopes is sure to 2 %.
    expect(ratio).toBeGreaterThan(0.92 * (pattern / taken));
    expect(ratio).toBeLessThan(1.08 * (pattern / taken));
  },
);
