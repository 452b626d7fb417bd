import { describe, expect, it } from "vitest";
import { EVIDENCE_DEFAULTS } from "../../../src/evidence/evidence-defaults.js";
import { type SeenAttempt, seeAttempt } from "../../../src/evidence/seen-attempt.js";
import { triedRatio, triedWeight } from "../../../src/evidence/tried-likelihood.js";
import { weighJob } from "../../../src/evidence/weigh-job.js";
import { makeJob, type Telling } from "./make-job.js";

const see = (telling: Telling): SeenAttempt => {
  const { findings } = makeJob([{ attempt: telling }]).attempts[0]!;
  return seeAttempt(
    findings,
    { number: 1, seq: 2, state: 0, board: "main", sides: ["top"], viewKey: "top", placed: true },
    new Set(),
  );
};
const C7 = "main\nC7";
const o = EVIDENCE_DEFAULTS;

describe("triedRatio", () => {
  it("rises with the square of the evidence between its ends", () => {
    const ratio = (evidence: number) => triedRatio(see({ heat: [], tried: { C7: evidence } }), C7, null, o);
    expect(ratio(3.5)).toBeCloseTo(1, 12);
    expect(ratio(7)).toBeCloseTo(4, 12);
    expect(ratio(70)).toBe(30);
    expect(ratio(0)).toBeCloseTo(0.1, 12);
  });

  it("says nothing of what was not tried, is named, or is warm anyway", () => {
    expect(triedRatio(see({ heat: [] }), C7, null, o)).toBe(1);
    expect(triedRatio(see({ heat: [{ C7: 0.03, L2: 0.9 }], tried: { C7: 40 } }), C7, null, o)).toBe(1);
    expect(triedRatio(see({ heat: [], warm: ["C7"], tried: { C7: 40 } }), C7, null, o)).toBe(1);
    const { findings } = makeJob([{ attempt: { heat: [], tried: { C7: 40 } } }]).attempts[0]!;
    const mirror = {
      ...findings,
      parts: findings.parts!.map((part) => ({ ...part, mirrored: true as const })),
    };
    const place = { number: 1, seq: 2, state: 0, board: "main", sides: [], viewKey: "", placed: true };
    expect(triedRatio(seeAttempt(mirror, place, new Set()), C7, null, o)).toBe(1);
  });

  it("takes nothing off where the heat is expected far below what would be found", () => {
    const attempt = see({ heat: [], tried: { C7: 0 }, limitsW: { C7: 0.5 } });
    // In view it is found from half the limit on.
    expect(triedRatio(attempt, C7, 0.025, o)).toBeCloseTo(1 - 0.9 * 0.1, 9);
    expect(triedRatio(attempt, C7, 5, o)).toBeCloseTo(0.1, 9);
  });
});

describe("triedWeight", () => {
  it("counts n attempts that try a part as n/(1 + (n − 1)·r)", () => {
    const tried = see({ heat: [], tried: { C7: 9, L2: 1 } });
    const named = see({ heat: [{ C7: 0.9 }], tried: { C7: 9, L2: 1 } });
    expect(triedWeight([tried], C7, o)).toBe(1);
    expect(triedWeight([tried, tried, named], C7, o)).toBeCloseTo(1 / 1.55, 9);
    expect(triedWeight([named], C7, o)).toBe(1);
  });
});

describe("weighJob", () => {
  it("points at the part that two attempts would give heat, though none shows it by itself", () => {
    const job = makeJob([
      { attempt: { heat: [], tried: { C7: 24, L2: 0.4, R4: 7 } } },
      { attempt: { heat: [], side: "bottom", tried: { C7: 17, L2: 2, R4: 0 } } },
    ]);
    const { suspects, verdict } = weighJob(job);
    const [first] = suspects;
    expect(first!.ref).toBe("C7");
    expect(first!.probability).toBeGreaterThan(0.4);
    expect(first!.for.join(" ")).toMatch(
      /Attempt 2 \(bottom side\) does not name it, but heat there would explain more/,
    );
    expect(verdict).toMatch(/^C7 may be at fault \(\d+ %\)\. No attempt shows its heat by itself/);
  });

  it("still says that there is none where the fit would give no part more than cold ones get", () => {
    const job = makeJob([{ attempt: { heat: [], tried: { C7: 3, L2: 0.4, R4: 2 } } }]);
    expect(weighJob(job).verdict).toBe("No attempt shows the heat of a fault, and no net reads low.");
  });
});
