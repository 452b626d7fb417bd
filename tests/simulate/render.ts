// simulate: board, camera, temperatures and surroundings → what a perfect sensor would show, °C.
import { radianceOf, temperatureOf } from "./band-radiance.js";
import { applyTo, type Camera, type Halo, inverse, type Matrix, nudgeMatrix, product } from "./camera.js";
import { paintCoverage } from "./coverage.js";
import { addHalo, blurAndBin } from "./optics.js";
import type { PlateGrid } from "./plate.js";
import type { Point } from "./polygons.js";
import type { Nudge, Part } from "./scene.js";

/** The board in one pose, sample by sample. Samples are finer than pixels. */
export interface Pose {
  readonly width: number;
  readonly height: number;
  /** Samples a pixel, each way. */
  readonly fine: number;
  /** Board mm of each sample. */
  readonly mmX: Float32Array;
  readonly mmY: Float32Array;
  readonly boardCover: Float32Array;
  /** Which part of the drawing list is seen, −1 none, and how much of the sample it covers. */
  readonly part: Int16Array;
  readonly partCover: Float32Array;
}

/** Everything that decides the radiance. Temperatures in °C, by place. */
export interface Scenery {
  readonly parts: readonly Part[];
  readonly maskEmissivity: (xMm: number, yMm: number) => number;
  readonly boardC: (xMm: number, yMm: number) => number;
  /** Offset of each part's top from the board beneath, without power, K. */
  readonly partOffsetK: Float64Array;
  readonly grid: PlateGrid;
  /** Rise of the plate, K, or null. */
  readonly plateRise: Float64Array | null;
  /** Rise of a part's top above the plate at (u, v) of its body, K; null for parts that don't heat. */
  readonly bodyRise: readonly (((u: number, v: number) => number) | null)[];
  /** Radiance that finishes mirror, at frame px: sharp for bare metal, blurred for the rest. */
  readonly mirrorSharp: (part: number, xPx: number, yPx: number) => number;
  readonly mirrorSoft: (xPx: number, yPx: number) => number;
  /** Radiance of what lies behind, at frame px. */
  readonly background: (xPx: number, yPx: number) => number;
}

/** Work out which part of the board each sample sees, with the board moved by `nudge`. */
export function makePose(
  camera: Camera,
  outline: readonly Point[],
  parts: readonly Part[],
  nudge: Nudge,
  fine: number,
): Pose {
  const { width, height } = camera;
  const w = width * fine;
  const h = height * fine;
  const toFrame = product(nudgeMatrix(nudge, width, height), camera.boardToFrame);
  const toBoard: Matrix = inverse(toFrame);
  const pose: Pose = {
    width,
    height,
    fine,
    mmX: new Float32Array(w * h),
    mmY: new Float32Array(w * h),
    boardCover: new Float32Array(w * h),
    part: new Int16Array(w * h).fill(-1),
    partCover: new Float32Array(w * h),
  };
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = toBoard as number[] as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  for (let j = 0, k = 0; j < h; j++) {
    const y = (j + 0.5) / fine - 0.5;
    for (let i = 0; i < w; i++, k++) {
      const x = (i + 0.5) / fine - 0.5;
      const d = 1 / (m6 * x + m7 * y + m8);
      pose.mmX[k] = (m0 * x + m1 * y + m2) * d;
      pose.mmY[k] = (m3 * x + m4 * y + m5) * d;
    }
  }
  const toSamples = (polygon: readonly Point[]): Point[] =>
    polygon.map(([x, y]) => {
      const [px, py] = applyTo(toFrame, x, y);
      return [(px + 0.5) * fine - 0.5, (py + 0.5) * fine - 0.5];
    });
  paintCoverage(toSamples(outline), w, h, (k, cover) => {
    pose.boardCover[k] = cover;
  });
  for (const [index, part] of parts.entries()) {
    paintCoverage(toSamples(part.polygon), w, h, (k, cover) => {
      if (cover < pose.partCover[k]!) return;
      pose.part[k] = index;
      pose.partCover[k] = cover;
    });
  }
  return pose;
}

/** Radiance of every sample, blurred by the optics and summed over each pixel, as the temperature shown. */
export function renderFrame(pose: Pose, scenery: Scenery, blurPx: number, halo?: Halo): Float32Array {
  const { width, height, fine } = pose;
  const radiance = sampleRadiance(pose, scenery);
  const mean = blurAndBin(radiance, width, height, fine, blurPx);
  if (halo !== undefined) addHalo(mean, width, height, halo.share, halo.px);
  for (let i = 0; i < mean.length; i++) mean[i] = temperatureOf(mean[i]!);
  return mean;
}

function sampleRadiance(pose: Pose, scenery: Scenery): Float32Array {
  const { width, height, fine, mmX, mmY, boardCover, part, partCover } = pose;
  const w = width * fine;
  const h = height * fine;
  const out = new Float32Array(w * h);
  for (let j = 0, k = 0; j < h; j++) {
    const y = (j + 0.5) / fine - 0.5;
    for (let i = 0; i < w; i++, k++) {
      const x = (i + 0.5) / fine - 0.5;
      const cover = boardCover[k]!;
      let sum = cover < 1 ? (1 - cover) * scenery.background(x, y) : 0;
      if (cover > 0) {
        const u = mmX[k]!;
        const v = mmY[k]!;
        const rise = scenery.plateRise === null ? 0 : sampleGrid(scenery.grid, scenery.plateRise, u, v);
        const boardC = scenery.boardC(u, v) + rise;
        const soft = scenery.mirrorSoft(x, y);
        const index = part[k]!;
        const over = index < 0 ? 0 : partCover[k]!;
        let own = 0;
        if (over < 1) {
          const e = scenery.maskEmissivity(u, v);
          own += (1 - over) * (e * radianceOf(boardC) + (1 - e) * soft);
        }
        if (over > 0) {
          const one = scenery.parts[index]!;
          const body = scenery.bodyRise[index];
          const top = boardC + scenery.partOffsetK[index]! + (body ? bodyAt(one, body, u, v) : 0);
          const mirrored =
            one.finish === "bare-metal" || one.finish === "bare-die"
              ? scenery.mirrorSharp(index, x, y)
              : soft;
          own += over * (one.emissivity * radianceOf(top) + (1 - one.emissivity) * mirrored);
        }
        sum += cover * own;
      }
      out[k] = sum;
    }
  }
  return out;
}

/** Place in the body's own axes, then its rise; the rim's half-covered samples count as the rim. */
function bodyAt(part: Part, body: (u: number, v: number) => number, xMm: number, yMm: number): number {
  const a = (part.angleDeg * Math.PI) / 180;
  const dx = xMm - part.centerMm[0];
  const dy = yMm - part.centerMm[1];
  const u = (2 * (Math.cos(a) * dx + Math.sin(a) * dy)) / part.sizeMm[0];
  const v = (2 * (Math.cos(a) * dy - Math.sin(a) * dx)) / part.sizeMm[1];
  return body(Math.max(-1, Math.min(1, u)), Math.max(-1, Math.min(1, v)));
}

/** Bilinear between cell centres; cells outside the outline are left out of the mean. */
function sampleGrid(grid: PlateGrid, values: Float64Array, xMm: number, yMm: number): number {
  const { nx, ny, inside } = grid;
  const gx = Math.max(0, Math.min(nx - 1.000001, (xMm - grid.originMm[0]) / grid.cellMm));
  const gy = Math.max(0, Math.min(ny - 1.000001, (yMm - grid.originMm[1]) / grid.cellMm));
  const i = Math.floor(gx);
  const j = Math.floor(gy);
  const fx = gx - i;
  const fy = gy - j;
  const a = j * nx + i;
  const b = a + nx;
  const wa = (1 - fx) * (1 - fy) * inside[a]!;
  const wb = fx * (1 - fy) * inside[a + 1]!;
  const wc = (1 - fx) * fy * inside[b]!;
  const wd = fx * fy * inside[b + 1]!;
  const sum = wa + wb + wc + wd;
  return sum < 1e-9
    ? 0
    : (wa * values[a]! + wb * values[a + 1]! + wc * values[b]! + wd * values[b + 1]!) / sum;
}
