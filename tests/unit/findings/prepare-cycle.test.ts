// Cycled power through the whole chain, on frames of the tests' own making.
import { describe, expect, it } from "vitest";
import type { Raster } from "../../../src/core/raster.js";
import { createRaster } from "../../../src/core/raster.js";
import { ANALYSE_DEFAULTS } from "../../../src/findings/analyse-options.js";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import { findingsSchema } from "../../../src/findings/findings-schema.js";
import { prepareCycle } from "../../../src/findings/prepare-cycle.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { makeRandom } from "../../simulate/random.js";
import { MEASURED, makeSequence, type SequenceRecipe } from "../rise/make-sequence.js";
import { modelOf, partOf } from "../sources/small-model.js";
import { switchedPlate } from "../sources/switched-plate.js";
import { BOARD, badNumbers, makeAttempt, VIEW } from "./make-attempt.js";

const RATE_HZ = 9;

function makeFrames(recipe: Partial<SequenceRecipe>): { baseline: Frame[]; powered: Frame[] } {
  const { baseline, powered } = makeSequence(recipe);
  return { baseline: baseline.map(frameFromRaster), powered: powered.map(frameFromRaster) };
}

const prepare = ({ baseline, powered }: { baseline: Frame[]; powered: Frame[] }, cycleS: number | "find") =>
  prepareCycle(baseline, powered, cycleS, RATE_HZ, null, null, null, ANALYSE_DEFAULTS);

describe("a leak of 5 mK in frames of 37 mK", () => {
  const frames = makeFrames({ seed: "leak", amplitudeK: 0.005, square: true });
  const cycleS = MEASURED.periodFrames / RATE_HZ;

  it("is not seen in a pair of eight frames each", () => {
    // Eight frames without power and the eight of the warm half of one period.
    const powered = frames.powered.slice(1, 9);
    expect(findHotspots({ baseline: frames.baseline, powered }).hotspots).toEqual([]);
  });

  it.each([cycleS, "find"] as const)(
    "is the one hotspot when 1000 frames are followed with cycle %s",
    (cycle) => {
      const findings = findHotspots({ ...frames, rateHz: RATE_HZ, cycleS: cycle });
      expect(findingsSchema.parse(findings)).toEqual(findings);
      expect(badNumbers(findings)).toEqual([]);
      expect(findings.hotspots).toHaveLength(1);
      const [hotspot] = findings.hotspots;
      // Peak 5 mK over 1.65 mK of noise in a spot of σ = 3 px: 0.8·1.65/5 is the bound, 0.27 px; four of it in all.
      expect(Math.hypot(hotspot!.sourcePx[0] - 47, hotspot!.sourcePx[1] - 22)).toBeLessThan(1.1);
      // Smoothing by 1.3 px takes 16 % off a spot of σ = 3 px; the noise left is 0.4 mK.
      expect(hotspot!.peakRiseK).toBeGreaterThan(0.0028);
      expect(hotspot!.peakRiseK).toBeLessThan(0.0065);
      const found = findings.cycle!;
      expect(found.frames).toBe(1000);
      // 46 periods: a line as strong is placed to some 0.1 %.
      expect(Math.abs(found.periodS / cycleS - 1)).toBeLessThan(0.004);
      expect(found.pValue).toBeLessThan(1e-9);
      expect(found.hotspots).toEqual([
        expect.objectContaining({ rank: 1, pValue: expect.closeTo(found.pValue, 9) }),
      ]);
      // A signal of 14 sigma: 1/14 rad or 4° for the phase, four of it; where the period is looked for, twice as much,
      // since its error turns the phase at the first frame.
      const off = ((found.phaseDeg - (MEASURED.phaseRad * 180) / Math.PI + 540) % 360) - 180;
      expect(Math.abs(off)).toBeLessThan(cycle === "find" ? 33 : 17);
      const text = findings.notes.find(({ code }) => code === "N_CYCLE")!.text;
      expect(text).toContain("1000 frames");
      expect(text.includes("found in the frames")).toBe(cycle === "find");
      // Without a board no watts are told.
      expect(text).not.toContain("watts");
    },
  );

  it("at another period than the supply's there is nothing, and a remark names the stronger rhythm", () => {
    const findings = findHotspots({ ...frames, rateHz: RATE_HZ, cycleS: 1.3 * cycleS });
    expect(findings.hotspots).toEqual([]);
    expect(findings.cycle!.pValue).toBeGreaterThan(0.001);
    const text = findings.notes.find(({ code }) => code === "N_CYCLE_OTHER")!.text;
    expect(text).toContain("a period of 2.4");
    expect(text).toContain("--cycle find");
  });

  it("frames of a board that was nudged: the place is that of the baseline", () => {
    const nudged = makeFrames({ seed: "nudged leak", amplitudeK: 0.008, nudgePx: [3, -2] });
    const findings = findHotspots({ ...nudged, rateHz: RATE_HZ, cycleS });
    expect(findings.alignment.dxPx).toBeCloseTo(3, 0);
    expect(findings.alignment.dyPx).toBeCloseTo(-2, 0);
    const { sourcePx } = findings.hotspots[0]!;
    // The spot belongs to the scene: it moved with the board, and comes back with it.
    expect(Math.hypot(sourcePx[0] - 47, sourcePx[1] - 22)).toBeLessThan(1.1);
  });
});

describe("the noise of an amplitude", () => {
  it("1000 frames of 37 mK with pattern, drift and a wandering level: within 1.1 × √(2/N)·σ, and nothing found", () => {
    const pair = prepare(makeFrames({ seed: "noise only" }), MEASURED.periodFrames / RATE_HZ);
    const ratio = pair.cycle.amplitudeSigmaK / (Math.sqrt(2 / 1000) * MEASURED.noiseK);
    expect(ratio).toBeGreaterThan(0.95);
    expect(ratio).toBeLessThan(1.1);
    // What is stated is what the raster shows; a shift of a hundredth of a pixel leaves no reading along the border.
    const known = pair.rise.data.filter((value) => value * 0 === 0);
    const rms = Math.sqrt(known.reduce((sum, value) => sum + value * value, 0) / known.length);
    expect(rms / pair.cycle.amplitudeSigmaK).toBeGreaterThan(0.93);
    expect(rms / pair.cycle.amplitudeSigmaK).toBeLessThan(1.07);
    expect(pair.cycle.pValue).toBeGreaterThan(0.001);
    expect(pair.cycle.otherPeriodS).toBeNull();
  });

  it("single pixels that follow the supply alone are the sensor's, not heat", () => {
    const frames = makeSequence({ seed: "lone", frames: 200, width: 61, height: 47 });
    frames.powered.forEach(({ data }, n) => {
      data[61 * 20 + 33]! += 0.3 * Math.cos((2 * Math.PI * n) / MEASURED.periodFrames);
    });
    const findings = findHotspots({
      baseline: frames.baseline.map(frameFromRaster),
      powered: frames.powered.map(frameFromRaster),
      rateHz: RATE_HZ,
      cycleS: MEASURED.periodFrames / RATE_HZ,
    });
    expect(findings.hotspots).toEqual([]);
    expect(findings.artefacts).toEqual([expect.objectContaining({ kind: "pixel", px: [33, 20] })]);
  });
});

describe("with a board", () => {
  const WATTS = 0.002;

  it("2 mW that come and go in one part name it, watts and all; a pair of the same frames shows nothing", () => {
    const { width, height } = VIEW.frame;
    const model = modelOf();
    const { cosine, sine } = switchedPlate(model, partOf(model, "C1"), WATTS, 2);
    const still = makeAttempt({ seed: "board at rest", frames: 1, noiseK: 0, patternK: 0.1 }).baseline[0]!;
    const random = makeRandom("cycled board");
    let levelK = 0;
    const frame = (c: number, s: number): Raster<"degC"> => {
      levelK += 0.022 * random.normal();
      const data = still.raster.data.map(
        (v, i) => v + c * cosine[i]! + s * sine[i]! + levelK + 0.037 * random.normal(),
      );
      return createRaster("degC", width, height, data);
    };
    const baseline = Array.from({ length: 8 }, () => frameFromRaster(frame(0, 0)));
    const powered = Array.from({ length: 400 }, (_, n) =>
      frameFromRaster(frame(Math.cos((2 * Math.PI * n) / 18), Math.sin((2 * Math.PI * n) / 18))),
    );
    const context = { board: BOARD, view: VIEW };
    const pair = findHotspots({ baseline, powered: powered.slice(3, 9), ...context });
    expect(pair.suspects).toEqual([]);
    const findings = findHotspots({ baseline, powered, ...context, rateHz: RATE_HZ, cycleS: 2 });
    expect(findings.suspects[0]!.ref).toBe("C1");
    expect(findings.suspects[0]!.probability).toBeGreaterThan(0.5);
    const { powerW, powerSigmaW } = findings.hotspots[0]!;
    expect(Math.abs(powerW! - WATTS)).toBeLessThan(2 * powerSigmaW!);
    expect(powerSigmaW).toBeLessThan(0.6 * WATTS);
    // On begins the first period: its first harmonic is a sine, 90° behind the cosine, and heat follows by up to a
    // quarter of a period.
    expect(findings.cycle!.phaseDeg).toBeGreaterThan(100);
    expect(findings.cycle!.phaseDeg).toBeLessThan(170);
    expect(findings.options).toMatchObject({ cycleS: 2 });
    const textOf = (code: string) => findings.notes.find((one) => one.code === code)!.text;
    expect(textOf("N_CYCLE")).toContain("watts are those while it is on");
    expect(textOf("N_PLATE_ASSUMED")).toMatch(
      /^Watts rest on the heat that the board holds, 2400 J\/m²K \(that of a usual board\)/,
    );
  });
});

describe("what can't be followed", () => {
  const frames = makeFrames({ seed: "short", frames: 40, width: 23, height: 17, before: 2 });

  it.each([
    ["no rate", { cycleS: 1 }, /^E_CYCLE_RATE/],
    ["less than two periods", { cycleS: 3, rateHz: 9 }, /^E_CYCLE_FRAMES/],
    ["a period of less than two frames", { cycleS: 0.2, rateHz: 9 }, /^E_CYCLE_PERIOD/],
    ["a period below zero", { cycleS: -1, rateHz: 9 }, /^E_CYCLE_PERIOD/],
    ["no rhythm to be found", { cycleS: "find" as const, rateHz: 9 }, /^E_CYCLE_NONE/],
  ])("%s: an error", (_, options, expected) => {
    expect(() => findHotspots({ ...frames, ...options })).toThrow(expected);
  });

  it("too few frames, frames of different sizes, and no reading at all: errors", () => {
    const few = { ...frames, powered: frames.powered.slice(0, 9) };
    expect(() => findHotspots({ ...few, rateHz: 9, cycleS: 0.4 })).toThrow(/^E_CYCLE_FRAMES/);
    const odd = frameFromRaster(createRaster("degC", 24, 17));
    const mixed = { ...frames, powered: [...frames.powered, odd] };
    expect(() => findHotspots({ ...mixed, rateHz: 9, cycleS: 1 })).toThrow(/^E_FRAME_SIZE/);
    const empty = frameFromRaster(createRaster("degC", 23, 17, new Float32Array(23 * 17).fill(Number.NaN)));
    const blank = { ...frames, powered: frames.powered.map(() => empty) };
    expect(() => findHotspots({ ...blank, rateHz: 9, cycleS: 1 })).toThrow(/^E_FRAME_EMPTY/);
  });

  it("without the option there is no cycle in the findings", () => {
    expect(findHotspots({ ...frames }).cycle).toBeNull();
  });
});
