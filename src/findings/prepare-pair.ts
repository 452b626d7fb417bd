// findings: frames of both roles → the rise with its noise, and how the frames were brought together.
import { type Alignment, alignFrames, type PlacedScene } from "../align/align-frames.js";
import { averageFrames } from "../clean/average-frames.js";
import { type BadPixels, findBadPixels } from "../clean/find-bad-pixels.js";
import { repairPixels } from "../clean/repair-pixels.js";
import { ToolError } from "../core/errors.js";
import { createRaster, type Raster } from "../core/raster.js";
import type { Frame } from "../frames/frame.js";
import { seriesOf } from "../frames/frame-series.js";
import { levelStep } from "../frames/level-step.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { detailNoise, whiteNoise } from "../rise/detail-noise.js";
import { falseAlarmThreshold } from "../rise/false-alarm-threshold.js";
import { findJolts } from "../rise/find-jolts.js";
import {
  CONTRAST_DEFAULTS,
  type ContrastLayer,
  contrastGain2,
  localContrast,
  reselsOf,
} from "../rise/local-contrast.js";
import { riseVariance, sharePixelNoise } from "../rise/pixel-noise.js";
import { type DriftRemoval, removeDrift } from "../rise/remove-drift.js";
import { resolvePattern } from "../rise/resolve-pattern.js";
import { sceneGradient } from "../rise/scene-gradient.js";
import { removeSmoothDrift } from "../rise/smooth-drift.js";
import { subtractFrames } from "../rise/subtract-frames.js";
import { temporalNoise } from "../rise/temporal-noise.js";
import type { AnalyseOptions, OnStage } from "./analyse-options.js";
import { burstCourses, type PreparedBurst, prepareBurst } from "./prepare-burst.js";
import type { PreparedCycle } from "./prepare-cycle.js";
import { sizeFix } from "./size-fix.js";

/** Smaller frames have no surroundings to stand out of, px. */
const LEAST_SIDE_PX = 8;
/** No picture from a camera is less noisy than this, K. */
export const LEAST_NOISE_K = 1e-3;
/** Shift still possible between aligned frames: so many times its uncertainty, of which there is always some, px. */
const SHIFT_SIGMAS = 3;
const LEAST_SHIFT_PX = 0.04;
/** … and between frames that could not be aligned, px. */
const UNTRUSTED_SHIFT_PX = 3;

/** A pair brought together. All rasters are in the baseline's pixel grid. */
export interface PreparedPair {
  readonly baseline: Raster<"degC">;
  readonly alignment: PlacedScene;
  readonly drift: DriftRemoval;
  readonly rise: Raster<"K">;
  readonly smoothRise: Raster<"K">;
  /** Noise of one pixel of the rise, K. */
  readonly pixelNoise: Raster<"K">;
  readonly layers: readonly ContrastLayer[];
  /** Significance a pixel must reach. */
  readonly threshold: number;
  readonly badPixels: BadPixels;
  /** 1 = a powered frame stands at the upper end of its scale here, in the powered frame's grid; null without ends. */
  readonly saturated: Uint8Array | null;
  readonly shape: { readonly width: number; readonly height: number };
  /** Where the rise is the amplitude that follows a supply switched on and off: what is known of its rhythm. */
  readonly cycle?: PreparedCycle;
  /** Where the powered frames are a burst from power-on: its frames and their weights in the rise. */
  readonly burst?: PreparedBurst;
  /** From power-on to the powered frames, s, where they are no burst and that is known. */
  readonly afterS?: number;
}

/** Clean, align, subtract, level and measure the noise.
 *  @param offBoard 1 = certainly off the board; null without a board.
 *  @param mirrors 1 = a shiny finish, no guide to the alignment; null without a board.
 *  @param emissivity what the camera sees of the board, 0 off it; null without a board.
 *  @param burstRateHz frames a second, if the powered frames start at power-on and follow the warming; null if all of
 *  them show one state.
 *  @throws ToolError E_FRAME_SIZE if any two frames differ in size.
 */
export function preparePair(
  baselineFrames: readonly Frame[],
  poweredFrames: readonly Frame[],
  offBoard: Uint8Array | null,
  mirrors: Uint8Array | null,
  emissivity: Float32Array | null,
  burstRateHz: number | null,
  options: AnalyseOptions,
  onStage: OnStage = () => {},
): PreparedPair {
  checkSizes(baselineFrames, poweredFrames);
  // A single frame is its own mean: below nothing changes it.
  const before = averageFrames(
    baselineFrames.map((frame) => frame.raster),
    { copies: false },
  );
  const all = poweredFrames.map((frame) => frame.raster);
  const members = burstRateHz === null ? null : findJolts(all);
  const frames = members === null ? all : members.kept.map((k) => all[k]!);
  const after = averageFrames(
    frames,
    // In a burst the warming itself moves readings; frames of one state may hold a hand or a flare.
    { copies: false, ...(members === null ? {} : { outlierSigma: Number.POSITIVE_INFINITY }) },
  );
  const stepK = coarsestStep([...baselineFrames, ...poweredFrames]);
  const badPixels = findBadPixels(before.mean, after.mean, { stepK, temporal: [before, after] });
  const [baseline, powered] = repairPixels([before.mean, after.mean], badPixels.mask).frames;
  onStage("clean");
  const aligned = alignFrames(baseline!, powered!, mirrors, emissivity, offBoard);
  onStage("align");
  const first = subtractFrames(aligned.separated, powered!, aligned.transform);
  const separated = options.resolvesPattern
    ? resolvePattern(aligned.separated, first, aligned.transform, whiteNoise(first, LEAST_NOISE_K), mirrors, {
        overwrites: true,
      })
    : aligned.separated;
  const alignment: Alignment = { ...aligned, separated };
  const difference = subtractFrames(separated, powered!, alignment.transform, first.data);
  const plain = removeDrift(difference, offBoard, { overwrites: true });
  const { width, height } = plain.rise;
  if (!plain.rise.data.some((value) => value * 0 === 0)) {
    throw new ToolError("E_FRAME_EMPTY", {
      problem: "no pixel has a reading in both the baseline and the powered frame",
      fix: "Capture again, or export frames that hold temperatures everywhere",
    });
  }
  // But for a burst nobody asks for the pattern again: its two pictures are written over.
  const spent = members === null ? separated : null;
  const gradient = sceneGradient(separated.scene, spent?.pattern.data);
  const shiftPx = alignment.trusted
    ? SHIFT_SIGMAS * Math.max(LEAST_SHIFT_PX, alignment.uncertaintyPx)
    : UNTRUSTED_SHIFT_PX;
  // Two quantised frames: each adds a step's uniform spread, which identical levels would hide.
  const leastPixelK = Math.max(LEAST_NOISE_K, (stepK * Math.SQRT2) / Math.sqrt(12));
  const burst =
    members === null
      ? null
      : prepareBurst(
          frames,
          members,
          burstRateHz!,
          after,
          alignment,
          badPixels.mask,
          plain.rise,
          gradient,
          shiftPx,
          baselineFrames.length,
        );
  const level = burst === null ? plain : removeDrift(burst.rise, offBoard);
  const rise = removeSmoothDrift(level.rise, offBoard);
  const drift = { ...level, rise };
  const sensor = temporalNoise(
    [
      { frames: baselineFrames.map((frame) => frame.raster), offsetsK: before.offsetsK },
      { frames, offsetsK: after.offsetsK, courses: burst === null ? [] : burstCourses(burst) },
    ],
    stepK / Math.sqrt(12),
  );
  const variance =
    sensor === null
      ? null
      : riseVariance(
          sensor.sigma,
          badPixels.mask,
          alignment.transform,
          burst?.varianceShare ?? 1 / frames.length,
          1 / baselineFrames.length,
        );
  const finestPx = CONTRAST_DEFAULTS.scalesPx[0]!;
  const smoothed = gaussianFilter(rise.data, width, height, finestPx, { out: spent?.sceneShare });
  const smoothRise = createRaster("K", width, height, smoothed);
  const contrasts = localContrast(rise, gradient, { shiftPx, leastPixelK }, smoothRise.data);
  const layers = contrasts.map((layer) =>
    variance === null
      ? layer
      : {
          ...layer,
          noise: sharePixelNoise(layer.noise, variance, layer.sigmaPx, contrastGain2(layer.sigmaPx)),
        },
  );
  // Nothing after it asks for the gradient.
  const classNoise = detailNoise(rise, gradient, shiftPx, leastPixelK, burst === null ? gradient : null);
  const pixelNoise = variance === null ? classNoise : sharePixelNoise(classNoise, variance, 0, 1);
  onStage("rise");
  return {
    baseline: baseline!,
    alignment: { ...alignment, separated: { scene: separated.scene } },
    drift,
    rise,
    smoothRise,
    pixelNoise,
    layers,
    threshold: falseAlarmThreshold(
      reselsOf(layers, width * height),
      options.falseAlarmsPerFrame,
      options.tailFactor,
    ),
    badPixels,
    saturated: saturatedPixels(poweredFrames),
    shape: { width, height },
    ...(burst === null ? {} : { burst: sensor === null ? burst : { ...burst, sensorSigma: sensor.sigma } }),
  };
}

/** The largest step between levels of any frame, K; 0 where none is quantised. Where a file states none, its readings
 *  may have been rounded. */
export function coarsestStep(frames: readonly Frame[]): number {
  return frames.reduce((most, { stepK, raster }) => Math.max(most, stepK ?? levelStep(raster)), 0);
}

/** Pixels at the upper end of the scale in any frame; null where no frame has ends or none is reached. */
export function saturatedPixels(frames: readonly Frame[]): Uint8Array | null {
  const full = frames.filter((frame) => (frame.saturated?.high ?? 0) > 0);
  if (full.length === 0) return null;
  const series = seriesOf(full.map(({ raster }) => raster));
  const out = new Uint8Array(series.width * series.height);
  for (let k = 0; k < series.count; k++) {
    const data = series.frame(k);
    const top = data.reduce((a, b) => Math.max(a, b * 0 === 0 ? b : a), Number.NEGATIVE_INFINITY);
    for (let i = 0; i < out.length; i++) if (data[i]! >= top) out[i] = 1;
  }
  return out;
}

/** Check that there are frames of both roles, all of one size that is not too small.
 *  @param which which of two views they are of, with a blank after it, for the error.
 *  @throws ToolError E_FRAME_NONE, E_FRAME_SIZE.
 */
export function checkSizes(baseline: readonly Frame[], powered: readonly Frame[], which = ""): void {
  const first = baseline[0];
  if (first === undefined || powered.length === 0) {
    throw new ToolError("E_FRAME_NONE", {
      problem: `there is no ${first === undefined ? "baseline" : "powered"} frame ${which}`.trimEnd(),
      fix: "Give at least one frame of each role",
    });
  }
  if (first.raster.width < LEAST_SIDE_PX || first.raster.height < LEAST_SIDE_PX) {
    throw new ToolError("E_FRAME_SIZE", {
      problem: `a frame ${which}of ${first.raster.width}×${first.raster.height} is too small to find anything in; at least ${LEAST_SIDE_PX}×${LEAST_SIDE_PX} is expected`,
      fix: "Export whole frames",
      place: { file: first.file ?? undefined },
    });
  }
  for (const frame of [...baseline, ...powered]) {
    const { width, height } = frame.raster;
    if (width === first.raster.width && height === first.raster.height) continue;
    const role = baseline.includes(frame) ? "baseline" : "powered";
    throw new ToolError("E_FRAME_SIZE", {
      problem: `the first baseline frame ${which}is ${first.raster.width}×${first.raster.height} but a ${role} frame is ${width}×${height}`,
      fix: sizeFix(first.raster, frame.raster),
      place: { file: frame.file ?? undefined },
    });
  }
}
