import { describe, expect, it } from "vitest";
import { parseBoardMap } from "../../../src/board/parse-board-map.js";
import { parseView } from "../../../src/board/parse-view.js";
import { createRaster } from "../../../src/core/raster.js";
import { framePoint } from "../../../src/core/units.js";
import { analyse } from "../../../src/findings/analyse.js";
import { ANALYSE_DEFAULTS } from "../../../src/findings/analyse-options.js";
import { preparePair } from "../../../src/findings/prepare-pair.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { warpRaster } from "../../../src/numeric/warp.js";
import { contrastToNoise } from "../../../src/rise/burst-weights.js";
import { timeCourse } from "../../../src/rise/time-course.js";
import { makeScene } from "../../simulate/make-scene.js";
import type { Kind, Scene, SimFrame } from "../../simulate/scene.js";

const frameOf = ({ width, height, data }: SimFrame) =>
  frameFromRaster(createRaster("degC", width, height, data));

function inputOf(scene: Scene) {
  return {
    baseline: scene.baseline.map(frameOf),
    powered: scene.powered.map(frameOf),
    board: parseBoardMap(scene.board, "board.json").board,
    view: parseView(scene.view, "view.json").view,
    rateHz: scene.rateHz,
  };
}

const scenes = new Map<string, Scene>();
function sceneOf(kind: Kind, seed: number): Scene {
  const name = `${kind} ${seed}`;
  if (!scenes.has(name)) scenes.set(name, makeScene(kind, seed));
  return scenes.get(name)!;
}

describe("a burst from power-on (simulated, one part heats)", () => {
  it.each([810, 812])(
    "scene %i: weights no worse than the best frame, onset at power-on, place within its error",
    (seed) => {
      const scene = sceneOf("burst", seed);
      const { baseline, powered, rateHz } = inputOf(scene);
      const source = scene.truth.sources[0]!;
      const pair = preparePair(baseline, powered, null, null, null, rateHz, ANALYSE_DEFAULTS);
      const { burst } = pair;
      expect(burst!.odd).toEqual([]);
      expect(burst!.weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
      const { timesS, riseK, sigmaK } = timeCourse(
        burst!,
        pair.rise,
        framePoint(...source.px),
        2,
        pair.alignment.transform,
      )!;
      const beta = 1 / baseline.length;
      const reached = contrastToNoise(burst!.weights, riseK, beta);
      const equal = new Float64Array(riseK.length).fill(1 / riseK.length);
      expect(reached).toBeGreaterThan(0.999 * contrastToNoise(equal, riseK, beta));
      // The best single frame is picked by heights that are noisy themselves: two of their sigma are left to luck.
      expect(reached).toBeGreaterThan((Math.max(...riseK) - 2 * sigmaK[0]!) / Math.sqrt(1 + beta));
      expect(burst!.effectiveTimeS).toBeGreaterThan(timesS[0]!);
      expect(burst!.effectiveTimeS).toBeLessThan(timesS[timesS.length - 1]!);

      const { hotspots } = analyse({ baseline, powered, rateHz }).findings;
      const spot = hotspots.find(
        ({ sourcePx: [x, y] }) => Math.hypot(x - source.px[0], y - source.px[1]) < 3,
      )!;
      expect(spot.course).toHaveLength(powered.length);
      expect(spot.course!.map(({ timeS }) => timeS)).toEqual([...timesS]);
      // Power-on lies anywhere within the first interval, which the stated error includes: three of it.
      expect(spot.onsetS!).toBeLessThan(3 * spot.onsetSigmaS!);
      expect(spot.rateKPerS!).toBeGreaterThan(0);
      expect(spot.rateKPerS!).toBeGreaterThan(2 * spot.rateSigmaKPerS!);
      // A part's own shape can pull more than its error says, by some tenths of a pixel.
      const off = Math.hypot(spot.sourcePx[0] - source.px[0], spot.sourcePx[1] - source.px[1]);
      expect(off).toBeLessThan(Math.max(0.4, 4 * spot.sourceSigmaPx));
    },
  );

  it("without a rate nothing is said of time", () => {
    const input = inputOf(sceneOf("burst", 810));
    const { hotspots } = analyse({ ...input, rateHz: null }).findings;
    expect(hotspots.length).toBeGreaterThan(0);
    for (const { onsetS, onsetSigmaS, course } of hotspots) {
      expect([onsetS, onsetSigmaS, course]).toEqual([null, null, null]);
    }
  });

  it("N_FRAMES_LEFT_OUT: the board was pushed near the end; those frames are named, and the answer stays", () => {
    const input = inputOf(sceneOf("burst", 812));
    const count = input.powered.length;
    const pushed = input.powered.map(({ raster }, k) => {
      if (k < count - 2) return frameFromRaster(raster);
      const { width, height, data } = raster;
      const moved = warpRaster(data, width, height, [1, 0, -1.6, 0, 1, 0.9]);
      return frameFromRaster(
        createRaster(
          "degC",
          width,
          height,
          moved.map((value, i) => (Number.isNaN(value) ? data[i]! : value)),
        ),
      );
    });
    const whole = analyse(input).findings;
    const { notes, suspects, hotspots } = analyse({ ...input, powered: pushed }).findings;
    const note = notes.find(({ code }) => code === "N_FRAMES_LEFT_OUT")!;
    expect(note.text).toContain(`frames ${count - 1}, ${count}`);
    expect(note.text).toMatch(/moved by up to (1\.[5-9]|2(\.[0-3])?) px/);
    expect(suspects[0]!.ref).toBe(whole.suspects[0]!.ref);
    expect(hotspots[0]!.course).toHaveLength(count - 2);
    expect(whole.notes.map(({ code }) => code)).not.toContain("N_FRAMES_LEFT_OUT");
  });
});

describe("a burst in which parts begin one after the other (simulated)", () => {
  it.each([820, 821])("scene %i: each onset within three of its errors, and who was first", (seed) => {
    const scene = sceneOf("onsets", seed);
    const { findings } = analyse(inputOf(scene));
    const known = scene.truth.sources.flatMap((source) => {
      const suspect = findings.suspects.find(({ ref, powerW }) => ref === source.ref && powerW !== null);
      const spot = findings.hotspots.find(({ rank }) => rank === suspect?.hotspot);
      return spot === undefined || spot.onsetS === null ? [] : [{ source, spot, suspect: suspect! }];
    });
    expect(known.length).toBeGreaterThan(0);
    for (const { source, spot } of known) {
      expect(Math.abs(spot.onsetS! - source.onsetS)).toBeLessThan(3 * spot.onsetSigmaS!);
    }
    const first = known.filter(({ spot }) => (spot.onsetLeadSigma ?? 0) > 3);
    expect(first).toHaveLength(1);
    for (const { source, suspect } of first) {
      for (const other of known) expect(source.onsetS).toBeLessThanOrEqual(other.source.onsetS);
      expect(suspect.why.join(" ")).toMatch(/heated first: it began to warm .* ± .* s after power-on/);
    }
  });
});
