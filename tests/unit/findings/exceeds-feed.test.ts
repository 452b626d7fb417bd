import { describe, expect, it } from "vitest";
import { printFindings } from "../../../src/cli/print-findings.js";
import { analyse } from "../../../src/findings/analyse.js";
import { findingsSchema } from "../../../src/findings/findings-schema.js";
import { describeEnergy, suspectPower } from "../../../src/report/describe-findings.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

const attempt = makeAttempt({ watts: { U1: 0.21, C2: 0.06 }, seed: "exceeds the feed" });
const run = (amps: number) => analyse({ ...attempt, board: BOARD, view: VIEW, volts: 1, amps }).findings;
const plain = { bold: String, dim: String, warn: String } as unknown as Parameters<typeof printFindings>[1];

describe("frames that show more heat than was fed in", () => {
  const agreeing = run(0.5);
  const exceeding = run(0.01);

  it("is handed on: on each hotspot, in the books, in the reasons", () => {
    expect(agreeing.energy!.exclusive).toBe(false);
    expect(agreeing.hotspots.some(({ flags }) => flags.includes("exceedsFeed"))).toBe(false);
    expect(exceeding.energy!.exclusive).toBe(true);
    expect(exceeding.hotspots.length).toBeGreaterThan(1);
    expect(exceeding.hotspots.every(({ flags }) => flags.includes("exceedsFeed"))).toBe(true);
    expect(exceeding.suspects[0]!.why.join(" ")).toContain("more than the 10.0 mW that were fed in");
    expect(findingsSchema.parse(exceeding).energy).toEqual(exceeding.energy);
  });

  it("watts are not told as if they stood", () => {
    expect(suspectPower(exceeding.suspects[0]!, exceeding)).toMatch(/W \(more than was fed\)$/);
    expect(suspectPower(agreeing.suspects[0]!, agreeing)).not.toContain("more than was fed");
    const text = printFindings(exceeding, plain);
    expect(text).toContain("(more than was fed)");
    expect(text).toContain("exceedsFeed: its watts do not stand");
    expect(describeEnergy(exceeding)).toContain("can't both be right");
    expect(describeEnergy(exceeding)).not.toContain("held against what was fed in");
    expect(describeEnergy(agreeing)).toContain("held against what was fed in");
  });

  it("names and probabilities are as they were", () => {
    const named = ({ suspects }: typeof agreeing) =>
      suspects.map(({ ref, probability }) => [ref, probability]);
    expect(named(exceeding)).toEqual(named(run(0.011)));
    expect(exceeding.suspects[0]!.ref).toBe("U1");
  });

  it("nothing is said where no watts were given, and where none were fed", () => {
    expect(analyse({ ...attempt, board: BOARD, view: VIEW }).findings.energy).toBeNull();
    expect(run(0).energy!.exclusive).toBe(false);
  });
});
