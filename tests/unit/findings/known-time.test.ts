import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/findings/analyse.js";
import type { AnalysisInput } from "../../../src/findings/analyse-options.js";
import { findingsSchema } from "../../../src/findings/findings-schema.js";
import { type Analyse, toolAnswer } from "../../evaluate/tool-chain.js";
import { makeScene } from "../../simulate/make-scene.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

const attempt = { ...makeAttempt({ watts: { U1: 0.21 }, seed: "known time" }), board: BOARD, view: VIEW };

describe("a time since power-on that is told", () => {
  it("is kept with the findings, and only where it was told", () => {
    expect(findingsSchema.parse(analyse({ ...attempt, afterS: 1200 }).findings).inputs.afterS).toBe(1200);
    expect("afterS" in analyse(attempt).findings.inputs).toBe(false);
    // A burst has times of its own.
    const powered = [attempt.powered[0]!, attempt.powered[0]!, attempt.powered[0]!];
    const burst = analyse({ ...attempt, powered, rateHz: 9, afterS: 1200 }).findings;
    expect("afterS" in burst.inputs).toBe(false);
  });

  it("says in the books what parts may hold themselves so soon, and not that the board warms: the watts count that", () => {
    const meaning = (afterS: number) =>
      analyse({ ...attempt, volts: 5, amps: 4, afterS }).findings.energy!.meaning;
    expect(meaning(3)).toContain("3.0 s after power-on up to 20 W");
    expect(meaning(12)).not.toMatch(/warming the board|in the parts themselves/);
  });

  // Scenes of the simulator that still warm, on plates that are told: their time is not to be had from the frames
  // alone.
  it("brings watts nearer to the truth on a plate that warms", { timeout: 60_000 }, () => {
    let [untold, told] = [0, 0];
    for (const seed of [790005, 790011, 790017, 790026]) {
      const scene = makeScene("eight-bit", seed);
      const fault = scene.truth.sources.find((source) => source.fault)!;
      const offBy = (afterS: number | null): number => {
        const ask = ((input) => analyse({ ...input, afterS } as AnalysisInput)) as Analyse;
        const { suspects } = toolAnswer(ask, { ...scene, volts: null, amps: null }, {});
        return Math.abs(Math.log(suspects.find(({ ref }) => ref === fault.ref)!.powerW! / fault.watts));
      };
      untold += offBy(null);
      told += offBy(scene.truth.timesS.at(-1)!);
    }
    expect(told).toBeLessThan(0.5 * untold);
  });
});
