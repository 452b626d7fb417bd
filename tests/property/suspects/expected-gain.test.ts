import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { entropyBits, expectedGain } from "../../../src/suspects/expected-gain.js";

const weight = fc.double({ min: 0.001, max: 1, noNaN: true });
/** Three to six things that may be the case, and four outcomes for each. */
const problem = fc.integer({ min: 3, max: 6 }).chain((n) =>
  fc.record({
    chances: fc.array(weight, { minLength: n, maxLength: n }),
    rows: fc.array(fc.array(weight, { minLength: 4, maxLength: 4 }), { minLength: n, maxLength: n }),
  }),
);

describe("expectedGain", () => {
  it("is neither negative nor more than the doubt there is", () => {
    fc.assert(
      fc.property(problem, ({ chances, rows }) => {
        const gain = expectedGain(chances, rows);
        expect(gain).toBeGreaterThanOrEqual(0);
        // Sums of some thirty terms below 1: rounding stays below 1e-12.
        expect(gain).toBeLessThanOrEqual(entropyBits(chances) + 1e-12);
      }),
    );
  });

  it("is nothing, and by no rounding less, where every outcome is as likely whatever is the case", () => {
    fc.assert(
      fc.property(problem, ({ chances, rows }) => {
        const gain = expectedGain(
          chances,
          rows.map(() => rows[0]!),
        );
        expect(gain).toBeGreaterThanOrEqual(0);
        expect(gain).toBeLessThan(1e-12);
      }),
    );
  });

  it("does not grow where two outcomes can no longer be told apart", () => {
    fc.assert(
      fc.property(problem, ({ chances, rows }) => {
        const scaled = rows.map((row) => row.map((p) => p / row.reduce((a, b) => a + b, 0)));
        const merged = scaled.map(([a, b, ...rest]) => [a! + b!, ...rest]);
        expect(expectedGain(chances, merged)).toBeLessThanOrEqual(expectedGain(chances, scaled) + 1e-12);
      }),
    );
  });

  it("does not depend on the order of what may be the case", () => {
    fc.assert(
      fc.property(problem, ({ chances, rows }) => {
        const turned = expectedGain([...chances].reverse(), [...rows].reverse());
        expect(turned).toBeCloseTo(expectedGain(chances, rows), 12);
      }),
    );
  });
});
