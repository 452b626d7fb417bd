// evaluate: a scene → what the plain chain answers: phase correlation, difference, blur, threshold, peaks, nearest
// part. The peer to beat; it shares no code with the tool.
import { distanceToPolygon, type Point } from "../simulate/polygons.js";
import type { Nudge, Scene, SimFrame } from "../simulate/scene.js";
import type { Answer, AnswerSuspect } from "./answer.js";
import { transformPicture } from "./fourier.js";
import { solveView } from "./solve-view.js";

const BLUR_PX = 1.5;
const THRESHOLD_SIGMAS = 5;
/** Peaks closer than this are one, px. */
const APART_PX = 4;
/** A part farther than this from a peak is no suspect for it, mm. */
const REACH_MM = 3;

/** Answer as the plain chain does. */
export function plainAnswer(scene: Scene): Answer {
  const { width, height } = scene.baseline[0]!;
  const baseline = meanOf(scene.baseline);
  const powered = meanOf(scene.powered);
  const shift = phaseShift(baseline, powered, width, height);
  const difference = subtractShifted(baseline, powered, width, height, shift);
  const smooth = blur(difference, width, height);
  const middle = medianOf(smooth);
  const spread = 1.4826 * medianOf(smooth.map((value) => Math.abs(value - middle)));
  const peaks = findPeaks(smooth, width, height, middle + THRESHOLD_SIGMAS * spread, border(shift));
  return {
    transform: shift,
    hotspots: peaks.map((px) => ({ px, sigmaPx: null, powerSigmaW: null })),
    suspects: nearestParts(scene, peaks),
  };
}

function meanOf(frames: readonly SimFrame[]): Float64Array {
  const sum = new Float64Array(frames[0]!.data.length);
  for (const frame of frames)
    for (let i = 0; i < sum.length; i++) sum[i] = sum[i]! + frame.data[i]! / frames.length;
  return sum;
}

/** Phase correlation on Hann-windowed frames, peak refined by a parabola each way; translation only. */
function phaseShift(a: Float64Array, b: Float64Array, width: number, height: number): Nudge {
  const w = 2 ** Math.ceil(Math.log2(width));
  const h = 2 ** Math.ceil(Math.log2(height));
  const load = (data: Float64Array): [Float64Array, Float64Array] => {
    const mean = data.reduce((sum, value) => sum + value, 0) / data.length;
    const re = new Float64Array(w * h);
    for (let j = 0; j < height; j++) {
      const wy = Math.sin((Math.PI * (j + 0.5)) / height) ** 2;
      for (let i = 0; i < width; i++) {
        const wx = Math.sin((Math.PI * (i + 0.5)) / width) ** 2;
        re[j * w + i] = (data[j * width + i]! - mean) * wx * wy;
      }
    }
    const im = new Float64Array(w * h);
    transformPicture(re, im, w, h, false);
    return [re, im];
  };
  const [aRe, aIm] = load(a);
  const [bRe, bIm] = load(b);
  for (let i = 0; i < aRe.length; i++) {
    const re = bRe[i]! * aRe[i]! + bIm[i]! * aIm[i]!;
    const im = bIm[i]! * aRe[i]! - bRe[i]! * aIm[i]!;
    const size = Math.hypot(re, im) + 1e-12;
    aRe[i] = re / size;
    aIm[i] = im / size;
  }
  transformPicture(aRe, aIm, w, h, true);
  let best = 0;
  for (let i = 1; i < aRe.length; i++) if (aRe[i]! > aRe[best]!) best = i;
  const x = best % w;
  const y = Math.floor(best / w);
  const at = (i: number, j: number): number => aRe[((j + h) % h) * w + ((i + w) % w)]!;
  const dxPx = signed(x + vertex(at(x - 1, y), at(x, y), at(x + 1, y)), w);
  const dyPx = signed(y + vertex(at(x, y - 1), at(x, y), at(x, y + 1)), h);
  return { dxPx, dyPx, rotationDeg: 0 };
}

function vertex(left: number, middle: number, right: number): number {
  const curve = left - 2 * middle + right;
  return curve >= 0 ? 0 : (0.5 * (left - right)) / curve;
}

function signed(value: number, period: number): number {
  return value > period / 2 ? value - period : value;
}

function subtractShifted(
  a: Float64Array,
  b: Float64Array,
  width: number,
  height: number,
  shift: Nudge,
): Float64Array {
  const out = new Float64Array(a.length);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      const x = Math.max(0, Math.min(width - 1.001, i + shift.dxPx));
      const y = Math.max(0, Math.min(height - 1.001, j + shift.dyPx));
      const k = Math.floor(y) * width + Math.floor(x);
      const fx = x - Math.floor(x);
      const fy = y - Math.floor(y);
      const upper = b[k]! * (1 - fx) + b[k + 1]! * fx;
      const lower = b[k + width]! * (1 - fx) + b[k + width + 1]! * fx;
      out[j * width + i] = upper * (1 - fy) + lower * fy - a[j * width + i]!;
    }
  }
  return out;
}

function blur(data: Float64Array, width: number, height: number): Float64Array {
  const radius = Math.ceil(3 * BLUR_PX);
  const kernel = Array.from({ length: 2 * radius + 1 }, (_, i) =>
    Math.exp(-((i - radius) ** 2) / (2 * BLUR_PX ** 2)),
  );
  const total = kernel.reduce((sum, value) => sum + value, 0);
  const pass = (from: Float64Array, along: boolean): Float64Array => {
    const out = new Float64Array(from.length);
    for (let j = 0; j < height; j++) {
      for (let i = 0; i < width; i++) {
        let sum = 0;
        for (let d = -radius; d <= radius; d++) {
          const x = along ? Math.max(0, Math.min(width - 1, i + d)) : i;
          const y = along ? j : Math.max(0, Math.min(height - 1, j + d));
          sum += kernel[d + radius]! * from[y * width + x]!;
        }
        out[j * width + i] = sum / total;
      }
    }
    return out;
  };
  return pass(pass(data, true), false);
}

function medianOf(values: Float64Array): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[sorted.length >> 1]!;
}

/** Margin that the shift left without data, px. */
function border(shift: Nudge): number {
  return Math.ceil(Math.max(Math.abs(shift.dxPx), Math.abs(shift.dyPx))) + 2;
}

/** Local maxima above the threshold, highest first. */
function findPeaks(
  data: Float64Array,
  width: number,
  height: number,
  threshold: number,
  margin: number,
): Point[] {
  const found: { x: number; y: number; value: number }[] = [];
  for (let j = margin; j < height - margin; j++) {
    for (let i = margin; i < width - margin; i++) {
      const value = data[j * width + i]!;
      if (value < threshold) continue;
      let top = true;
      for (let b = -1; b <= 1 && top; b++) {
        for (let a = -1; a <= 1; a++) if (data[(j + b) * width + i + a]! > value) top = false;
      }
      if (top) found.push({ x: i, y: j, value });
    }
  }
  found.sort((p, q) => q.value - p.value);
  const kept: typeof found = [];
  for (const one of found) {
    if (kept.every((other) => Math.hypot(other.x - one.x, other.y - one.y) >= APART_PX)) kept.push(one);
  }
  return kept.map(({ x, y }): Point => {
    const at = (i: number, j: number): number => data[j * width + i]!;
    return [
      x + vertex(at(x - 1, y), at(x, y), at(x + 1, y)),
      y + vertex(at(x, y - 1), at(x, y), at(x, y + 1)),
    ];
  });
}

/** For each peak the nearest part: on the side that is seen, else on the other one. */
function nearestParts(scene: Scene, peaks: readonly Point[]): AnswerSuspect[] {
  const toBoard = solveView(scene.view);
  const suspects: AnswerSuspect[] = [];
  for (const [rank, px] of peaks.entries()) {
    const [x, y] = toBoard(px);
    const near = scene.board.regions
      .map((region) => ({
        region,
        distanceMm: distanceToPolygon(region.polygon, x, y),
        hidden: region.side === scene.view.side ? 0 : 1,
      }))
      .filter((one) => one.distanceMm <= REACH_MM)
      .sort((p, q) => p.hidden - q.hidden || p.distanceMm - q.distanceMm)[0];
    if (near === undefined || suspects.some((s) => s.ref === near.region.ref)) continue;
    suspects.push({
      ref: near.region.ref,
      side: near.region.side,
      normallyWarm: near.region.normallyWarm === true,
      probability: null,
      powerW: null,
      hotspot: rank + 1,
    });
  }
  return suspects;
}
