import { describe, expect, it } from "vitest";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { OwnError } from "../../../src/sources/own-error.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { evidenceOnUneven } from "../../../src/sources/uneven-copper.js";
import { weighSet } from "../../../src/sources/weigh-set.js";
import { makeRandom } from "../../simulate/random.js";
import { denseOf } from "./dense-column.js";
import { VIEW } from "./relaxed-plate.js";
import { modelOf, partOf, partsOf } from "./small-model.js";

const model = modelOf();
const { width } = VIEW.frame;
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
const NOISE_K = 0.04;
const [u2, c2, q1] = [partOf(model, "U2"), partOf(model, "C2"), partOf(model, "Q1")];
const plate = (part: Candidate): Float64Array => denseOf(model.plateColumn(part, state), model.size);
const body = (part: Candidate): Float64Array => denseOf(part.body!, model.size);

/** None of the candidates was found before. */
const NOT_KNOWN = new OwnError(new Map(), (heat) => heat);

/** 0.3 W in U2 with a body so much warmer, what is added, and noise. */
function weigh(
  set: readonly Candidate[],
  more: (i: number) => number,
  wanted = 30,
  u2BodyKPerW = 25,
  ownError = NOT_KNOWN,
) {
  const random = makeRandom("weigh set");
  const [plateU2, bodyU2] = [plate(u2), body(u2)];
  const rise = Float32Array.from(
    plateU2,
    (value, i) => 0.3 * (value + u2BodyKPerW * bodyU2[i]!) + more(i) + NOISE_K * random.normal(),
  );
  const parts = { ...partsOf(model, rise, NOISE_K, state), scale: 2 };
  const fit = new ProjectedFit(rise, parts.variance, parts.nuisance);
  const pool = new CandidatePool(model, fit, state);
  const answer = pool.fitSet(set);
  const asked: Candidate[] = [];
  const weights = weighSet(
    model,
    parts,
    pool,
    fit,
    set,
    answer,
    (candidate) => {
      asked.push(candidate);
      return wanted;
    },
    ownError,
  );
  return { weights, answer, asked, parts, pool };
}
const [plateC2, bodyC2] = [plate(c2), body(c2)];
const heats = (i: number): number => 0.03 * (plateC2[i]! + 25 * bodyC2[i]!);
const nothing = { stands: false, share: 0, bodyStep: 0, evidence: 0 };

describe("weighSet", () => {
  it("two parts that heat both stand, each by what it explains beside the other", () => {
    const { weights, answer, parts, pool } = weigh([u2, c2], heats);
    expect(weights.map(({ stands }) => stands)).toEqual([true, true]);
    // By the weaker of two: plain χ² without it, and χ² that uneven copper can't make, both ÷ scale.
    const plain = (answer.gain - pool.fitSet([u2]).gain) / 2;
    const uneven = evidenceOnUneven(model, parts, [u2, c2], answer, 1);
    expect(weights[1]!.evidence).toBeCloseTo(Math.min(plain, uneven), 6);
    // 0.03 W · 25 K/W on top of what U2's 0.3 W make at C2, whatever the plate's constants: seen, and no more than ten
    // times.
    const others = Math.max(...plateC2.map((_, i) => (bodyC2[i]! > 0.5 ? 0.3 * plate(u2)[i]! : 0)));
    expect(weights[1]!.bodyStep / (0.75 / others)).toBeGreaterThan(0.7);
    expect(weights[1]!.bodyStep / (0.75 / others)).toBeLessThan(1.5);
    expect(weights[1]!.share).toBeGreaterThan(weights[1]!.bodyStep);
  });

  it("a slow wave over the stronger heat does not stand, however much it explains", () => {
    const plateU2 = plate(u2);
    const wave = (i: number) => 0.015 * plateU2[i]! * Math.cos((Math.PI * ((i % width) - 103)) / 51);
    const { answer, pool } = weigh([u2, c2], wave, 0, 0);
    const apparent = (answer.gain - pool.fitSet([u2]).gain) / 2;
    expect(apparent).toBeGreaterThan(60);
    const wanted = 0.3 * apparent;
    const [, second] = weigh([u2, c2], wave, wanted, 0).weights;
    expect(second!.stands).toBe(false);
    // It is weighed, so that it is the copper that it fails by.
    expect(second!.share).toBeGreaterThan(0);
    expect(second!.evidence).toBeLessThan(0.2 * apparent);
  });

  it("one that brings too little evidence fails", () => {
    expect(weigh([u2, q1], () => 0).weights[1]).toEqual(nothing);
    expect(weigh([u2, c2], heats, 1e9).weights[1]).toEqual(nothing);
    expect(weigh([u2, c2], heats, 0).weights[1]!.stands).toBe(true);
  });

  it("what mirrors, and what has no watts left, is left aside and not asked for", () => {
    const { weights, asked } = weigh([u2, mirrorOf(c2)], heats);
    expect(weights[1]).toEqual(nothing);
    expect(asked).toEqual([u2]);
    const cooled = weigh([u2, q1], (i) => -0.05 * plate(q1)[i]!);
    expect(cooled.answer.powersW[1]).toBe(0);
    expect(cooled.weights[1]).toEqual(nothing);
  });

  it("one that is short of evidence is weighed again without its own error, one that has plenty is not", () => {
    const asked: Candidate[] = [];
    const { weights, answer, parts, pool } = weigh([u2, c2], heats);
    const plain = (answer.gain - pool.fitSet([u2]).gain) / 2;
    const again = (evidence: number) =>
      ({
        weigh: (_: unknown, __: unknown, candidate: Candidate) => {
          asked.push(candidate);
          return { evidence, parts: { ...parts, scale: 0.01 } };
        },
      }) as unknown as OwnError;
    // Wanted: a third more than it brings by itself.
    const wanted = 1.33 * plain;
    expect(weigh([u2, c2], heats, wanted, 25, again(0)).weights[1]).toEqual(nothing);
    const helped = weigh([u2, c2], heats, wanted, 25, again(2 * plain)).weights[1]!;
    expect(helped.stands).toBe(true);
    // The scale that it is weighed with then is a two hundredth: the evidence that was given is the lesser.
    expect(helped.evidence).toBeCloseTo(2 * plain, 6);
    asked.length = 0;
    const enough = 0.9 * weights[1]!.evidence;
    expect(plain).toBeGreaterThan(4 * enough);
    expect(weigh([u2, c2], heats, enough, 25, again(0)).weights[1]).toEqual(weights[1]);
    expect(asked).not.toContain(c2);
  });
});
