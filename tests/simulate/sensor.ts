// simulate: what a perfect sensor would show → what an uncooled array shows.
import type { Random } from "./random.js";

/** One camera's faults, fixed to the sensor. */
export interface Sensor {
  readonly width: number;
  readonly height: number;
  /** Median over the pixels of the white noise of one frame, K. */
  readonly sigmaK: number;
  readonly pixelSigmaK: Float32Array;
  readonly patternK: Float32Array;
  readonly bad: readonly BadPixel[];
  /** Share of what differs from the housing that each pixel shows; 1 everywhere where there is none. */
  readonly gain?: Float32Array;
  readonly housingC?: number;
}

interface BadPixel {
  readonly x: number;
  readonly y: number;
  readonly kind: "dead" | "hot" | "stuck";
  /** Stuck at this, or this much too hot. */
  readonly value: number;
}

/** Draw a sensor: white noise of 40–60 mK with a spread from pixel to pixel and a few bad ones among them, a fixed
 *  pattern of columns, pixels and something smooth, a few dead, hot and stuck pixels.
 */
export function randomSensor(random: Random, width: number, height: number, ambientC: number): Sensor {
  const n = width * height;
  const sigmaK = random.uniform(0.04, 0.06);
  const pixelSigmaK = new Float32Array(n);
  for (let i = 0; i < n; i++) {
    const wide = random.chance(0.002) ? random.uniform(1.5, 2.8) : 1;
    pixelSigmaK[i] = sigmaK * wide * Math.exp(0.1 * random.normal());
  }
  const bad: BadPixel[] = [];
  for (let i = random.integer(0, 6); i > 0; i--) {
    const kind = random.pick(["dead", "hot", "stuck"] as const);
    const value =
      kind === "dead"
        ? random.pick([-20, 0, ambientC - 6])
        : kind === "hot"
          ? random.uniform(1.5, 9)
          : ambientC + random.uniform(-3, 6);
    bad.push({ x: random.integer(0, width - 1), y: random.integer(0, height - 1), kind, value });
  }
  return {
    width,
    height,
    sigmaK,
    pixelSigmaK,
    patternK: randomPattern(random, width, height, random.uniform(0.04, 0.24)),
    bad,
  };
}

/** Column, pixel and smooth parts, scaled to a standard deviation. */
export function randomPattern(random: Random, width: number, height: number, sdK: number): Float32Array {
  const columnShare = random.uniform(0.3, 1);
  const pixelShare = random.uniform(0.3, 1);
  const smooth = smoothField(random, random.uniform(0.3, 1));
  const columns = Array.from({ length: width }, () => columnShare * random.normal());
  const pattern = new Float32Array(width * height);
  let sum = 0;
  let squares = 0;
  for (let j = 0, k = 0; j < height; j++) {
    for (let i = 0; i < width; i++, k++) {
      const value = columns[i]! + pixelShare * random.normal() + smooth(i / width, j / height);
      pattern[k] = value;
      sum += value;
      squares += value * value;
    }
  }
  const n = pattern.length;
  const mean = sum / n;
  const scale = sdK / Math.sqrt(squares / n - mean * mean);
  for (let k = 0; k < n; k++) pattern[k] = (pattern[k]! - mean) * scale;
  return pattern;
}

/** A low-order polynomial over the frame with about the given standard deviation; x, y run over 0 … 1. */
export function smoothField(random: Random, sd: number): (x: number, y: number) => number {
  const c = Array.from({ length: 5 }, () => random.normal());
  return (x, y) => {
    const u = 2 * x - 1;
    const v = 2 * y - 1;
    return (
      0.75 * sd * (c[0]! * u + c[1]! * v + c[2]! * (u * u - 1 / 3) + c[3]! * (v * v - 1 / 3) + c[4]! * u * v)
    );
  };
}

/** What changes between frames beside the white noise. */
export interface Drift {
  readonly offsetK: number;
  readonly smoothK: (x: number, y: number) => number;
  /** Slow change of the fixed pattern, K. */
  readonly patternK: Float32Array | null;
}

/** Expose one frame. */
export function expose(random: Random, sensor: Sensor, idealC: Float32Array, drift: Drift): Float32Array {
  const { width, height, gain, housingC = 0 } = sensor;
  const out = new Float32Array(width * height);
  for (let j = 0, k = 0; j < height; j++) {
    for (let i = 0; i < width; i++, k++) {
      const change = drift.patternK === null ? 0 : drift.patternK[k]!;
      const seenC = gain === undefined ? idealC[k]! : housingC + (idealC[k]! - housingC) * gain[k]!;
      const still =
        seenC + sensor.patternK[k]! + change + drift.offsetK + drift.smoothK(i / width, j / height);
      out[k] = still + sensor.pixelSigmaK[k]! * random.normal();
    }
  }
  for (const pixel of sensor.bad) {
    const k = pixel.y * width + pixel.x;
    if (pixel.kind === "hot") out[k] = out[k]! + pixel.value * (1 + 0.1 * random.normal());
    else out[k] = pixel.value;
  }
  return out;
}

/** Levels of an 8-bit picture: the scale's ends and its step. */
export interface Levels {
  readonly lowC: number;
  readonly stepK: number;
}

/** Round to the 256 levels of a scale, clamped at its ends. */
export function quantise(data: Float32Array, levels: Levels): void {
  for (let k = 0; k < data.length; k++) {
    const level = Math.max(0, Math.min(255, Math.round((data[k]! - levels.lowC) / levels.stepK)));
    data[k] = levels.lowC + level * levels.stepK;
  }
}
