// Laws of comparisons: an attempt has not changed against itself, and the order of two attempts turns every change
// round.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { type Change, comparisonSchema } from "../../../src/compare/comparison-schema.js";
import { jsonPieces } from "../../../src/report/json-pieces.js";
import { COMPARISON_FORM } from "../../../src/report/result-forms.js";
import { type AttemptWords, makeFindings } from "../../unit/compare/make-findings.js";

const REFS = ["C6", "U6", "U1", "U2", "R4", "Q3", "U9"] as const;
const OPPOSITE: Readonly<Record<Change, Change>> = {
  persisted: "persisted",
  unsure: "unsure",
  gone: "new",
  new: "gone",
  hotter: "cooler",
  cooler: "hotter",
};

const heat = fc.record({
  ref: fc.constantFrom(...REFS),
  powerW: fc.double({ min: 0.005, max: 3, noNaN: true }),
  probability: fc.double({ min: 0.2, max: 0.99, noNaN: true }),
  areaPx: fc.constantFrom(0, 40),
  flags: fc.constantFrom([], ["possibleReflection"]),
  offMm: fc.tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true })),
});
const attempt: fc.Arbitrary<AttemptWords> = fc.record({
  heat: fc.uniqueArray(heat, { selector: ({ ref }) => ref, maxLength: 5 }),
  sides: fc.constantFrom(["top"] as const, ["bottom"] as const, ["top", "bottom"] as const),
  volts: fc.constantFrom(null, 0.9, 3.7),
  amps: fc.constantFrom(null, 0.05, 0.31),
  limitK: fc.double({ min: 0.1, max: 4, noNaN: true }),
  limitW: fc.double({ min: 0.002, max: 0.5, noNaN: true }),
});

describe("compareFindings", () => {
  it("finds no change in an attempt against itself", () => {
    let told = 0;
    fc.assert(
      fc.property(attempt, (words) => {
        const findings = makeFindings(words);
        const { parts, hotspots } = compareFindings(findings, findings);
        for (const part of parts) {
          expect(["persisted", "unsure"]).toContain(part.change);
          expect(Math.abs(part.z ?? 0)).toBeLessThan(1e-9);
          expect(part.hotspots[0]).toBe(part.hotspots[1]);
        }
        for (const hotspot of hotspots) expect(hotspot.before).toBe(hotspot.after);
        told += parts.length;
      }),
    );
    expect(told).toBeGreaterThan(0);
  });

  it("mirrors: with the attempts exchanged, gone is new and hotter is cooler", () => {
    fc.assert(
      fc.property(attempt, attempt, (first, second) => {
        const [a, b] = [makeFindings(first), makeFindings(second)];
        const there = compareFindings(a, b);
        const back = compareFindings(b, a);
        const byName = new Map(back.parts.map((part) => [part.ref, part]));
        expect(back.parts.length).toBe(there.parts.length);
        for (const part of there.parts) {
          const other = byName.get(part.ref)!;
          expect(other.change).toBe(OPPOSITE[part.change]);
          // Sums are taken in another order.
          expect((other.z ?? 0) + (part.z ?? 0)).toBeCloseTo(0, 9);
          expect(other.hotspots).toEqual([...part.hotspots].reverse());
        }
        expect(back.division.factor * there.division.factor).toBeCloseTo(1, 9);
      }),
    );
  });

  it("is read back equal from the JSON that it is written as", () => {
    fc.assert(
      fc.property(attempt, attempt, (first, second) => {
        const comparison = compareFindings(makeFindings(first), makeFindings(second));
        const text = [...jsonPieces(comparison, COMPARISON_FORM, "comparison")].join("");
        // To the letter; a zero below zero is written as zero.
        const again = comparisonSchema.parse(JSON.parse(text));
        expect([...jsonPieces(again, COMPARISON_FORM, "comparison")].join("")).toBe(text);
        expect(again.verdict).toBe(comparison.verdict);
        expect(text).not.toMatch(/NaN|Infinity/);
      }),
    );
  });

  it("never calls gone or new what one of the attempts does not see", () => {
    let unseen = 0;
    fc.assert(
      fc.property(attempt, attempt, (first, second) => {
        for (const part of compareFindings(makeFindings(first), makeFindings(second)).parts) {
          if (!part.seen.includes(false)) continue;
          unseen++;
          expect(part.change).toBe("unsure");
        }
      }),
    );
    expect(unseen).toBeGreaterThan(0);
  });
});
