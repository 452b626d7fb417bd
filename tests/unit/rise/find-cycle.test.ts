import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { checkCycleFrames, checkCyclePeriod } from "../../../src/rise/check-cycle.js";
import { findCycle, searchCycle } from "../../../src/rise/find-cycle.js";
import { caught } from "../frames/caught.js";
import { makeSequence, unevenness } from "./make-sequence.js";

describe("searchCycle", () => {
  it("E_CYCLE_LONG refuses more frames than can be compared at once, and says how many can", () => {
    const { powered } = makeSequence({ seed: "long", frames: 60, before: 0, width: 47, height: 33 });
    const most = (mostBytes: number) => caught(() => searchCycle(powered, { mostBytes }));
    // 11×8 cells of 24 bytes a frame.
    const error = most(11 * 8 * 24 * 60 - 1);
    expect(error.code).toBe("E_CYCLE_LONG");
    expect(error.parts.fix).toContain("at most 59 ");
    expect(searchCycle(powered, { mostBytes: 11 * 8 * 24 * 60 })).toEqual(searchCycle(powered));
  });

  it.each([
    ["a sine", 21.7, false, 0.005],
    ["a square wave", 17.3, true, 0.005],
    ["a fast square wave", 5.13, true, 0.005],
    // So slow that it might be drift: stronger, to be believed.
    ["four periods", 251, false, 0.02],
  ])(
    "%s of %f frames is found in 37 mK of noise, to its own uncertainty",
    (_, periodFrames, square, amplitudeK) => {
      const { powered } = makeSequence({
        seed: `search ${periodFrames}`,
        before: 0,
        periodFrames,
        square,
        amplitudeK,
      });
      const found = searchCycle(powered)!;
      expect(found.pValue).toBeLessThan(1e-6);
      // Four standard errors.
      expect(Math.abs(found.periodFrames - periodFrames)).toBeLessThan(4 * found.periodSigmaFrames);
      expect(found.periodSigmaFrames / periodFrames).toBeLessThan(0.1);
    },
  );

  it("a fundamental weaker than its harmonic is found all the same", () => {
    const { powered } = makeSequence({ seed: "harmonic", frames: 400, before: 0, width: 47, height: 33 });
    const course = (n: number) =>
      0.02 * Math.cos((2 * Math.PI * n) / 40.6) + 0.03 * Math.cos((4 * Math.PI * n) / 40.6 + 0.7);
    powered.forEach(({ data }, n) => {
      for (let y = 12; y < 19; y++) for (let x = 20; x < 28; x++) data[47 * y + x]! += course(n);
    });
    // The line of 400 frames is 1/400 wide; noise moves its top by a twentieth of that.
    expect(Math.abs(searchCycle(powered)!.periodFrames - 40.6)).toBeLessThan(0.4);
  });

  it("noise alone: chances of 100 sequences are never too small", () => {
    const chances = Array.from({ length: 100 }, (_, k) => {
      const { powered } = makeSequence({ seed: `none ${k}`, width: 37, height: 29, frames: 48, before: 0 });
      return searchCycle(powered)!.pValue;
    });
    // Kolmogorov & Smirnov, one side: one set of 100 in two thousand is further off than 1.95/√100. The other side is
    // not asked for: cells share their surroundings, so that they are fewer independent ones than are counted.
    expect(unevenness(chances).above).toBeLessThan(0.195);
    expect(chances.filter((chance) => chance < 0.5).length).toBeGreaterThan(10);
  });

  it("nothing that varies, or no cell with readings throughout: null", () => {
    const still = Array.from({ length: 20 }, () => createRaster("degC", 16, 12));
    expect(searchCycle(still)).toBeNull();
    const holes = still.map(() => createRaster("degC", 16, 12, new Float32Array(192).fill(Number.NaN)));
    expect(searchCycle(holes)).toBeNull();
    expect(() => findCycle(holes)).toThrow(/E_CYCLE_NONE/);
  });
});

describe("findCycle", () => {
  it("1000 frames in which nothing heats, with drift: an error that says so", () => {
    const { powered } = makeSequence({ seed: "nothing", width: 53, height: 37, before: 0 });
    expect(() => findCycle(powered)).toThrow(
      /^E_CYCLE_NONE: nothing in the 1000 powered frames follows a rhythm .*--cycle SECONDS/,
    );
  });
});

describe("checks", () => {
  it.each([
    [null, "found none"],
    [0, "found 0 Hz"],
    [Number.NaN, "found NaN Hz"],
  ])("a rate of %s: E_CYCLE_RATE", (rate, words) => {
    expect(() => checkCycleFrames(100, rate)).toThrow(new RegExp(`^E_CYCLE_RATE: .*${words}.*--rate HZ`));
  });

  it("too few frames: E_CYCLE_FRAMES", () => {
    expect(() => checkCycleFrames(15, 9)).toThrow(/^E_CYCLE_FRAMES: .*16 powered frames or more, found 15/);
    expect(checkCycleFrames(16, 9)).toBe(9);
  });

  it("less than two periods: E_CYCLE_FRAMES; just two will do", () => {
    expect(() => checkCyclePeriod(90, 9, 5.1)).toThrow(/^E_CYCLE_FRAMES: 90 frames at 9 Hz last 10.0 s/);
    expect(() => checkCyclePeriod(90, 9, 5)).not.toThrow();
  });

  it.each([0, -3, Number.NaN, Number.POSITIVE_INFINITY, 0.2222])(
    "a period of %f s at 9 Hz: E_CYCLE_PERIOD",
    (period) => {
      expect(() => checkCyclePeriod(90, 9, period)).toThrow(
        /^E_CYCLE_PERIOD: .*more than two frames, 0.225 s/,
      );
    },
  );
});
