import { inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import type { Column } from "../../../src/sources/column.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { mirrorOf, recast } from "../../../src/sources/recast-candidate.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { denseOf } from "./dense-column.js";
import { showRise } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const NOISE_K = 0.04;
/** The plate at rest, near its cooling length of 20 mm. */
const STATE = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm > 15)!;
const model = modelOf();
const nuisance = levelColumns(model, 0.3);
const rise = showRise({ U1: 0.2, C1: 0.05 }, NOISE_K, "pool").data;
const variance = Float32Array.from(model.pictures[0]!.seen.onBoard, (on) =>
  on === 1 ? NOISE_K ** 2 : Number.NaN,
);
const pixels = [...variance.keys()].filter((i) => variance[i]! > 0);
const pool = new CandidatePool(model, new ProjectedFit(rise, variance, nuisance), STATE);
const plate = (candidate: Candidate): Column => model.plateColumn(candidate, STATE);

/** All columns and the level at once, by the dense algebra of another library. */
function dense(columns: readonly Column[]) {
  const whole = [...columns.map((c) => denseOf(c, model.size)), denseOf(nuisance[0]!.column, model.size)];
  const x = new Matrix(pixels.map((i) => whole.map((values) => values[i]! / NOISE_K)));
  const y = new Matrix(pixels.map((i) => [rise[i]! / NOISE_K]));
  const gram = x.transpose().mmul(x);
  const last = columns.length;
  gram.set(last, last, gram.get(last, last) + 1 / nuisance[0]!.priorSigma ** 2);
  const covariance = inverse(gram);
  const right = x.transpose().mmul(y);
  const beta = covariance.mmul(right).getColumn(0);
  const explained = right.getColumn(0).reduce((sum, r, k) => sum + r * beta[k]!, 0);
  return { beta, covariance, explained };
}

/** Within so large a share of each other; single-precision columns of 6600 pixels, whitened. */
const near = (value: number, expected: number, share = 2e-4) =>
  expect(Math.abs(value - expected)).toBeLessThan(share * Math.max(Math.abs(expected), 1e-12));

describe("fitFace against a dense least-squares solve", () => {
  it.each([
    ["alone", "U1", []],
    ["beside a part that heats through the plate", "U1", [recast(partOf(model, "C1"), "plate")]],
    ["beside a mirror", "C1", [mirrorOf(partOf(model, "U1"))]],
    ["beside both", "C2", [mirrorOf(partOf(model, "Q1")), recast(partOf(model, "U1"), "plate")]],
  ] as const)("%s: estimates, variances and covariance", (_, ref, others) => {
    const candidate = partOf(model, ref);
    const face = pool.fitFace(others, candidate)!;
    const columns = [
      ...others.flatMap((other) => (other.kind === "mirror" ? model.mirrorColumns(other) : [plate(other)])),
      plate(candidate),
      candidate.body!,
    ];
    const { beta, covariance } = dense(columns);
    const p = columns.length - 2;
    const s = columns.length - 1;
    near(face.powerVariance, covariance.get(p, p));
    near(face.stepVariance, covariance.get(s, s));
    near(face.covariance, covariance.get(p, s));
    // Of a part that does not heat the estimates are noise: compared in units of their sigma.
    expect(Math.abs(face.powerW - beta[p]!)).toBeLessThan(2e-3 * Math.sqrt(covariance.get(p, p)));
    expect(Math.abs(face.stepK - beta[s]!)).toBeLessThan(2e-3 * Math.sqrt(covariance.get(s, s)));
  });

  it("neither sign is barred: a face that got cooler has a step below 0", () => {
    const cooled = showRise({ C1: 0.05 }, NOISE_K, "cooled", { U2: -1 }).data;
    const itsPool = new CandidatePool(model, new ProjectedFit(cooled, variance, nuisance), STATE);
    const { stepK, stepVariance } = itsPool.fitFace([partOf(model, "C1")], partOf(model, "U2"))!;
    // −1 K as the camera shows it, ÷ 0.93.
    expect(stepK).toBeLessThan(-0.9);
    expect(stepVariance).toBeLessThan(0.01);
  });

  it("what the others hold already can't be told apart: null", () => {
    const u1 = partOf(model, "U1");
    expect(pool.fitFace([recast(u1, "plate")], u1)).toBeNull();
  });
});

describe("fitSet against all sets of unknowns, solved densely", () => {
  const set = [partOf(model, "U1"), partOf(model, "C1")];
  /** A watt with no warmer body, a watt with the warmest body: each part's two unknowns. */
  const unknowns = set.flatMap((candidate): Column[] => {
    const [own, body] = [denseOf(plate(candidate), model.size), denseOf(candidate.body!, model.size)];
    return [
      plate(candidate),
      { at: null, values: Float32Array.from(own, (v, i) => v + candidate.maxBodyKPerW * body[i]!) },
    ];
  });
  const levelAlone = dense([]).explained;

  it("finds the watts that are not negative and explain most", () => {
    let best = { explained: Number.NEGATIVE_INFINITY, amounts: [0, 0, 0, 0] };
    for (let subset = 0; subset < 16; subset++) {
      const members = [0, 1, 2, 3].filter((k) => (subset >> k) % 2 === 1);
      const { beta, explained } = dense(members.map((k) => unknowns[k]!));
      if (members.some((_, n) => beta[n]! < 0) || explained <= best.explained) continue;
      const amounts = [0, 0, 0, 0];
      members.forEach((k, n) => {
        amounts[k] = beta[n]!;
      });
      best = { explained, amounts };
    }
    const { powersW, bodyShares, gain } = pool.fitSet(set);
    near(gain, best.explained - levelAlone, 1e-5);
    set.forEach((_, c) => {
      const [bare, warm] = [best.amounts[2 * c]!, best.amounts[2 * c + 1]!];
      near(powersW[c]!, bare + warm, 1e-3);
      expect(Math.abs(bodyShares[c]! - warm / (bare + warm))).toBeLessThan(1e-3);
    });
  });

  it("beside other columns: the variance of a part's watts is that of plate and body together", () => {
    const other = plate(partOf(model, "U2"));
    const { powersW, variancesW2 } = pool.fitBeside(set, [other], 1e6);
    const { beta, covariance } = dense([...unknowns, other]);
    // Both of U1's unknowns are in: what was told of them one by one is several times as unsure as their sum.
    expect(Math.min(beta[0]!, beta[1]!)).toBeGreaterThan(0);
    const sum = covariance.get(0, 0) + covariance.get(1, 1) + 2 * covariance.get(0, 1);
    expect(covariance.get(0, 0) + covariance.get(1, 1)).toBeGreaterThan(3 * sum);
    near(powersW[0]!, beta[0]! + beta[1]!, 1e-3);
    near(variancesW2[0]!, sum, 1e-3);
  });

  it("beside other columns: watts of another candidate may be a part's, and those of all have what they share", () => {
    const mirror = mirrorOf(partOf(model, "U2"));
    // C1 heats: what it takes is not 0.
    const other = { ...partOf(model, "C1"), body: null };
    const fit = pool.fitBeside([set[0]!, mirror], [], 1, [other, null]);
    // Those that take part are the ones that explain most without going below 0.
    const heats = [unknowns[0]!, unknowns[1]!, plate(other)];
    const mirrors = model.mirrorColumns(mirror);
    const tried = Array.from({ length: 8 }, (_, subset) => {
      const members = [0, 1, 2].filter((k) => (subset >> k) % 2 === 1);
      return { members, ...dense([...members.map((k) => heats[k]!), ...mirrors]) };
    }).filter(({ members, beta }) => members.every((_, n) => beta[n]! >= 0));
    const best = tried.reduce((a, b) => (b.explained > a.explained ? b : a));
    expect(best.members).toContain(2);
    const at = best.members.map((_, n) => n);
    const sum = at.reduce((all, a) => at.reduce((row, b) => row + best.covariance.get(a, b), all), 0);
    near(
      fit.powersW[0]!,
      at.reduce((all, n) => all + best.beta[n]!, 0),
      1e-3,
    );
    expect(fit.powersW[1]).toBe(0);
    near(fit.variancesW2[0]!, sum, 2e-3);
    near(fit.totalVarianceW2, sum, 2e-3);
    const both = pool.fitBeside(set, [], 1);
    const all = dense(unknowns);
    expect(Math.min(...all.beta.slice(0, 4))).toBeGreaterThan(0);
    const four = [0, 1, 2, 3];
    near(
      both.totalVarianceW2,
      four.reduce((sum2, a) => four.reduce((row, b) => row + all.covariance.get(a, b), sum2), 0),
      2e-3,
    );
  });

  it("one more candidate never explains less, and no watts are negative", () => {
    let last = 0;
    for (let count = 1; count <= model.candidates.length; count++) {
      const { gain, powersW } = pool.fitSet(model.candidates.slice(0, count));
      expect(gain).toBeGreaterThanOrEqual(last * (1 - 1e-12));
      expect(Math.min(...powersW)).toBeGreaterThanOrEqual(0);
      last = gain;
    }
  });

  it("a mirror has no watts, and its columns are counted from where it stands in the set", () => {
    const mixed = [partOf(model, "U1"), mirrorOf(partOf(model, "U2")), partOf(model, "C1")];
    const { powersW, starts, columns, amounts, variancesW2 } = pool.fitSet(mixed);
    expect(powersW[1]).toBe(0);
    expect(variancesW2[1]).toBe(0);
    expect(starts[2]! - starts[1]!).toBe(model.mirrorColumns(mixed[1]!).length);
    expect(columns).toHaveLength(amounts.length);
    expect(powersW[0]!).toBeGreaterThan(0.1);
    expect(powersW[2]!).toBeGreaterThan(0.02);
  });
});

describe("plateNorm", () => {
  it("is what a watt of the plate alone would add to χ² beside the level", () => {
    const c2 = partOf(model, "C2");
    const { covariance } = dense([plate(c2)]);
    near(pool.plateNorm(c2), 1 / covariance.get(0, 0));
  });
});

it("an answer is the same whatever was asked before", () => {
  const parts = ["U1", "C1", "Q1", "C2"].map((ref) => partOf(model, ref));
  const sets = [
    [parts[0]!, parts[1]!],
    [parts[0]!, parts[1]!, parts[2]!],
    [parts[0]!, mirrorOf(parts[3]!), parts[1]!],
    [parts[0]!],
    [parts[2]!, parts[0]!, parts[1]!],
  ];
  const used = new CandidatePool(model, new ProjectedFit(rise, variance, nuisance), STATE);
  for (const set of [...sets, ...sets]) {
    const fresh = new CandidatePool(model, new ProjectedFit(rise, variance, nuisance), STATE);
    const [one, other] = [used.fitSet([...set]), fresh.fitSet(set)];
    expect(used.fitSet(set)).toBe(one);
    // Products of two columns differ in their last bits by which of the two comes first.
    near(one.gain, other.gain, 1e-9);
    set.forEach((_, c) => {
      near(one.powersW[c]!, other.powersW[c]!, 1e-6);
    });
  }
});
