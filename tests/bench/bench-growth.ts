// bench: `npx tsx tests/bench/bench-growth.ts` → each kernel at four sizes with and without WebAssembly, and how the
// cost grows with pixels, frames, hotspots and regions. Warmed; medians; results summed outside what is timed, so that
// none is left out. No pass or fail.
import { alignFrames } from "../../src/align/align-frames.js";
import { linePattern } from "../../src/align/line-pattern.js";
import { separatePattern } from "../../src/align/separate-pattern.js";
import type { BoardMap, Region } from "../../src/board/board-schema.js";
import { boundsOf } from "../../src/board/polygon.js";
import { findLonePixels } from "../../src/clean/find-lone-pixels.js";
import { analyse } from "../../src/findings/analyse.js";
import { frameFromRaster } from "../../src/frames/frame.js";
import { gaussianFilter } from "../../src/numeric/gaussian-filter.js";
import { useKernels } from "../../src/numeric/kernels.js";
import { robustSigma } from "../../src/numeric/median.js";
import { warpRaster } from "../../src/numeric/warp.js";
import { wideGaussian } from "../../src/numeric/wide-gaussian.js";
import { makeScene } from "../simulate/make-scene.js";
import { makeRandom } from "../simulate/random.js";
import { chainFrames } from "./chain-frames.js";
import { medianTime } from "./median-time.js";
import { plainChain } from "./plain-chain.js";

const SIZES = [
  [160, 120],
  [384, 288],
  [640, 480],
  [1280, 1024],
] as const;
const REPEATS = 7;
const REGIONS = [50, 100, 200, 500];
const FRAMES = [30, 60, 120, 240];
const SPOTS = [1, 10, 100];
/** It is made of kernels, and of nothing else. */
const PLAIN_CHAIN = "the plain chain";

let sum = 0;
printKernels();
printFrames();
printSpots();
printRegions();
process.stdout.write(`\nSum of all results: ${sum.toFixed(3)}\n`);

/** Median of some runs, ms, after two that warm. */
function time(work: () => number, repeats = REPEATS): number {
  const times: number[] = [];
  for (let k = -2; k < repeats; k++) {
    const start = performance.now();
    const value = work();
    const ms = performance.now() - start;
    if (k < 0) continue;
    times.push(ms);
    sum += Number.isFinite(value) ? value : 0;
  }
  return medianTime(times);
}

/** Exponent of the growth from the first to the last. */
function exponent(sizes: readonly number[], times: readonly number[]): string {
  const last = sizes.length - 1;
  return (Math.log(times[last]! / times[0]!) / Math.log(sizes[last]! / sizes[0]!)).toFixed(2);
}

function withoutKernels<T>(work: () => T): T {
  useKernels(false);
  try {
    return work();
  } finally {
    useKernels(true);
  }
}

function printKernels(): void {
  const head = SIZES.map(([w, h]) => `${w}×${h}`.padStart(10)).join("");
  process.stdout.write(`ms${" ".repeat(28)}${head}   growth   640×480 without WebAssembly\n`);
  const pictures = SIZES.map(([width, height]) => ({ width, height, ...chainFrames(width, height) }));
  const middle = (data: Float32Array): number => data[data.length >> 1]!;
  const raster = ({ width, height }: (typeof pictures)[number], data: Float32Array) =>
    ({ unit: "degC", width, height, data }) as const;
  const kernels: [string, (p: (typeof pictures)[number]) => number][] = [
    ["Gaussian, 1.5 px", (p) => middle(gaussianFilter(p.powered, p.width, p.height, 1.5))],
    ["Gaussian, 4 px", (p) => middle(gaussianFilter(p.powered, p.width, p.height, 4))],
    ["Gaussian on cells, 4.4 px", (p) => middle(wideGaussian(p.powered, p.width, p.height, 4.4))],
    [
      "resampling, cubic",
      (p) => middle(warpRaster(p.powered, p.width, p.height, [1, 0.002, 0.4, -0.002, 1, -0.7])),
    ],
    [
      "resampling, spline",
      (p) =>
        middle(
          warpRaster(p.powered, p.width, p.height, [1, 0.002, 0.4, -0.002, 1, -0.7], { order: "spline" }),
        ),
    ],
    ["robust sigma", (p) => robustSigma(p.powered)],
    ["lone pixels", (p) => findLonePixels(p.powered, p.width, p.height, 8, 0).length],
    ["columns and rows", (p) => linePattern([raster(p, p.baseline), raster(p, p.powered)]).rowsK[3]!],
    [
      "scene and pattern",
      (p) =>
        separatePattern(raster(p, p.baseline), {
          columnsK: new Float64Array(p.width),
          rowsK: new Float64Array(p.height),
        }).patternSigmaK,
    ],
    ["alignment", (p) => alignFrames(raster(p, p.baseline), raster(p, p.powered)).transform.dxPx],
    [PLAIN_CHAIN, (p) => plainChain(raster(p, p.baseline), raster(p, p.powered)).length],
  ];
  const pixels = SIZES.map(([w, h]) => w * h);
  for (const [name, work] of kernels) {
    const times = pictures.map((picture) => time(() => work(picture)));
    const plain = name === PLAIN_CHAIN ? null : withoutKernels(() => time(() => work(pictures[2]!)));
    const row = times.map((ms) => ms.toFixed(2).padStart(10)).join("");
    process.stdout.write(
      `${name.padEnd(30)}${row}   ${exponent(pixels, times).padStart(6)}   ${(plain?.toFixed(2) ?? "–").padStart(10)}\n`,
    );
  }
}

/** Bursts of one scene, without a board. */
function printFrames(): void {
  const [width, height] = SIZES[0];
  const { baseline, powered } = chainFrames(width, height);
  const random = makeRandom("growth");
  const noisy = (share: number) =>
    frameFromRaster({
      unit: "degC",
      width,
      height,
      data: baseline.map((v, i) => v + share * (powered[i]! - v) + 0.03 * random.normal()),
    } as const);
  const most = Math.max(...FRAMES);
  const before = Array.from({ length: 8 }, () => noisy(0));
  const all = Array.from({ length: most }, (_, k) => noisy(1 - Math.exp(-(k + 1) / 40)));
  const times = FRAMES.map((frames) =>
    time(
      () => analyse({ baseline: before, powered: all.slice(0, frames), rateHz: 10 }).findings.hotspots.length,
      3,
    ),
  );
  printGrowth(`frames of ${width}×${height}, no board`, FRAMES, times);
}

/** Warm spots in a frame. */
function printSpots(): void {
  const [width, height] = SIZES[2];
  const { baseline } = chainFrames(width, height);
  const random = makeRandom("growth, spots");
  const raster = (data: Float32Array) => frameFromRaster({ unit: "degC", width, height, data } as const);
  const times = SPOTS.map((count) => {
    const data = baseline.map((v) => v + 0.04 * random.normal());
    const across = Math.ceil(Math.sqrt(count));
    for (let k = 0; k < count; k++) {
      const cx = Math.round((((k % across) + 0.5) * width) / across);
      const cy = Math.round(((Math.floor(k / across) + 0.5) * height) / across);
      for (let y = Math.max(0, cy - 9); y < Math.min(height, cy + 10); y++) {
        for (let x = Math.max(0, cx - 9); x < Math.min(width, cx + 10); x++) {
          data[y * width + x]! += 1.5 * Math.exp(-0.5 * (((x - cx) ** 2 + (y - cy) ** 2) / 9));
        }
      }
    }
    const input = { baseline: [raster(baseline)], powered: [raster(data)] };
    return time(() => analyse(input).findings.hotspots.length, 3);
  });
  printGrowth(`warm spots in ${width}×${height}, no board`, SPOTS, times);
}

/** The fit, with so many regions in a lattice over a board. */
function printRegions(): void {
  const scene = makeScene("still", 90_004);
  const times = REGIONS.map((count) => {
    const board: BoardMap = { ...scene.board, regions: lattice(scene.board, count) };
    const input = {
      baseline: scene.baseline.map((frame) => frameFromRaster(frame)),
      powered: scene.powered.map((frame) => frameFromRaster(frame)),
      board,
      view: scene.view,
      rateHz: scene.rateHz,
    };
    let from = 0;
    let fit = 0;
    const runs: number[] = [];
    for (let k = 0; k < 3; k++) {
      const { findings } = analyse(input, {}, (stage) => {
        const now = performance.now();
        if (stage === "sources") fit = now - from;
        from = now;
      });
      sum += findings.hotspots.length;
      runs.push(fit);
    }
    return medianTime(runs);
  });
  const { width, height } = scene.baseline[0]!;
  printGrowth(`regions, the fit alone, ${width}×${height}`, REGIONS, times);
  process.stdout.write(`${" ".repeat(4)}500 regions are to be fitted within 1000 ms\n`);
}

function lattice({ outline, regions }: BoardMap, count: number): Region[] {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const across = Math.ceil(Math.sqrt((count * (maxX - minX)) / (maxY - minY)));
  const down = Math.ceil(count / across);
  const [w, h] = [(maxX - minX) / across, (maxY - minY) / down];
  return Array.from({ length: count }, (_, k): Region => {
    const x = minX + ((k % across) + 0.2) * w;
    const y = minY + (Math.floor(k / across) + 0.2) * h;
    return {
      ...regions[0]!,
      ref: `X${k}`,
      finish: "moulded",
      polygon: [
        [x, y],
        [x + 0.6 * w, y],
        [x + 0.6 * w, y + 0.6 * h],
        [x, y + 0.6 * h],
      ],
    };
  });
}

function printGrowth(what: string, sizes: readonly number[], times: readonly number[]): void {
  const row = sizes.map((size, k) => `${size}: ${times[k]!.toFixed(0)} ms`).join(", ");
  process.stdout.write(`\n${what}: ${row}; grows with the power ${exponent(sizes, times)}\n`);
}
