// tests: findings → whether they obey what holds for all of them.
import { expect } from "vitest";
import { type Findings, findingsSchema } from "../../../src/findings/findings-schema.js";
import { badNumbers } from "./make-attempt.js";

/** What every findings must obey. */
export function expectContract(findings: Findings): void {
  expect(badNumbers(findings)).toEqual([]);
  expect(findingsSchema.parse(JSON.parse(JSON.stringify(findings)))).toEqual(findings);
  findings.hotspots.forEach((hotspot, k) => {
    expect(hotspot.rank).toBe(k + 1);
    const named = hotspot.nearest.reduce((sum, { probability }) => sum + probability, 0);
    expect(named).toBeLessThanOrEqual(1 + 1e-9);
  });
  const order = findings.suspects.map((s) => [Number(s.normallyWarm), -s.probability]);
  for (let k = 1; k < order.length; k++) {
    expect(order[k]![0]! - order[k - 1]![0]! || order[k]![1]! - order[k - 1]![1]!).toBeGreaterThanOrEqual(0);
  }
  if (findings.hotspots.length === 0) {
    expect(findings.suspects).toEqual([]);
    expect(findings.notes.map((n) => n.code)).toContain("N_NOTHING_HOT");
  }
}
