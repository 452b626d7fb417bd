import { describe, expect, it } from "vitest";
import type { JobSuspect } from "../../../src/evidence/evidence-schema.js";
import { sayEvidence } from "../../../src/evidence/say-evidence.js";

const suspect = (ref: string, more: Partial<JobSuspect>): JobSuspect => ({
  ref,
  side: "top",
  board: "upper board",
  nets: [],
  probability: 0.02,
  stillFaulty: 0.02,
  state: "open",
  for: [],
  against: [],
  cleared: null,
  changed: [],
  ...more,
});

/** A job of which only counts and odds matter here. */
function say(suspects: readonly JobSuspect[], secondFault = 0.02, thirdFault = 0.001): string {
  const job = { parts: [{}], attempts: [{ heat: [{}], placed: true }], nets: [] };
  const weighed = { mended: 0.01, secondFault, thirdFault, unexplained: 0.01 };
  type Words = Parameters<typeof sayEvidence>;
  return sayEvidence(job as unknown as Words[0], weighed as unknown as Words[1], suspects);
}

describe("sayEvidence", () => {
  it("speaks of no named parts where no map names any", () => {
    type Words = Parameters<typeof sayEvidence>;
    const job = { parts: [], attempts: [{ heat: [{}] }], nets: [] } as unknown as Words[0];
    const weighed = { mended: 0.01, secondFault: 0.02, unexplained: 0.98 } as unknown as Words[1];
    expect(sayEvidence(job, weighed, [])).toBe("No part can be named: the job has no board map yet.");
  });

  it("names the board of a part whose name several boards have, and of no other", () => {
    const cleared = { state: "cleared" as const, changed: ["replaced"] };
    const suspects = [
      suspect("R1", { probability: 0.97, stillFaulty: 0.96 }),
      suspect("U3", { ...cleared, cleared: "It was replaced, and attempt 3 still shows heat." }),
      suspect("U3", { ...cleared, board: "lower board", cleared: "Attempt 2 shows the heat elsewhere." }),
    ];
    expect(say(suspects)).toBe(
      "R1 is at fault (96 %). U3 (upper board) is cleared: it was replaced, and attempt 3 still shows heat. U3 (lower board) is cleared: Attempt 2 shows the heat elsewhere.",
    );
  });

  it("tells two faults of one name apart", () => {
    const fault = { probability: 0.97, stillFaulty: 0.96 };
    expect(say([suspect("R1", fault), suspect("R1", { ...fault, board: "lower board" })], 0.9)).toBe(
      "R1 (upper board) (96 %) and R1 (lower board) (96 %) are both at fault.",
    );
  });

  it("names three faults where there are three, and what was cured beside them", () => {
    const fault = { probability: 0.97, stillFaulty: 0.96 };
    const three = [suspect("R1", fault), suspect("U3", fault), suspect("L2", fault)];
    expect(say(three, 0.98, 0.9)).toBe("R1 (96 %), U3 (96 %) and L2 (96 %) are all at fault.");
    expect(say(three, 0.98, 0.1)).toBe("R1 (96 %) and U3 (96 %) are both at fault.");
    const cured = (ref: string) =>
      suspect(ref, {
        state: "cured",
        probability: 0.95,
        cleared: "It was replaced, and in attempt 2 its heat is gone.",
      });
    expect(say([suspect("R1", fault), cured("U3"), cured("L2")], 0.98, 0.9)).toBe(
      "R1 is at fault (96 %). U3 was at fault too: it was replaced, and in attempt 2 its heat is gone. L2 was at fault too: it was replaced, and in attempt 2 its heat is gone.",
    );
  });
});
