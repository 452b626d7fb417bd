import { describe, expect, it } from "vitest";
import { withoutHeat } from "../../../src/sources/doubtful-faces.js";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import { type HeatJudge, heatLogOdds, heatLogOddsInSet } from "../../../src/sources/heat-log-odds.js";
import { hillLogOdds } from "../../../src/sources/hill-log-odds.js";
import { oddsOverStates } from "../../../src/sources/odds-over-states.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { heatUnderMirror, mirrorOf } from "../../../src/sources/recast-candidate.js";
import { weighFace } from "../../../src/sources/weigh-face.js";
import { showRise } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf, statePools } from "./small-model.js";

const notByHill = () => false;
const NOISE_K = 0.04;
const model = modelOf();
const [u1, u2, c1, c2] = ["U1", "U2", "C1", "C2"].map((ref) => partOf(model, ref)) as [
  ReturnType<typeof partOf>,
  ReturnType<typeof partOf>,
  ReturnType<typeof partOf>,
  ReturnType<typeof partOf>,
];

/** Judge by a rise, in the state of so many millimetres at rest. */
function judgeOf(rise: Float32Array, lengthMm: number, roomK = 0.8): HeatJudge {
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  const fit = new ProjectedFit(rise, variance, levelColumns(model, 0.3));
  const pools = statePools(model, fit);
  const pool = pools.reduce((best, one) =>
    Math.abs(one.pool.state.lengthMm - lengthMm) < Math.abs(best.pool.state.lengthMm - lengthMm) ? one : best,
  ).pool;
  return {
    model,
    pool,
    pools: () => pools,
    scale: 1,
    room: () => ({ roomK, warmerChance: 0.5 }),
    options: FIT_DEFAULTS,
  };
}

/** A step on a face and nothing around it: as a mirror makes, or a body that hardly warms its board. */
function stepOn(ref: string, stepK: number): Float32Array {
  const rise = showRise({}, NOISE_K, `step on ${ref}`).data;
  const { at, values } = partOf(model, ref).body!;
  at!.forEach((pixel, k) => {
    rise[pixel]! += stepK * values[k]!;
  });
  return rise;
}

describe("heatLogOdds", () => {
  it("of one that stands alone and is in doubt: over all states of the plate", () => {
    const judge = judgeOf(stepOn("C1", 0.35), 18);
    const inStates = judge.pools().map(({ pool, penalty }) => ({
      logOdds: weighFace(model, pool, c1, [], 1, { roomK: 0.8, warmerChance: 0.5 })!,
      gain: 0,
      penalty,
    }));
    const spread = inStates.map(({ logOdds }) => logOdds);
    // Else the test could not tell the states apart.
    expect(Math.max(...spread) - Math.min(...spread)).toBeGreaterThan(1);
    const found = heatLogOdds(judge, c1, []);
    expect(found).toBeCloseTo(oddsOverStates(inStates), 6);
    expect(
      Math.abs(found - weighFace(model, judge.pool, c1, [], 1, { roomK: 0.8, warmerChance: 0.5 })!),
    ).toBeGreaterThan(0.1);
  });

  it("of a hill with no face: none of doubt at a named part, and by the board around at a place that no map names", () => {
    const judge = judgeOf(showRise({ U1: 0.05 }, NOISE_K, "a hill").data, 18);
    const hidden = { ...u1, body: null };
    expect(heatLogOdds(judge, hidden, [])).toBe(Number.POSITIVE_INFINITY);
    const unnamed = { ...hidden, ref: null, region: -1 };
    const strong = heatLogOdds(judge, unnamed, []);
    expect(strong).toBeGreaterThan(10);
    expect(strong).toBeLessThan(Number.POSITIVE_INFINITY);
    const faint = judgeOf(showRise({ U1: 0.002 }, NOISE_K, "a faint hill").data, 18);
    // As much evidence as drift brings, and 10 less for that.
    expect(heatLogOdds(faint, unnamed, [])).toBeLessThan(0);
    const asked = { ...judge, options: { ...FIT_DEFAULTS, unnamedHillOdds: 0 } };
    expect(heatLogOdds(asked, unnamed, []) - strong).toBeCloseTo(-FIT_DEFAULTS.unnamedHillOdds, 9);
    // Beside a part that shows itself it may be the plate model.
    expect(heatLogOdds(judge, unnamed, [c2])).toBeLessThanOrEqual(FIT_DEFAULTS.heatOddsHidden);
  });

  it("beside another source: in the state that both are found in", () => {
    const judge = judgeOf(stepOn("C1", 0.35), 18);
    expect(heatLogOdds(judge, c1, [u2])).toBe(
      weighFace(model, judge.pool, c1, [u2], 1, { roomK: 0.8, warmerChance: 0.5 }),
    );
  });

  it("what is sure in the state at hand is asked no further", () => {
    const judge = judgeOf(showRise({ C1: 0.1 }, NOISE_K, "sure").data, 18);
    let asked = 0;
    const pools = () => {
      asked++;
      return judge.pools();
    };
    expect(heatLogOdds({ ...judge, pools }, c1, [])).toBeGreaterThan(5);
    expect(asked).toBe(0);
  });

  it("a face of which the room says enough is less surely heat", () => {
    const rise = stepOn("C1", 0.35);
    expect(heatLogOdds(judgeOf(rise, 18, 6), c1, [])).toBeLessThan(
      heatLogOdds(judgeOf(rise, 18, 0.2), c1, []) - 1,
    );
  });

  it("a change that follows the supply is heat", () => {
    const judge = judgeOf(stepOn("C1", 0.35), 18);
    const options = { ...FIT_DEFAULTS, followsSupply: true };
    expect(heatLogOdds({ ...judge, options }, c1, [])).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("heatLogOddsInSet", () => {
  const judge = judgeOf(stepOn("C1", 0.35), 18);

  it("a mirror taken in later does not take a source's odds away, one taken in before does", () => {
    // A mirror in its own place leaves nothing of the step.
    const inItsPlace = mirrorOf(c1);
    const alone = heatLogOdds(judge, u1, []);
    expect(heatLogOddsInSet(judge, u1, [u1])).toBe(alone);
    const before = heatLogOddsInSet(judge, c2, [mirrorOf(u2), c2]);
    expect(before).toBe(heatLogOdds(judge, c2, [mirrorOf(u2)]));
    const later = heatLogOddsInSet(judge, c1, [c1, inItsPlace]);
    const beside = heatLogOdds(judge, c1, [inItsPlace]);
    expect(later).toBeCloseTo(Math.max(beside, heatLogOdds(judge, c1, [])), 9);
    expect(later).toBeGreaterThan(beside);
  });

  it("against a part that warms on a healthy board too, in the set from the start, a mirror taken in later counts", () => {
    const warm = { ...c1, normallyWarm: true };
    const inItsPlace = mirrorOf(warm);
    const beside = heatLogOdds(judge, warm, [inItsPlace]);
    expect(heatLogOdds(judge, warm, [])).toBeGreaterThan(beside);
    expect(heatLogOddsInSet(judge, warm, [warm, inItsPlace])).toBe(beside);
  });

  it("a source taken in later counts", () => {
    expect(heatLogOddsInSet(judge, c1, [c1, u2])).toBe(heatLogOdds(judge, c1, [u2]));
  });
});

describe("heatLogOdds of a part whose own face mirrors", () => {
  it("is that of a hill that shows no face: much of a wide one, little of next to none", () => {
    const hidden = heatUnderMirror(u2);
    const judge = judgeOf(showRise({ U2: 0.05 }, NOISE_K, "under a mirror").data, 18);
    const faint = judgeOf(showRise({ U2: 0.003 }, NOISE_K, "under a mirror").data, 18);
    const mirror = [mirrorOf(u2)];
    const both = judge.pool.fitSet([...mirror, hidden]);
    const gain = both.gain - judge.pool.fitSet(mirror).gain;
    expect(heatLogOdds(judge, hidden, mirror)).toBe(hillLogOdds(judge, hidden, both.powersW[1]!, gain));
    expect(heatLogOdds(judge, hidden, mirror)).toBeGreaterThan(FIT_DEFAULTS.aloneHeatOdds);
    expect(heatLogOdds(faint, hidden, mirror)).toBeLessThan(FIT_DEFAULTS.aloneHeatOdds);
    // On the far side it has no face to mirror: alone, such heat is heat.
    expect(heatLogOdds(faint, hidden, [])).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("withoutHeat", () => {
  it("leaves mirrors where nothing surely heats, one for each face, and null where something does", () => {
    const hidden = heatUnderMirror(u2);
    const stands = { stands: true, share: 1, bodyStep: 0, evidence: 60 };
    const set = [mirrorOf(u2), hidden];
    const faint = judgeOf(showRise({ U2: 0.003 }, NOISE_K, "nothing sure").data, 18);
    expect(withoutHeat(faint, set, [stands, stands], notByHill)).toEqual([mirrorOf(u2)]);
    const sure = judgeOf(showRise({ U2: 0.05 }, NOISE_K, "sure").data, 18);
    expect(withoutHeat(sure, set, [stands, stands], notByHill)).toBeNull();
    expect(withoutHeat(sure, [mirrorOf(u2)], [stands], notByHill)).toBeNull();
  });
});
