// Laws of weighing alternatives.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { weighAlternatives } from "../../../src/suspects/weigh-alternatives.js";

const alternative = fc.record({
  candidate: fc.record({ name: fc.string(), named: fc.boolean() }),
  loss: fc.double({ min: 0, max: 1e5, noNaN: true }),
});
// One loses nothing: losses are against the best.
const alternatives = fc
  .array(alternative, { minLength: 1, maxLength: 30 })
  .map((list) => list.map((a, k) => (k === 0 ? { ...a, loss: 0 } : a)));
const chance = fc.double({ min: 0, max: 1, noNaN: true });

describe("weighAlternatives", () => {
  it("chances lie in 0…1, sum to no more than that of heat, and come most probable first", () => {
    fc.assert(
      fc.property(alternatives, chance, (list, heat) => {
        const weighed = weighAlternatives(list, (c) => c.named, heat);
        let sum = 0;
        weighed.forEach(({ candidate, probability }, k) => {
          expect(candidate.named).toBe(true);
          expect(probability).toBeGreaterThanOrEqual(0);
          expect(probability).toBeLessThanOrEqual(1);
          if (k > 0) expect(probability).toBeLessThanOrEqual(weighed[k - 1]!.probability);
          sum += probability;
        });
        // Thirty roundings.
        expect(sum).toBeLessThanOrEqual(heat + 1e-14);
        expect(weighed).toHaveLength(list.filter((a) => a.candidate.named).length);
        if (list.every((a) => a.candidate.named)) expect(Math.abs(sum - heat)).toBeLessThan(1e-12);
      }),
    );
  });

  it("who loses less is not less probable", () => {
    let compared = 0;
    fc.assert(
      fc.property(alternatives, (list) => {
        const weighed = weighAlternatives(list, (c) => c.named, 1);
        const lossOf = new Map(list.map((a) => [a.candidate, a.loss]));
        for (const a of weighed) {
          for (const b of weighed) {
            if (lossOf.get(a.candidate)! < lossOf.get(b.candidate)!) {
              compared++;
              expect(a.probability).toBeGreaterThanOrEqual(b.probability);
            }
          }
        }
      }),
    );
    expect(compared).toBeGreaterThan(0);
  });
});
