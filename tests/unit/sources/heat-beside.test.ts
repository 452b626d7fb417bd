import { describe, expect, it } from "vitest";
import { polygonGap } from "../../../src/board/polygon-distance.js";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import { heatBeside } from "../../../src/sources/heat-beside.js";
import { type HeatJudge, heatLogOdds } from "../../../src/sources/heat-log-odds.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import type { FittedSource } from "../../../src/sources/source-fit.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import type { TriedPart } from "../../../src/sources/try-parts.js";
import { showRise } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf, statePools } from "./small-model.js";

const NOISE_K = 0.04;
const model = modelOf();
const [u1, c1] = [partOf(model, "U1"), partOf(model, "C1")];
const gapMm = polygonGap(u1.polygon, c1.polygon);

/** U1 heats, and C1 a little. @param neighbourMm what counts as right beside. */
function judgeOf(neighbourMm = gapMm + 0.1): HeatJudge {
  const rise = showRise({ U1: 0.05, C1: 0.012 }, NOISE_K, "two heat").data;
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  const pools = statePools(model, new ProjectedFit(rise, variance, levelColumns(model, 0.3)));
  const options = { ...FIT_DEFAULTS, neighbourMm };
  return {
    model,
    pool: pools[0]!.pool,
    pools: () => pools,
    scale: 1,
    room: () => ({ roomK: 0.1, warmerChance: 0.5 }),
    options,
  };
}

const sourceOf = (candidate: Candidate, powerW: number): FittedSource => ({
  candidate,
  powerW,
  powerSigmaW: 0.1 * powerW,
  powerLogSigma: 0.1,
  powerNoiseW: 0.01 * powerW,
  toTell: null,
  bodyShare: 1,
  heatChance: 1,
  mirrorChance: 0,
  ownShare: 1,
  bodyStep: 1,
  mirroredHill: 0,
  byFeed: null,
  evidence: 500,
  alternatives: [{ candidate, loss: 0 }],
});

const triedC1 = (change: Partial<TriedPart> = {}) =>
  new Map([[c1, { powerW: 0.015, sigmaW: 0.003, evidence: 12, mirrored: false, ...change }]]);

describe("heatBeside", () => {
  const listed = [sourceOf(u1, 0.05)];
  const chanceOf = (change: Partial<TriedPart>) =>
    heatBeside(judgeOf(), [u1], listed, triedC1(change))[0]?.chance ?? 0;

  it("lists a part right beside a source that brings more than noise", () => {
    const [one, ...more] = heatBeside(judgeOf(), [u1], listed, triedC1());
    expect(more).toEqual([]);
    expect([one!.candidate, one!.beside, one!.powerW, one!.evidence]).toEqual([c1, u1, 0.015, 12]);
    // 0.3 of the watts beside it is what uneven copper passes as: half of the usual 0.4.
    expect(one!.chance).toBeCloseTo(0.2, 9);
    expect(one!.powerSigmaW).toBeGreaterThan(0.003);
  });

  it("and not with less evidence, further away, nor beside a part that was named for the feed alone", () => {
    expect(chanceOf({ evidence: 9.9 })).toBe(0);
    expect(heatBeside(judgeOf(gapMm - 0.1), [u1], listed, triedC1())).toEqual([]);
    const byFeed = [{ ...listed[0]!, byFeed: [{ candidate: u1, probability: 0.5 }] }];
    expect(heatBeside(judgeOf(), [u1], byFeed, triedC1())).toEqual([]);
  });

  it("nor one that stands itself, does not show itself, or warms on a healthy board too", () => {
    expect(heatBeside(judgeOf(), [u1, c1], [...listed, sourceOf(c1, 0.015)], triedC1())).toEqual([]);
    const [, tried] = [...triedC1()][0]!;
    const given = (change: Partial<Candidate>) =>
      heatBeside(judgeOf(), [u1], listed, new Map([[{ ...c1, ...change }, tried]]));
    expect(given({})).toHaveLength(1);
    expect(given({ body: null })).toEqual([]);
    expect(given({ normallyWarm: true })).toEqual([]);
    expect(given({ ref: null })).toEqual([]);
  });

  it("is surer of more watts, and never surer than of one part in two", () => {
    expect(chanceOf({ powerW: 0.03 })).toBeGreaterThan(chanceOf({ powerW: 0.015 }));
    expect(chanceOf({ powerW: 5 })).toBeLessThan(0.5);
    expect(chanceOf({ powerW: 0.004 })).toBe(0);
  });

  it("says how probably its face mirrors the room, and leaves out what surely does", () => {
    const judge = judgeOf();
    const [one] = heatBeside(judge, [u1, mirrorOf(c1)], listed, triedC1({ mirrored: true }));
    expect(one!.mirrorChance).toBeCloseTo(1 / (1 + Math.exp(heatLogOdds(judge, c1, [u1]))), 9);
    // The room changed by just what the face shows, and the board around shows nothing.
    const step = showRise({ U1: 0.05 }, NOISE_K, "a mirror").data;
    const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
    c1.body!.at!.forEach((pixel, k) => {
      step[pixel]! += c1.body!.values[k]!;
    });
    const pools = statePools(model, new ProjectedFit(step, variance, levelColumns(model, 0.3)));
    const mirrored = {
      ...judge,
      pool: pools[0]!.pool,
      pools: () => pools,
      room: () => ({ roomK: 20, warmerChance: 0.5 }),
    };
    expect(heatLogOdds(mirrored, c1, [u1])).toBeLessThan(-3);
    expect(heatBeside(mirrored, [u1, mirrorOf(c1)], listed, triedC1({ mirrored: true }))).toEqual([]);
  });

  it("puts the most probable first", () => {
    const other = { ...c1, ref: "C9", footprint: { ...c1.footprint } } as Candidate;
    const [, tried] = [...triedC1()][0]!;
    const both = new Map([
      [c1, tried],
      [other, { ...tried, powerW: 0.03 }],
    ]);
    expect(heatBeside(judgeOf(), [u1], listed, both).map(({ candidate }) => candidate.ref)).toEqual([
      "C9",
      "C1",
    ]);
  });
});
