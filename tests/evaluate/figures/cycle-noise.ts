// evaluate: frames of noise with a rhythm asked for that is not there → the noise of the amplitude, ÷ √(2/N)·σ.
import { makeRandom } from "../../simulate/random.js";
import { randomPattern, smoothField } from "../../simulate/sensor.js";
import { estimateFigure, type Figure } from "../figure.js";
import { Z95 } from "../statistics.js";
import { type Analyse, asFrame, type MeasuredFrame } from "../tool-chain.js";
import type { SpecialFigure, TrialValues } from "./special.js";

const WIDTH = 48;
const HEIGHT = 36;
const FRAMES = 1000;
/** White noise of a pixel, as measured on an uncooled array, K. */
const NOISE_K = 0.037;
const RATE_HZ = 10;

export const CYCLE_NOISE: SpecialFigure = {
  name: "cycle-noise",
  trials: 8,
  run: runTrial,
  summarise,
};

/** White noise on a fixed pattern of 0.15 K, under a common offset that wanders by 20 mK a frame and a slow smooth
 *  drift. */
async function runTrial(analyse: Analyse, index: number, seed: number): Promise<TrialValues> {
  const random = makeRandom(`cycle noise/${seed}/${index}`);
  const pattern = randomPattern(random, WIDTH, HEIGHT, 0.15);
  const drift = smoothField(random, 0.05);
  const cycleS = random.uniform(2, 10);
  let offsetK = 0;
  const frameAt = (share: number): MeasuredFrame => {
    offsetK += 0.02 * random.normal();
    const data = new Float32Array(WIDTH * HEIGHT);
    for (let y = 0, k = 0; y < HEIGHT; y++) {
      for (let x = 0; x < WIDTH; x++, k++) {
        const still = 24 + pattern[k]! + offsetK + share * drift(x / WIDTH, y / HEIGHT);
        data[k] = still + NOISE_K * random.normal();
      }
    }
    return asFrame({ unit: "degC", width: WIDTH, height: HEIGHT, data }, 0);
  };
  const baseline = [frameAt(0)];
  const powered = Array.from({ length: FRAMES }, (_, i) => frameAt(i / FRAMES));
  const { findings } = analyse({ baseline, powered, rateHz: RATE_HZ, cycleS });
  const values = await amplitudes(powered, cycleS * RATE_HZ);
  let sum = 0;
  let square = 0;
  let count = 0;
  for (const value of values) {
    if (!Number.isFinite(value)) continue;
    sum += value;
    square += value * value;
    count++;
  }
  const mean = sum / count;
  const noiseK = Math.sqrt(square / count - mean * mean);
  return {
    ratio: noiseK / (NOISE_K * Math.sqrt(2 / FRAMES)),
    pixels: count,
    hotspots: findings.hotspots.length,
  };
}

/** Both amplitudes of every pixel before anything is smoothed: later stages move the picture between pixels, which
 *  would flatter the noise.
 */
async function amplitudes(frames: readonly MeasuredFrame[], periodFrames: number): Promise<number[]> {
  const { demodulateCycle } = await import("../../../src/rise/demodulate-cycle.js");
  const { cycleBasis } = await import("../../../src/rise/cycle-basis.js");
  const { frameLevels } = await import("../../../src/rise/frame-levels.js");
  const rasters = frames.map((one) => one.raster);
  const { cosine, sine } = demodulateCycle(
    rasters,
    frameLevels(rasters, null),
    cycleBasis(rasters.length, periodFrames),
  );
  return [...cosine.data, ...sine.data];
}

function summarise(trials: readonly TrialValues[]): Figure[] {
  const ratios = trials.flatMap(({ ratio }) => (typeof ratio === "number" ? [ratio] : []));
  const pixels = trials.reduce(
    (sum, trial) => sum + (typeof trial.pixels === "number" ? trial.pixels : 0),
    0,
  );
  const hot = trials.filter((trial) => typeof trial.hotspots === "number" && trial.hotspots > 0).length;
  const value = Math.sqrt(ratios.reduce((sum, one) => sum + one * one, 0) / ratios.length);
  const half = Z95 / Math.sqrt(2 * pixels);
  const estimate =
    ratios.length === 0 ? null : { value, low: value * (1 - half), high: value * (1 + half), of: pixels };
  const figure = estimateFigure(
    "switched supply: noise of the amplitude ÷ √(2/N)·σ, 1000 frames",
    estimate,
    { unit: "", digits: 3 },
    { atMost: 1.2 },
    { atMost: 1.1 },
  );
  return [{ ...figure, remark: `hotspots in ${hot} of ${ratios.length} runs` }];
}
