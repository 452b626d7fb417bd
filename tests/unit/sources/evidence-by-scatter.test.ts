import { describe, expect, it } from "vitest";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { addColumn } from "../../../src/sources/column.js";
import { evidenceByScatter } from "../../../src/sources/evidence-by-scatter.js";
import { sizesOf } from "../../../src/sources/picture.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { heatUnderMirror } from "../../../src/sources/recast-candidate.js";
import { makeRandom } from "../../simulate/random.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const NOISE_K = 0.04;
const model = modelOf();
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
/** A part that shows its hill alone. */
const hidden = heatUnderMirror(partOf(model, "U2"));

/** What is lost without the part, in χ² and by what the fit leaves. */
function weighed(seed: string, add: (rise: Float32Array) => void): { lost: number; byScatter: number } {
  const random = makeRandom(seed);
  const rise = Float32Array.from({ length: model.size }, () => NOISE_K * random.normal());
  add(rise);
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  const fit = new ProjectedFit(rise, variance, levelColumns(model, 0.3));
  const pool = new CandidatePool(model, fit, state);
  const [without, answer] = [pool.fitSet([]), pool.fitSet([hidden])];
  const byScatter = evidenceByScatter(fit, without, answer, variance, sizesOf(model.pictures));
  return { lost: answer.gain - without.gain, byScatter };
}

/** Share of what the part's hill tells beside the board's level, block by block of 24 px. */
function shares(): number[] {
  const { width, onBoard } = model.pictures[0]!.seen;
  const hill = new Float32Array(model.size);
  addColumn(hill, model.plateColumn(hidden, state), 1);
  const mean =
    hill.reduce((sum, k, i) => sum + k * onBoard[i]!, 0) / onBoard.reduce((sum, one) => sum + one, 0);
  const blocks = new Map<string, number>();
  for (const [i, k] of hill.entries()) {
    const block = `${Math.floor((i % width) / 24)} ${Math.floor(i / width / 24)}`;
    blocks.set(block, (blocks.get(block) ?? 0) + (k - mean * onBoard[i]!) ** 2);
  }
  const all = [...blocks.values()].reduce((sum, one) => sum + one, 0);
  return [...blocks.values()].map((one) => one / all);
}

describe("evidenceByScatter", () => {
  it("is about the χ² lost in white noise of the stated variance", () => {
    const draws = 40;
    const ratios = Array.from({ length: draws }, (_, k) => {
      const { lost, byScatter } = weighed(`white ${k}`, (rise) =>
        addColumn(rise, model.plateColumn(hidden, state), 0.1),
      );
      return lost / byScatter;
    });
    const mean = ratios.reduce((sum, one) => sum + one, 0) / draws;
    // What a block of white noise adds has the variance q, the block's share of what the source tells; the fit makes
    // the sum of all blocks 0. So the sum of squares has the mean 1 − Σq² and a variance of at most 2·Σq².
    const sameBlock = shares().reduce((sum, q) => sum + q * q, 0);
    expect(Math.abs(mean - (1 - sameBlock))).toBeLessThan(3 * Math.sqrt((2 * sameBlock) / draws));
  });

  it("is next to none of a patch with sharp edges that a hill was laid over", () => {
    const { width } = model.pictures[0]!.seen;
    const { lost, byScatter } = weighed("patch", (rise) => {
      // A third of the part's face and as much of the board beside it: bare metal that the map does not draw.
      const at = partOf(model, "U2").body!.at!;
      const [x0, y0] = [Math.min(...at.map((i) => i % width)) - 6, Math.floor(at[0]! / width) - 2];
      for (let y = y0; y < y0 + 10; y++) for (let x = x0; x < x0 + 14; x++) rise[y * width + x]! += 3;
    });
    expect(lost).toBeGreaterThan(1000);
    expect(byScatter).toBeLessThan(20);
  });
});
