// findings: baseline and frames under a supply that goes on and off → the rise that follows it, with its noise.
import { alignFrames } from "../align/align-frames.js";
import { affineOf, isStill } from "../align/rigid-transform.js";
import { averageFrames } from "../clean/average-frames.js";
import { BAD_PIXEL, BAD_PIXEL_DEFAULTS, findBadPixels } from "../clean/find-bad-pixels.js";
import { findLonePixels } from "../clean/find-lone-pixels.js";
import { repairPixels } from "../clean/repair-pixels.js";
import { ToolError } from "../core/errors.js";
import { createRaster, type Raster } from "../core/raster.js";
import type { Frame } from "../frames/frame.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";
import { warpRaster } from "../numeric/warp.js";
import { checkCycleFrames, checkCyclePeriod } from "../rise/check-cycle.js";
import { cycleBasis } from "../rise/cycle-basis.js";
import { amplitudeThreshold, chanceOfPower } from "../rise/cycle-chance.js";
import { heatPhase } from "../rise/cycle-phase.js";
import {
  type CycleStrength,
  measureStrength,
  pixelAmplitudeNoise,
  type Quadratures,
} from "../rise/cycle-strength.js";
import { type Demodulated, demodulateCycle } from "../rise/demodulate-cycle.js";
import { findCycle, searchCycle } from "../rise/find-cycle.js";
import { frameLevels } from "../rise/frame-levels.js";
import { type ContrastLayer, reselsOf } from "../rise/local-contrast.js";
import { removeDrift } from "../rise/remove-drift.js";
import { subtractFrames } from "../rise/subtract-frames.js";
import type { AnalyseOptions, OnStage } from "./analyse-options.js";
import {
  checkSizes,
  coarsestStep,
  LEAST_NOISE_K,
  type PreparedPair,
  saturatedPixels,
} from "./prepare-pair.js";

/** A rhythm other than the one given is worth a word if noise makes it this seldom … */
const MOST_CHANCE_OTHER = 1e-4;
/** … and if it lies so many steps of 1/(frames) away: nearer ones keep most of their amplitude. */
const LEAST_AWAY = 0.4;

/** What is known of the rhythm, beside the pair. */
export interface PreparedCycle {
  readonly periodS: number;
  /** True if the period was looked for in the frames. */
  readonly found: boolean;
  readonly frames: number;
  /** Heat goes as cos(2πt/period − phase), t from the first powered frame; 0 … 360. */
  readonly phaseDeg: number;
  /** Chance that noise alone makes the strongest amplitude in the frame, whatever its phase; the periods tried and the
   *  places of the frame are counted. */
  readonly pValue: number;
  /** What is a quarter of a period behind the rise of the pair, K. */
  readonly quadrature: Raster<"K">;
  /** Noise of the amplitude of one pixel, K. */
  readonly amplitudeSigmaK: number;
  /** A stronger rhythm than the one given, s; null if there is none. */
  readonly otherPeriodS: number | null;
  /** Largest amplitude ÷ noise, whatever the phase, per pixel of the baseline's grid. */
  readonly strength: Raster<"sigma">;
  /** Phase of a pixel's own amplitude at the size that shows it best, degrees. */
  readonly phaseAtDeg: (pixel: number) => number;
  /** The chance, as `pValue`, for an amplitude of so many sigma. */
  readonly chanceOf: (strength: number) => number;
}

/** Demodulate, align, and measure the noise: what `preparePair` does for frames of two states.
 *  The rise of the result is the AMPLITUDE of the sine that follows the supply, in the phase of the strongest heat, K
 *  with sign: not the difference between on and off, which is larger (π/2 of it for a supply that is on for half the
 *  time and heat that follows at once). Its noise is √(2/N)·σ. The fixed pattern cancels by itself; the powered frames
 *  must belong to one camera position.
 *  @param cycleS period of one on and one off together, s, or "find".
 *  @param offBoard, mirrors, emissivity as for `preparePair`.
 *  @throws ToolError E_FRAME_SIZE, E_FRAME_NONE, E_FRAME_EMPTY as `preparePair`; E_CYCLE_RATE, E_CYCLE_FRAMES,
 *  E_CYCLE_PERIOD, E_CYCLE_NONE.
 */
export function prepareCycle(
  baselineFrames: readonly Frame[],
  poweredFrames: readonly Frame[],
  cycleS: number | "find",
  rateHzGiven: number | null,
  offBoard: Uint8Array | null,
  mirrors: Uint8Array | null,
  emissivity: Float32Array | null,
  options: AnalyseOptions,
  onStage: OnStage = () => {},
): PreparedPair & { readonly cycle: PreparedCycle } {
  checkSizes(baselineFrames, poweredFrames);
  const rateHz = checkCycleFrames(poweredFrames.length, rateHzGiven);
  if (cycleS !== "find") checkCyclePeriod(poweredFrames.length, rateHz, cycleS);
  const frames = poweredFrames.map((frame) => frame.raster);
  const found = cycleS === "find" ? findCycle(frames) : searchCycle(frames);
  const periodFrames = cycleS === "find" ? found!.periodFrames : cycleS * rateHz;
  const demodulated = demodulateCycle(
    frames,
    frameLevels(frames, offBoard),
    cycleBasis(frames.length, periodFrames),
  );
  const before = averageFrames(baselineFrames.map((frame) => frame.raster));
  const stepK = coarsestStep([...baselineFrames, ...poweredFrames]);
  const badPixels = findBadPixels(before.mean, demodulated.mean, {
    stepK,
    temporal: [before, { sigma: demodulated.sigma, frameCount: frames.length }],
  });
  const lone = markLone(badPixels.mask, demodulated);
  const mask = lone.mask;
  const [baseline, powered] = repairPixels([before.mean, demodulated.mean], mask).frames;
  onStage("clean");
  const alignment = alignFrames(baseline!, powered!, mirrors, emissivity, offBoard);
  onStage("align");
  const { transform, separated } = alignment;
  const { width, height } = baseline!;
  const back = (raster: Raster<"K">): Raster<"K"> => {
    const { data } = repairPixels([raster], mask).frames[0]!;
    if (isStill(transform)) return createRaster("K", width, height, data);
    const matrix = affineOf(transform, separated.scene);
    return createRaster("K", width, height, warpRaster(data, width, height, matrix, { order: "spline" }));
  };
  const bring = ({ cosine, sine }: Quadratures): Quadratures => ({ cosine: back(cosine), sine: back(sine) });
  const signal = bring(demodulated);
  const neighbours = demodulated.neighbours.map(bring);
  // Levels spread each reading evenly over a step; the amplitude averages that as it does noise.
  const gain = Math.sqrt(2 / frames.length);
  const leastPixelK = gain * Math.max(LEAST_NOISE_K, stepK / Math.sqrt(12));
  const strength = measureStrength(signal, neighbours, { leastPixelK });
  const phaseRad = heatPhase(strength, signal, offBoard);
  const inPhase = (q: Quadratures): Raster<"K"> => inPhaseOf(q, phaseRad);
  const drift = removeDrift(inPhase(signal), offBoard);
  const { rise } = drift;
  if (!rise.data.some((value) => value * 0 === 0)) {
    throw new ToolError("E_FRAME_EMPTY", {
      problem: "no pixel has readings in the baseline and throughout the powered sequence",
      fix: "Capture again, or export frames that hold temperatures everywhere",
    });
  }
  const layers = strength.layers.map(
    (layer): ContrastLayer => ({ sigmaPx: layer.sigmaPx, contrast: inPhase(layer), noise: layer.noise }),
  );
  const pixelNoise = pixelAmplitudeNoise(neighbours, leastPixelK);
  const smoothRise = gaussianFilter(rise.data, width, height, layers[0]!.sigmaPx);
  const tries = cycleS === "find" ? found!.frequenciesTried : 1;
  const chanceOf = (z: number): number =>
    -Math.expm1(tries * Math.log1p(-chanceOfPower(0.5 * z * z, strength.neighbourPowers)));
  const other =
    cycleS !== "find" && found !== null && found.pValue < MOST_CHANCE_OTHER ? found.periodFrames : null;
  const away = other === null ? 0 : Math.abs(1 / other - 1 / periodFrames) * frames.length;
  // The remark on impossible drift is about the level of the frames, not of the amplitude.
  const level = removeDrift(subtractFrames(separated, powered!, transform), offBoard);
  onStage("rise");
  return {
    baseline: baseline!,
    alignment,
    drift: { ...level, rise },
    rise,
    smoothRise: createRaster("K", width, height, smoothRise),
    pixelNoise,
    layers,
    threshold: amplitudeThreshold(
      reselsOf(layers, width * height),
      options.falseAlarmsPerFrame,
      options.tailFactor,
    ),
    badPixels: { mask, counts: { ...badPixels.counts, change: badPixels.counts.change + lone.count } },
    saturated: saturatedPixels(poweredFrames),
    shape: { width, height },
    cycle: {
      periodS: periodFrames / rateHz,
      found: cycleS === "find",
      frames: frames.length,
      phaseDeg: degrees(phaseRad),
      pValue: chanceOf(Math.sqrt(2 * strength.power)),
      quadrature: removeDrift(inPhaseOf(signal, phaseRad + Math.PI / 2), offBoard).rise,
      amplitudeSigmaK: median(pixelNoise.data),
      otherPeriodS: other !== null && away > LEAST_AWAY ? other / rateHz : null,
      strength: strength.strength,
      phaseAtDeg: (pixel) => phaseAt(strength, pixel),
      chanceOf,
    },
  };
}

/** Mark pixels whose amplitude stands out alone, as nothing seen through a lens can. */
function markLone(bad: Uint8Array, { cosine, sine }: Demodulated): { mask: Uint8Array; count: number } {
  const mask = Uint8Array.from(bad);
  let count = 0;
  for (const { data, width, height } of [cosine, sine]) {
    const lone = findLonePixels(data, width, height, BAD_PIXEL_DEFAULTS.changeSigma, 0);
    for (let i = 0; i < mask.length; i++) {
      if (lone[i] === 0 || mask[i] !== BAD_PIXEL.good) continue;
      mask[i] = BAD_PIXEL.change;
      count++;
    }
  }
  return { mask, count };
}

/** The part of an amplitude that goes as cos(ωt − φ). */
function inPhaseOf({ cosine, sine }: Quadratures, phaseRad: number): Raster<"K"> {
  const [c, s] = [Math.cos(phaseRad), Math.sin(phaseRad)];
  return createRaster(
    "K",
    cosine.width,
    cosine.height,
    cosine.data.map((value, i) => c * value + s * sine.data[i]!),
  );
}

function phaseAt({ layers, layerAt }: CycleStrength, pixel: number): number {
  const { cosine, sine } = layers[layerAt[pixel]!]!;
  const phase = Math.atan2(sine.data[pixel]!, cosine.data[pixel]!);
  return Number.isFinite(phase) ? degrees((phase + 2 * Math.PI) % (2 * Math.PI)) : 0;
}

function degrees(angleRad: number): number {
  return (angleRad * 180) / Math.PI;
}
