import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { showRise } from "../sources/relaxed-plate.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

const EMISSIVITY = 0.1;
/** U2, 7 × 6 mm, is a metal can in this map. */
const SHINY: BoardMap = {
  ...BOARD,
  regions: BOARD.regions.map((region) =>
    region.ref === "U2" ? { ...region, finish: undefined, emissivity: EMISSIVITY } : region,
  ),
};
/** Pixels wholly on the can: x′ = 2.7·x + 9.3, y′ = 2.7·y + 14.8. */
const onCan = (x: number, y: number): boolean =>
  x > 9.3 + 2.7 * 23 && x < 9.3 + 2.7 * 30 && y > 14.8 + 2.7 * 13 && y < 14.8 + 2.7 * 19;

/** A pair with so many watts under the can, which itself shows a change of its own and nothing of the heat. */
function attempt(watts: number, faceK: number, noiseK: number, seed: string) {
  const { baseline, powered } = makeAttempt({ seed, noiseK, driftK: 0 });
  const { width, height } = VIEW.frame;
  const heat = showRise({ U2: watts }, 0, seed).data;
  const warm = (frame: Frame): Frame => {
    const data = frame.raster.data.map((value, i) => {
      const can = onCan(i % width, Math.floor(i / width));
      return value + (can ? faceK : heat[i]!);
    });
    return frameFromRaster(createRaster("degC", width, height, data) as Raster<"degC">);
  };
  return analyse({ baseline, powered: powered.map(warm), board: SHINY, view: VIEW, volts: 1, amps: 1 });
}

const quiet = attempt(0, 0, 0.04, "quiet").findings;
const limit = quiet.limits!.find(({ ref }) => ref === "U2")!;

describe("hiddenLimits", () => {
  it("lists the shiny faces in view, and no other", () => {
    expect(quiet.limits!.map(({ ref, side }) => [ref, side])).toEqual([["U2", "top"]]);
    expect(quiet.notes.find(({ code }) => code === "N_SHINY_LIMIT")!.text).toContain("U2 a rise of");
    const dull = analyse({ ...makeAttempt({ seed: "dull" }), board: BOARD, view: VIEW }).findings;
    expect(dull.limits).toEqual([]);
    expect(dull.notes.map(({ code }) => code)).not.toContain("N_SHINY_LIMIT");
  });

  it("watts: half as many again as stated are found under the can, a fifth is not", () => {
    const more = attempt(1.5 * limit.powerW!, 0, 0.04, "more").findings;
    expect(more.suspects[0]).toMatchObject({ ref: "U2", normallyWarm: false });
    // Before anything heats the state of the plate is not known: one that shows heat better finds less.
    const less = attempt(0.2 * limit.powerW!, 0, 0.04, "less").findings;
    expect(less.suspects.map(({ ref }) => ref)).not.toContain("U2");
  });

  it("kelvins: a face that is warmer by half as much again is seen, by half is not", () => {
    // At 0.1 and a few kelvin the band's radiance makes 1 to 4 % of difference to the plain product.
    const apparentK = EMISSIVITY * limit.riseK;
    const seen = attempt(0, 1.5 * apparentK, 0.04, "seen").findings;
    expect(seen.artefacts.map(({ kind }) => kind)).toContain("reflection");
    const unseen = attempt(0, 0.5 * apparentK, 0.04, "unseen").findings;
    expect(unseen.artefacts.filter(({ kind }) => kind === "reflection")).toEqual([]);
  });

  it("twice the noise hides about twice as much", () => {
    const loud = attempt(0, 0, 0.08, "quiet").findings.limits![0]!;
    // Noise is measured in each: some per cent of scatter; nuisances with priors do not grow with it.
    expect(loud.riseK / limit.riseK).toBeGreaterThan(1.6);
    expect(loud.riseK / limit.riseK).toBeLessThan(2.4);
    expect(loud.powerW! / limit.powerW!).toBeGreaterThan(1.3);
    expect(loud.powerW! / limit.powerW!).toBeLessThan(2.4);
  });

  it("nothing hot: says the fewest watts that would have been found, and so do the books", () => {
    const { text } = quiet.notes.find(({ code }) => code === "N_NOTHING_HOT")!;
    expect(text).toMatch(/half of the parts would have been found with [\d.]+ m?W each/);
    expect(quiet.threshold.powerW).toBeGreaterThan(0);
    expect(quiet.energy!.fedW).toBe(1);
    expect(quiet.energy!.seenW).toBe(0);
    expect(quiet.energy!.missingW).toBe(1);
  });
});
