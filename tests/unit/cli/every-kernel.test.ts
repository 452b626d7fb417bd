// A kernel that a change leaves without a caller, or whose caller goes by the plain code for good, gives the same
// results: only this, and the bench, would tell.
import { expect, it } from "vitest";
import { linePattern } from "../../../src/align/line-pattern.js";
import { patternSigma } from "../../../src/align/separate-pattern.js";
import { main } from "../../../src/cli/main.js";
import { analyse } from "../../../src/findings/analyse.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { makeKernels } from "../../../src/numeric/kernels.js";
import { makeScene } from "../../simulate/make-scene.js";
import type { Kind } from "../../simulate/scene.js";
import { watchKernels } from "../numeric/kernel-calls.js";
import { fakeSurroundings } from "./fake-surroundings.js";

const SAMPLES = "sample-frames";

async function find(attempt: string, more: readonly string[] = []): Promise<void> {
  const frames = ["--baseline", `${attempt}/baseline`, "--powered", `${attempt}/powered`];
  const surroundings = fakeSurroundings();
  const status = await main(["find", ...frames, ...more], surroundings);
  expect(status, surroundings.printed().err).toBe(0);
}

function analyseScene(kind: Kind, seed: number): void {
  const { baseline, powered, board, view } = makeScene(kind, seed);
  const frames = (rasters: typeof baseline) => rasters.map((raster) => frameFromRaster(raster));
  analyse({ baseline: frames(baseline), powered: frames(powered), board, view });
}

// Six whole runs, of a second each where nothing else goes on.
it("every kernel is called by one run or another", async () => {
  const { called, stop } = watchKernels();
  try {
    const map = ["--board", `${SAMPLES}/board.json`];
    await find(`${SAMPLES}/attempt-1`);
    await find(`${SAMPLES}/attempt-1`, [...map, "--view", `${SAMPLES}/attempt-1/view-top.json`]);
    // A burst, as pictures.
    const burst = ["--view", `${SAMPLES}/attempt-2/view-top.json`, "--rate", "9"];
    await find(`${SAMPLES}/attempt-2`, [...map, ...burst]);
    analyseScene("nudged", 70_021);
    analyseScene("two-sides", 70_023);
    // Asked for where nobody needs the scene: by the plain chain that the bench is held by.
    const [frame] = makeScene("still", 70_024).baseline;
    patternSigma(frame!, linePattern([frame!]));
  } finally {
    stop();
  }
  const { memory: _, ...kernels } = makeKernels()!.run;
  expect(Object.keys(kernels).length).toBeGreaterThan(80);
  expect(Object.keys(kernels).filter((name) => !called.has(name))).toEqual([]);
}, 600_000);
