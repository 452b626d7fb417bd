import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { weighJob } from "../../../src/evidence/weigh-job.js";
import { BOARD, makeJob, type Step } from "../../unit/evidence/make-job.js";

const REFS = BOARD.regions.filter(({ normallyWarm }) => normallyWarm !== true).map(({ ref }) => ref);
const NETS = ["VLED", "VIO", "VSW"];
const spot = fc
  .record({
    refs: fc.shuffledSubarray(REFS, { minLength: 1, maxLength: 3 }),
    most: fc.double({ min: 0.3, max: 0.97, noNaN: true }),
  })
  .map(({ refs, most }): Record<string, number> => {
    const rest = (0.99 - most) / Math.max(1, refs.length - 1);
    return Object.fromEntries(refs.map((ref, k) => [ref, k === 0 ? most : Math.min(most, rest)]));
  });
const attempt = fc
  .record({
    heat: fc.array(spot, { maxLength: 2 }),
    side: fc.constantFrom("top" as const, "bottom" as const),
  })
  .map((telling): Step => ({ attempt: telling }));
const action = fc
  .record({
    did: fc.constantFrom("replaced" as const, "lifted" as const, "reflowed" as const),
    ref: fc.constantFrom(...REFS),
  })
  .map((one): Step => ({ action: one }));
const references: Step[] = NETS.map((net) => ({ reference: { net, value: 0.4 } }));
const reading = fc
  .record({ net: fc.constantFrom(...NETS), value: fc.constantFrom(0.01, 0.2, 0.4) })
  .map((one): Step => ({ reading: one }));
const steps = fc.array(fc.oneof(attempt, action, reading), { maxLength: 7 });
const RUNS = { numRuns: 60 };

describe("weighJob", () => {
  it("gives probabilities, of which those of one fault and of none sum to 1", () => {
    fc.assert(
      fc.property(steps, (list) => {
        const { suspects, unexplained, secondFault, thirdFault, mended } = weighJob(
          makeJob([...references, ...list]),
        );
        const sum = suspects.reduce((all, { probability }) => all + probability, 0);
        // Two faults count for two parts, three for three; parts below a fifth of a percent are not listed.
        expect(sum + unexplained - secondFault - thirdFault).toBeLessThanOrEqual(1 + 1e-9);
        expect(sum + unexplained - secondFault - thirdFault).toBeGreaterThan(0.97);
        for (const { probability, stillFaulty } of suspects) {
          expect(stillFaulty).toBeLessThanOrEqual(probability + 1e-9);
        }
        expect(mended + unexplained).toBeLessThanOrEqual(1 + 1e-9);
      }),
      RUNS,
    );
  });

  it("does not depend on the order in which nets are read", () => {
    const nets = fc.uniqueArray(reading, {
      selector: (step) => ("reading" in step ? step.reading.net : ""),
      maxLength: 3,
    });
    fc.assert(
      fc.property(attempt, nets, (look, list) => {
        const there = weighJob(makeJob([...references, look, ...list]));
        const back = weighJob(makeJob([...references, look, ...[...list].reverse()]));
        expect(there.suspects.length).toBeGreaterThan(0);
        expect(back.suspects).toHaveLength(there.suspects.length);
        for (const { ref, probability } of there.suspects) {
          expect(back.suspects.find((one) => one.ref === ref)!.probability).toBeCloseTo(probability, 9);
        }
      }),
      RUNS,
    );
  });

  it("never lets a part gain on one that is not on its net by a reading that clears the net", () => {
    let compared = 0;
    const chance = (evidence: ReturnType<typeof weighJob>, ref: string) =>
      evidence.suspects.find((one) => one.ref === ref)?.probability ?? 0;
    fc.assert(
      // With one fault alone: of two, the reading clears one and leaves the other.
      fc.property(attempt, fc.constantFrom(...NETS), (look, net) => {
        const options = { secondPrior: 0, thirdPrior: 0, drivenShare: 0 };
        const before = weighJob(makeJob([...references, look]), options);
        const after = weighJob(makeJob([...references, look, { reading: { net, value: 0.4 } }]), options);
        const nets = (ref: string) => BOARD.regions.find((region) => region.ref === ref)!.nets!;
        for (const on of REFS.filter((ref) => nets(ref).includes(net))) {
          for (const off of REFS.filter((ref) => !nets(ref).includes(net))) {
            const [a, b] = [chance(before, on), chance(before, off)];
            if (b === 0 || chance(after, off) === 0) continue;
            compared++;
            expect(chance(after, on) / chance(after, off)).toBeLessThanOrEqual((a / b) * (1 + 1e-9));
          }
        }
      }),
      RUNS,
    );
    expect(compared).toBeGreaterThan(0);
  });

  it("is not pushed to certainty by the same attempt again and again", () => {
    fc.assert(
      fc.property(spot, fc.integer({ min: 2, max: 40 }), (heat, times) => {
        const look: Step = { attempt: { heat: [heat], side: "top", view: "same" } };
        const once = weighJob(makeJob([look]));
        const often = weighJob(makeJob(Array.from({ length: times }, () => look)));
        const first = once.suspects[0]!;
        const odds = (p: number) => Math.log(p / (1 - p));
        const again = often.suspects.find(({ ref }) => ref === first.ref)!;
        // The likelihood counts no more than 1/0.8 times; prior odds of one in six parts are about −1.8.
        expect(odds(again.probability)).toBeLessThan(1.25 * (odds(first.probability) + 1.8) + 0.5);
      }),
      RUNS,
    );
  });

  it("lowers a part that was replaced while the heat stays", () => {
    fc.assert(
      fc.property(spot, fc.constantFrom(...REFS), (heat, ref) => {
        const look: Step = { attempt: { heat: [heat], side: "top", view: "same" } };
        const before = weighJob(makeJob([look, look]));
        const after = weighJob(makeJob([look, { action: { did: "replaced", ref } }, look]));
        const chance = (evidence: typeof before) =>
          evidence.suspects.find((one) => one.ref === ref)?.stillFaulty ?? 0;
        expect(chance(after)).toBeLessThanOrEqual(chance(before) + 1e-9);
      }),
      RUNS,
    );
  });
});
