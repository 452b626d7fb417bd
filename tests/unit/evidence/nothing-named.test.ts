import { describe, expect, it } from "vitest";
import type { Styles } from "../../../src/cli/command-output.js";
import { printJob } from "../../../src/cli/print-job.js";
import type { Evidence } from "../../../src/evidence/evidence-schema.js";
import { weighJob } from "../../../src/evidence/weigh-job.js";
import { BOARD, makeJob, type Step, type Telling } from "./make-job.js";

const look = (heat: Telling["heat"], side: "top" | "bottom" = "top", more: Partial<Telling> = {}): Step => ({
  attempt: { heat, side, view: side, ...more },
});
const replaced = (ref: string): Step => ({ action: { did: "replaced", ref } });
const weigh = (steps: readonly Step[]) => weighJob(makeJob(steps));
const of = (evidence: Evidence, ref: string) => evidence.suspects.find((suspect) => suspect.ref === ref)!;
const SURE = [{ C7: 0.97, U3: 0.01 }];

describe("a job of which nothing points to a part", () => {
  it("asks for no map where those frames were given again with one, and passes on what that attempt advises", () => {
    const plain = look([{ C7: 1 }], "top", { withoutBoard: true, frame: "a".repeat(64) });
    const tape = "Put matte tape on the shiny parts and capture again.";
    const again = look([], "top", { frame: "a".repeat(64), nextStep: tape });
    expect(weigh([plain, again]).next.sentence).toBe(tape);
    const other = look([], "top", { frame: "b".repeat(64), nextStep: tape });
    expect(weigh([plain, other]).next.sentence).toMatch(/^Add the frames of attempt 1 again/);
    // One attempt knows nothing of the other side's.
    const flipped = look([], "bottom", { frame: "b".repeat(64), nextStep: "Capture the top side." });
    expect(weigh([again, flipped]).next.sentence).toContain("no attempt shows a fault's heat");
  });

  it("names no part for its prior alone, however few the map has", () => {
    const one = { ...BOARD, regions: BOARD.regions.slice(0, 1) };
    const verdictOf = (...steps: Step[]) => weighJob(makeJob(steps, one)).verdict;
    const plain = look([{ C7: 1 }], "top", { withoutBoard: true });
    expect(verdictOf(plain, look([]))).toBe(
      "No part can be named: attempt 1 shows heat without a board map and a view, and no attempt with them shows the heat of a fault.",
    );
    expect(verdictOf(plain)).toBe(
      "No part can be named: attempt 1 shows heat without a board map and a view.",
    );
    expect(verdictOf(plain, look([{ C7: 0.9 }]))).toMatch(/^C7 is at fault/);
    const low: Step = { reading: { net: "VLED", value: 0.001 } };
    const reference: Step = { reference: { net: "VLED", value: 0.4 } };
    expect(verdictOf(plain, look([]), reference, low)).toMatch(/^C7 is at fault/);
  });

  it("clears a part that was worked on only by what was seen of it since", () => {
    const plain = look([{ C7: 1 }], "top", { withoutBoard: true });
    const vcore = (value: number): Step => ({ reading: { net: "VCORE", value } });
    const vled = (value: number): Step => ({ reading: { net: "VLED", value } });
    const references: Step[] = ["VCORE", "VLED"].map((net) => ({ reference: { net, value: 0.4 } }));
    const since = (...steps: Step[]) => weigh([...references, plain, replaced("C7"), ...steps]);
    // Frames without a place and a net that the part is not on say nothing of it.
    for (const evidence of [since(plain), since(vcore(0.4)), since(plain, vcore(0.001))]) {
      expect(of(evidence, "C7")).toMatchObject({ state: "open", cleared: null, changed: ["replaced"] });
      expect(evidence.verdict).not.toContain("cleared");
    }
    // Still short, so another part on it is.
    expect(of(since(vled(0.001)), "C7").state).toBe("cleared");
    expect(of(since(look([{ U9: 0.97 }])), "C7").cleared).toBe(
      "It was replaced, and attempt 2 still shows heat.",
    );
  });

  it("says whether anything points to a part, so that no chances are shown under a verdict that names none", () => {
    const one = { ...BOARD, regions: BOARD.regions.slice(0, 1) };
    const job = makeJob([look([])], one);
    const evidence = weighJob(job);
    expect(evidence.pointsToPart).toBe(false);
    expect(evidence.suspects[0]!.probability).toBeGreaterThan(0.05);
    const styles = { bold: String, dim: String } as unknown as Styles;
    const shown = printJob(job, evidence, styles);
    expect(shown).toContain("No attempt shows the heat of a fault");
    expect(shown).not.toMatch(/At fault|C7 \(top\)/);
    const pointed = weigh([look(SURE)]);
    expect(pointed.pointsToPart).toBe(true);
    expect(weigh([look(SURE), replaced("C7"), look([])]).pointsToPart).toBe(true);
    expect(printJob(makeJob([look(SURE)]), pointed, styles)).toMatch(/C7 \(top\) +9/);
  });

  it("counts heat where the map names nothing, and says so", () => {
    const where = "Look what lies at 12.0, 9.0 mm on the top side and add it to the board map.";
    const evidence = weigh([look([{}], "top", { nextStep: where })]);
    expect(evidence.verdict).toBe("None of the named parts explains what was measured.");
    expect(evidence.next.sentence).toBe(where);
    expect(evidence.attempts[0]!.text).toBe("Attempt 1 (top side): heat in none of the named parts.");
    expect(evidence.unexplained).toBeGreaterThan(0.5);
  });

  it("passes on what the last attempt with heat advises of a change that its map has no part for", () => {
    const draw =
      "Look what lies at 40.3, 13.6 mm on the top side, add it to the board map and analyse again: what changed most (6.7 K) lies where the map names nothing, and was taken for something mirrored.";
    const settled = (more: object) =>
      weigh([look(SURE, "top", { nextStep: "Before lifting C7, read its power pins.", ...more })]).next
        .sentence;
    const lift = settled({});
    expect(lift).toMatch(/C7 and capture again/);
    const both = { nextStep: `Before lifting C7, read its power pins. ${draw}`, nextStepUnmapped: draw };
    expect(settled(both)).toBe(`${lift} ${draw}`);
    // A later attempt may have been made with the fuller map.
    const later = weigh([look(SURE, "top", both), look([])]);
    expect(later.next.sentence).not.toContain(draw);
  });

  it("takes what is named by power alone for no heat that was seen", () => {
    const byPower = look([{ L2: 0.42, U9: 0.1 }], "top", {
      flags: ["namedByPower"],
      tried: { C7: 1, U3: 1, L2: 7, U9: 5, R4: 1 },
      limitsW: { C7: 0.01, U3: 0.01, L2: 0.01, U9: 0.01, R4: 0.01 },
    });
    const mended = weigh([look(SURE), replaced("C7"), byPower]);
    expect(mended.verdict).toMatch(/^C7 was at fault/);
    expect(mended.attempts[1]!.text).toBe(
      "Attempt 2 (top side), C7 replaced before it: no fault surely shows.",
    );
    // As a hotspot of its own the same chances are a second fault.
    const seen = weigh([look(SURE), replaced("C7"), look([{ L2: 0.42, U9: 0.1 }])]);
    expect(of(seen, "L2").stillFaulty).toBeGreaterThan(3 * of(mended, "L2").stillFaulty);
    const alone = weigh([byPower]);
    expect(alone.suspects.slice(0, 2).map(({ ref }) => ref)).toEqual(["L2", "U9"]);
    expect(alone.verdict).toMatch(/^L2 may be at fault .* No attempt shows its heat by itself/);
    expect(alone.suspects[0]!.for).toEqual([
      "Attempt 1 (top side) names it among the likeliest, since the board had power.",
    ]);
  });
});
