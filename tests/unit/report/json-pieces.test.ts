import { describe, expect, it } from "vitest";
import * as z from "zod";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { comparisonSchema } from "../../../src/compare/comparison-schema.js";
import { findingsSchema } from "../../../src/findings/findings-schema.js";
import { jsonPieces } from "../../../src/report/json-pieces.js";
import { COMPARISON_FORM, FINDINGS_FORM } from "../../../src/report/result-forms.js";
import { makeFindings } from "../compare/make-findings.js";
import { makeAnalysis } from "./make-analysis.js";

const { findings } = makeAnalysis();
const comparison = compareFindings(makeFindings({ heat: [{ ref: "C6", powerW: 0.2 }] }), makeFindings());
const kinds = [
  ["findings", findings, findingsSchema, FINDINGS_FORM],
  ["comparison", comparison, comparisonSchema, COMPARISON_FORM],
] as const;

/** Every way to spoil one value of a result: each value at any depth replaced, or left out. */
function* spoiled(whole: unknown): Generator<{ readonly made: unknown; readonly at: string }> {
  for (const path of pathsOf(whole)) {
    for (const other of [undefined, null, Number.NaN, -7.5, 3, 2 ** 60, "x", true, [], {}, [1, 2, 3]]) {
      const made = structuredClone(whole) as Record<string, unknown>;
      let holder = made;
      for (const key of path.slice(0, -1)) holder = holder[key] as Record<string, unknown>;
      holder[path.at(-1)!] = other;
      yield { made, at: `${path.join(".")}: ${JSON.stringify(other)}` };
    }
  }
}

function holdsNone(value: unknown): boolean {
  if (typeof value === "object" && value !== null) return Object.values(value).some(holdsNone);
  return Number.isNaN(value);
}

function pathsOf(value: unknown): string[][] {
  if (value === null || typeof value !== "object") return [];
  return Object.entries(value).flatMap(([key, item]) => [
    [key],
    ...pathsOf(item).map((path) => [key, ...path]),
  ]);
}

describe.each(kinds)("jsonPieces of %s", (name, value, schema, form) => {
  const text = (one: unknown): string | null => {
    try {
      return [...jsonPieces(one, form, name)].join("");
    } catch {
      return null;
    }
  };

  it("writes keys in the schema's order and no others, as the language's own writer does", () => {
    const turned = { more: 1, ...Object.fromEntries(Object.entries(value).reverse()) };
    expect(text(turned)).toBe(`${JSON.stringify(schema.parse(value), null, 2)}\n`);
  });

  it("refuses what the schema refuses, and writes what it takes", () => {
    let refused = 0;
    let taken = 0;
    for (const { made, at } of spoiled(value)) {
      const read = schema.safeParse(made);
      // The schema takes any options; JSON would make null of a number that is none.
      const isWritable = read.success && !holdsNone(read.data);
      const wanted = isWritable ? `${JSON.stringify(read.data, null, 2)}\n` : null;
      if (text(made) !== wanted) expect.fail(`${at}: ${text(made) === null ? "refused" : "taken"}`);
      if (read.success) taken++;
      else refused++;
    }
    expect([refused > 300, taken > 100]).toEqual([true, true]);
  });
});

describe("jsonPieces", () => {
  it("cuts long texts between values, and names the place of what does not fit before it gives any", () => {
    const course = Array.from({ length: 5000 }, (_, k) => ({ timeS: k / 9, riseK: -k, sigmaK: 1e-9 * k }));
    const long = {
      ...findings,
      verdict: "ß\u{1F525}".repeat(50_000),
      hotspots: findings.hotspots.slice(0, 1),
    };
    long.hotspots[0] = { ...long.hotspots[0]!, course };
    const parts = [...jsonPieces(long, FINDINGS_FORM, "findings")];
    expect(parts.join("")).toBe(`${JSON.stringify(z.parse(findingsSchema, long), null, 2)}\n`);
    expect(parts.length).toBeGreaterThan(4);
    expect(parts.filter((part) => Buffer.from(part).toString() !== part)).toEqual([]);
    course[4999]!.riseK = Number.POSITIVE_INFINITY;
    expect(() => jsonPieces(long, FINDINGS_FORM, "findings")).toThrow(
      /findings .* "hotspots\.0\.course\.4999\.riseK"/,
    );
  });
});
