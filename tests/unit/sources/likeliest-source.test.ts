import { describe, expect, it } from "vitest";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import { type HeatJudge, heatLogOdds } from "../../../src/sources/heat-log-odds.js";
import { likeliestSource } from "../../../src/sources/likeliest-source.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { showRise } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf, statePools } from "./small-model.js";

const NOISE_K = 0.04;
/** Nothing stands. */
const none = new Map<Candidate, number>();
const model = modelOf();
const [u1, c1] = [partOf(model, "U1"), partOf(model, "C1")];

/** The room changed by 3 K. @param fedW power fed in, null where nobody told. */
function judgeOf(rise: Float32Array, fedW: number | null): HeatJudge {
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  const fit = new ProjectedFit(rise, variance, levelColumns(model, 0.3));
  const pools = statePools(model, fit);
  const options = { ...FIT_DEFAULTS, fedW };
  return {
    model,
    pool: pools[0]!.pool,
    pools: () => pools,
    scale: 1,
    room: () => ({ roomK: 3, warmerChance: 0.5 }),
    options,
  };
}

const heated = showRise({ U1: 0.05 }, NOISE_K, "U1 heats").data;
const stepped = Float32Array.from(heated);
partOf(model, "C1").body!.at!.forEach((pixel, k) => {
  stepped[pixel]! += 0.3 * c1.body!.values[k]!;
});

describe("likeliestSource", () => {
  it("names the part that the board around it tells most of, whatever the others show on their faces", () => {
    const judge = judgeOf(stepped, 0.08);
    const found = likeliestSource(judge, [u1, c1], [mirrorOf(u1), mirrorOf(c1)], none);
    expect(found!.candidate).toBe(u1);
    expect(found!.others).toEqual([mirrorOf(c1)]);
  });

  it("and not where no power is known of, nor beside a part that was found", () => {
    const mirrors = [mirrorOf(u1), mirrorOf(c1)];
    expect(likeliestSource(judgeOf(stepped, 0), [u1, c1], mirrors, none)).toBeNull();
    expect(likeliestSource(judgeOf(stepped, null), [u1, c1], mirrors, none)).toBeNull();
    expect(
      likeliestSource(judgeOf(stepped, 0.08), [u1, c1], [u1, mirrorOf(c1)], new Map([[u1, 0.08]])),
    ).toBeNull();
  });

  it("weighs what was found and is not sure like all others, beside what was taken for its own face's mirrored room", () => {
    const shield = { ...u1, body: null };
    const set = [shield, mirrorOf(u1)];
    const found = likeliestSource(judgeOf(stepped, 0.08), [u1, c1], set, none);
    expect(found?.candidate).toBe(shield);
    expect(found?.others).toEqual([mirrorOf(u1)]);
    expect(found?.chances.map(({ candidate }) => candidate)).not.toContain(u1);
  });

  it("names a less likely one where nothing shows that warms on a healthy board too", () => {
    const faint = judgeOf(showRise({ U1: 0.006 }, NOISE_K, "U1 is faint").data, 0.05);
    const warm = new Map([[{ ...c1, normallyWarm: true }, 1e-9]]);
    const alone = { ...faint, options: { ...faint.options, leastFedChance: 1, leastFedChanceAlone: 0 } };
    expect(likeliestSource(alone, [u1], [], none)).not.toBeNull();
    expect(likeliestSource(alone, [u1], [], warm)).toBeNull();
  });

  it("takes parts that warm on a healthy board for power too, beside which a small share is less likely a fault's", () => {
    const faint = showRise({ U1: 0.006 }, NOISE_K, "U1 is faint").data;
    const odds = (fedW: number | null, warmW: number) =>
      likeliestSource(judgeOf(faint, fedW), [u1], [], new Map([[{ ...c1, normallyWarm: true }, warmW]]))
        ?.logOdds ?? Number.NEGATIVE_INFINITY;
    expect(odds(null, 0.01)).toBeGreaterThan(odds(null, 0.02));
    expect(odds(0.05, 0.02)).toBeLessThan(odds(null, 0.02));
    // The processor alone took more than was fed in.
    expect(odds(0.006, 0.1)).toBe(Number.NEGATIVE_INFINITY);
  });

  it("gives every part its chance, and some to none of them", () => {
    const faint = showRise({ U1: 0.006, C1: 0.006 }, NOISE_K, "two are faint").data;
    const { candidate, chances, logOdds } = likeliestSource(judgeOf(faint, 0.02), [u1, c1], [], none)!;
    expect(chances.map((one) => one.candidate)).toEqual([u1, c1]);
    const own = chances.find((one) => one.candidate === candidate)!.probability;
    expect(own).toBeCloseTo(1 / (1 + Math.exp(-logOdds)), 9);
    const sum = chances.reduce((all, { probability }) => all + probability, 0);
    expect(sum).toBeGreaterThan(own);
    expect(sum).toBeLessThan(1);
  });

  it("is no surer than the evidence against noise allows, where nothing may mirror", () => {
    const faint = judgeOf(showRise({ U1: 0.003 }, NOISE_K, "U1 is hardly there").data, 0.003);
    const supplied = { ...faint, options: { ...faint.options, followsSupply: true, leastFedChanceAlone: 0 } };
    const gain = faint.pool.fitSet([u1]).gain;
    expect(heatLogOdds(supplied, u1, [])).toBe(Number.POSITIVE_INFINITY);
    const { logOdds } = likeliestSource(supplied, [u1], [], none)!;
    expect(logOdds).toBeLessThan(0.5 * gain - 4 + Math.log(9.3) - Math.log(1.5));
  });

  it("is no surer of it than its own odds against a mirror allow, and less the more watts can't be seen", () => {
    const faint = showRise({ U1: 0.006 }, NOISE_K, "U1 is faint").data;
    const chance = (fedW: number) =>
      likeliestSource(judgeOf(faint, fedW), [u1], [mirrorOf(u1)], none)?.logOdds ?? Number.NEGATIVE_INFINITY;
    const alone = heatLogOdds(judgeOf(faint, 0.05), u1, []);
    // All of the feed in one part is e^2.2 times as probable as its watts were before a feed was known, and nothing is
    // seen as often as 1.5 such parts.
    expect(alone).toBeLessThan(10);
    expect(chance(0.05)).toBeLessThan(alone + Math.log(9.3) - Math.log(1.5));
    expect(chance(0.05)).toBeGreaterThan(chance(0.5));
    expect(chance(500)).toBe(Number.NEGATIVE_INFINITY);
  });

  it("a part that warms on a healthy board too, where that is the likeliest, and nothing of the others", () => {
    const warm = { ...u1, normallyWarm: true };
    const found = likeliestSource(judgeOf(heated, 0.08), [warm, c1], [], none);
    expect(found!.candidate).toBe(warm);
    expect(found!.chances.map(({ candidate }) => candidate)).toEqual([warm]);
  });

  it("but does not weigh that against faults where another such part surely took power", () => {
    const both = showRise({ U1: 0.05, C1: 0.03 }, NOISE_K, "both heat").data;
    const [warm, processor] = [
      { ...u1, normallyWarm: true },
      { ...u1, normallyWarm: true },
    ];
    const found = likeliestSource(judgeOf(both, null), [warm, c1], [warm], new Map([[processor, 0.02]]));
    expect(found!.candidate).toBe(c1);
    expect(found!.chances.map(({ candidate }) => candidate)).toEqual([c1]);
  });
});
