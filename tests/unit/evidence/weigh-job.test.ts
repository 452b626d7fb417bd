import { describe, expect, it } from "vitest";
import { chooseNext } from "../../../src/evidence/choose-next.js";
import { EVIDENCE_DEFAULTS } from "../../../src/evidence/evidence-defaults.js";
import type { Evidence } from "../../../src/evidence/evidence-schema.js";
import { evidenceSchema } from "../../../src/evidence/evidence-schema.js";
import { gatherJob } from "../../../src/evidence/gather-job.js";
import { listSuspects } from "../../../src/evidence/list-suspects.js";
import { weighFaults } from "../../../src/evidence/weigh-faults.js";
import { type WeighJobOptions, weighJob } from "../../../src/evidence/weigh-job.js";
import { makeJob, type Step, type Telling } from "./make-job.js";

const look = (heat: Telling["heat"], side: "top" | "bottom" = "top", more: Partial<Telling> = {}): Step => ({
  attempt: { heat, side, view: side, ...more },
});
const replaced = (ref: string): Step => ({ action: { did: "replaced", ref } });
const lifted = (ref: string): Step => ({ action: { did: "lifted", ref } });
const weigh = (steps: readonly Step[], options: WeighJobOptions = {}) => weighJob(makeJob(steps), options);
const of = (evidence: Evidence, ref: string) => evidence.suspects.find((suspect) => suspect.ref === ref)!;
const UNSURE = [{ C7: 0.55, U3: 0.35 }];
const SURE = [{ C7: 0.97, U3: 0.01 }];

describe("weighJob", () => {
  it("says nothing of an empty job, and what to do", () => {
    const evidence = weigh([]);
    expect(evidence.verdict).toBe("Nothing has been measured yet.");
    expect(evidence.next.sentence).toContain("Capture a baseline");
    expect(evidenceSchema.parse(evidence)).toEqual(evidence);
  });

  it("keeps the figures that it rests on, and nothing else of its options", () => {
    const given = { toolVersion: "9.8.7", missedHeat: 0.1, other: "word" };
    const { options, tool } = weighJob(makeJob([]), given);
    expect(tool.version).toBe("9.8.7");
    expect(options).toEqual({ ...EVIDENCE_DEFAULTS, missedHeat: 0.1 });
  });

  it("gives back a single attempt's own probabilities, but for what it holds possible beside it", () => {
    const evidence = weigh([look(UNSURE)]);
    expect(evidence.suspects[0]!.ref).toBe("C7");
    // Driven heat, a wrong place and a second fault take or give a few hundredths.
    expect(of(evidence, "C7").probability).toBeCloseTo(0.55, 1);
    expect(of(evidence, "U3").probability).toBeCloseTo(0.35, 1);
    expect(evidence.verdict).toMatch(/^C7 \(\d+ %\) or U3/);
  });

  it("finds the part behind: the first was replaced, the heat stayed, the other side points elsewhere", () => {
    const evidence = weigh([look(UNSURE), replaced("C7"), look([{ U3: 0.9, C7: 0.05 }], "bottom")]);
    const [first] = evidence.suspects;
    expect(first!.ref).toBe("U3");
    expect(first!.probability).toBeGreaterThan(0.85);
    expect(of(evidence, "C7")).toMatchObject({ state: "cleared", changed: ["replaced"] });
    expect(of(evidence, "C7").cleared).toBe("It was replaced, and attempt 2 still shows heat.");
    expect(evidence.verdict).toMatch(/^U3 is at fault .*C7 is cleared: it was replaced/);
    expect(evidence.next.sentence).toMatch(/VIO.*lift U3/);
  });

  it("then knows the cure: its heat went when it was replaced", () => {
    const evidence = weigh([
      look(UNSURE),
      replaced("C7"),
      look([{ U3: 0.9, C7: 0.05 }], "bottom"),
      replaced("U3"),
      look([], "bottom"),
    ]);
    expect(evidence.suspects[0]).toMatchObject({ ref: "U3", state: "cured" });
    expect(evidence.mended).toBeGreaterThan(0.95);
    expect(evidence.verdict).toMatch(/^U3 was at fault .*in attempt 3 its heat is gone/);
    expect(evidence.next.sentence).toContain("mended");
  });

  it("nearly clears a part that was replaced in vain; what shares its net gains, and says why", () => {
    const before = weigh([look(SURE)]);
    const after = weigh([look(SURE), replaced("C7"), look(SURE)]);
    expect(of(after, "C7").probability).toBeLessThan(0.6);
    for (const ref of ["L2", "U9"]) {
      expect(of(after, ref).probability).toBeGreaterThan(4 * of(before, ref).probability);
      expect(of(after, ref).for.join(" ")).toContain("shares VLED with C7, whose place was still hot");
    }
    expect(of(after, "U3").for.join(" ")).toContain("lies behind C7");
    expect(of(after, "R4").probability).toBeLessThan(0.05);
  });

  it("takes a place that is hot although its part is off for another part's, or none's", () => {
    const evidence = weigh([look(SURE), lifted("C7"), look(SURE)]);
    expect(of(evidence, "U3").probability + evidence.unexplained).toBeGreaterThan(0.5);
    expect(of(evidence, "C7").probability).toBeLessThan(0.5);
  });

  it("tells a second fault from one that moved", () => {
    const moved = weigh([look([{ C7: 0.95 }]), replaced("C7"), look([{ U9: 0.98 }])]);
    expect(moved.suspects[0]).toMatchObject({ ref: "U9", state: "open" });
    expect(of(moved, "C7").state).toBe("cured");
    expect(moved.secondFault).toBeGreaterThan(0.5);
    expect(moved.verdict).toMatch(/U9 is at fault.*C7 was at fault too/);
    const two = weigh([look([{ C7: 0.95 }, { U9: 0.97 }])]);
    expect(two.verdict).toMatch(/both at fault/);
  });

  it("does not take repeated attempts for new ones", () => {
    const once = of(weigh([look(UNSURE)]), "C7").probability;
    const often = weigh(Array.from({ length: 30 }, () => look(UNSURE)));
    expect(of(often, "C7").probability).toBeLessThan(once + 0.1);
    expect(often.attempts.reduce((sum, { weight }) => sum + weight, 0)).toBeLessThan(1 / 0.8);
    const sides = weigh([look(UNSURE), look([{ C7: 0.6, L2: 0.3 }], "bottom")]);
    expect(of(sides, "C7").probability).toBeGreaterThan(of(often, "C7").probability);
  });

  it("sets no fault's heat against parts that nothing was done to, where it would have been seen", () => {
    const seen = weigh([look([{ C7: 0.9 }]), look([], "top", { limitsW: { C7: 0.01 } })]);
    const faint = weigh([look([{ C7: 0.9 }]), look([], "top", { limitsW: { C7: 2 } })]);
    const hidden = weigh([look([{ C7: 0.9 }]), look([], "top", { limitsW: { C7: null } })]);
    expect(of(faint, "C7").probability).toBeGreaterThan(of(seen, "C7").probability);
    expect(of(hidden, "C7").probability).toBeGreaterThan(of(seen, "C7").probability);
  });

  it("leaves normal heat out, and what is warm on a good board too", () => {
    const evidence = weigh([look(SURE, "top", { warm: ["U1"] })]);
    expect(of(evidence, "U1")).toMatchObject({ state: "normallyWarm" });
    expect(evidence.suspects[0]!.ref).toBe("C7");
    const good = look([{ L2: 0.99 }], "top", { healthy: true });
    const both = weigh([good, look([{ C7: 0.9 }, { L2: 0.95 }])]);
    expect(both.suspects[0]!.ref).toBe("C7");
    expect(of(both, "L2").stillFaulty).toBeLessThan(0.1);
    expect(both.attempts.map(({ number }) => number)).toEqual([2]);
  });

  it("counts no attempt that names no part", () => {
    const evidence = weigh([look(UNSURE), look([{ L2: 1 }], "top", { withoutBoard: true })]);
    expect(evidence.attempts[1]).toMatchObject({ weight: 0 });
    expect(evidence.attempts[1]!.text).toContain("no board map");
    expect(of(evidence, "C7").probability).toBeCloseTo(of(weigh([look(UNSURE)]), "C7").probability, 9);
  });
});

describe("what weighJob advises", () => {
  it("looks at the pads of a part that is off while the fault stays", () => {
    const job = gatherJob(makeJob([look([{ C7: 0.9 }]), lifted("C7"), look([{ C7: 0.9 }])]));
    const weighed = weighFaults(job, EVIDENCE_DEFAULTS);
    const suspects = listSuspects(job, weighed, EVIDENCE_DEFAULTS);
    const c7 = suspects.find(({ ref }) => ref === "C7")!;
    const next = chooseNext(job, weighed, [{ ...c7, stillFaulty: 0.95 }], EVIDENCE_DEFAULTS);
    expect(next.sentence).toMatch(/^Look at the pads of C7/);
    const on = chooseNext(job, weighed, [{ ...c7, changed: [], stillFaulty: 0.95 }], EVIDENCE_DEFAULTS);
    expect(on.sentence).toMatch(/lift C7/);
  });

  it("asks for a capture after work on a likely part that nothing has looked at since", () => {
    const sure = look([{ C7: 0.98, U3: 0.01 }]);
    const due =
      "Capture again as in attempt 1: C7 was replaced since, and nothing shows yet whether its heat is gone.";
    expect(weigh([sure, replaced("C7")]).next).toEqual({ sentence: due, gainBits: null });
    // A capture or a reading that means something has looked since; work on a part that hardly is the fault asks for
    // none.
    expect(weigh([sure, replaced("C7"), look([])]).next.sentence).not.toBe(due);
    const reading = { reading: { net: "VLED", value: 0.4 } };
    expect(weigh([sure, replaced("C7"), reading]).next.sentence).toBe(due);
    const good = { reference: { net: "VLED", value: 0.4 } };
    expect(weigh([sure, good, replaced("C7"), reading]).next.sentence).not.toBe(due);
    expect(weigh([sure, replaced("U3")]).next.sentence).toMatch(/lift C7 and capture again/);
    // A net that the part is not on says nothing of it, nor does a net of that name on another board.
    const elsewhere = (place: object): Step[] => [
      { reference: { ...place, value: 0.4 } },
      replaced("C7"),
      { reading: { ...place, value: 0.4 } },
    ];
    expect(weigh([sure, ...elsewhere({ net: "VCORE" })]).next.sentence).toBe(due);
    expect(weigh([sure, ...elsewhere({ net: "VLED", board: "radio" })]).next.sentence).toBe(due);
  });

  it("calls a part that was worked on and not looked at since neither cured nor open, and says so", () => {
    const sure = look([{ C7: 0.98, U3: 0.01 }]);
    const unseen = weigh([sure, replaced("C7")]);
    const yet = "was replaced, and nothing shows yet whether its heat is gone.";
    expect(of(unseen, "C7")).toMatchObject({ state: "unseen", cleared: `It ${yet}` });
    expect(unseen.verdict).toMatch(new RegExp(`^C7 was at fault \\(\\d+ %\\): it ${yet}$`));
    expect(evidenceSchema.parse(unseen)).toEqual(unseen);
    expect(of(weigh([sure, replaced("C7"), look([])]), "C7").state).toBe("cured");
    // Of work that seldom helps chances alone would call the part open; two of them are told each.
    const reflowed = weigh([sure, { action: { did: "reflowed", ref: "C7" } }]);
    expect(of(reflowed, "C7").state).toBe("unseen");
    expect(reflowed.verdict).toMatch(
      /^C7 is at fault \(\d+ %\)\. C7 was reflowed, and nothing shows yet whether its heat is gone\.$/,
    );
    // Another attempt saw the heat stay: nothing is unseen.
    expect(of(weigh([sure, replaced("C7"), sure]), "C7").state).not.toBe("unseen");
    expect(of(weigh([sure, replaced("U3")]), "U3").state).toBe("open");
  });

  it("asks for a capture after the board was cleaned as a whole, too", () => {
    const sure = look([{ C7: 0.98, U3: 0.01 }]);
    expect(weigh([sure, { action: { did: "cleaned" } }]).next.sentence).toBe(
      "Capture again as in attempt 1: the board was cleaned since, and nothing shows yet whether the heat of C7 is gone.",
    );
    expect(of(weigh([sure, { action: { did: "cleaned" } }]), "C7").cleared).toBe(
      "It was cleaned with the board, and nothing shows yet whether its heat is gone.",
    );
    expect(weigh([sure, { action: { did: "cleaned" } }, look([])]).next.sentence).not.toMatch(
      /^Capture again as/,
    );
  });

  it("asks for map and view where an attempt shows heat that nothing can name", () => {
    const job = makeJob([{ attempt: { heat: [{ C7: 1 }], withoutBoard: true } }]);
    expect(weighJob(job).next.sentence).toBe(
      "Add the frames of attempt 1 again with a board map and a view: it shows heat, and nothing says in which part.",
    );
  });

  it("looks harder where no attempt shows heat, and says so", () => {
    const evidence = weigh([look([])]);
    expect(evidence.verdict).toMatch(/^No attempt shows the heat of a fault/);
    expect(evidence.next.sentence).toContain("no attempt shows a fault's heat");
  });

  it("takes off what is settled, with what that is expected to tell", () => {
    const { next } = weigh([look(SURE), look(SURE, "bottom")]);
    expect(next.sentence).toMatch(/lift C7 and capture again/);
    expect(next.gainBits).toBeGreaterThan(0.1);
  });

  it("names two cleared parts in the verdict, and counts the others", () => {
    const heat = look([{ U3: 0.99 }], "bottom");
    const { verdict } = weigh([heat, ...["C7", "L2", "U9", "R4"].map(replaced), heat]);
    expect(verdict.match(/is cleared/g)).toHaveLength(2);
    expect(verdict).toContain("2 more parts that were changed are cleared.");
    const three = weigh([heat, ...["C7", "L2", "U9"].map(replaced), heat]);
    expect(three.verdict).toContain("1 more part that was changed is cleared.");
  });
});

describe("weighJob with readings", () => {
  const good = { reference: { value: 0.4 } } as const;
  const goodIo = { reference: { net: "VIO", value: 0.4 } } as const;
  const short: Step = { reading: { value: 0.01 } };
  const shortIo: Step = { reading: { net: "VIO", value: 0.01 } };
  const fine: Step = { reading: { value: 0.4 } };

  it("lets a shorted net overrule a weak picture, and can be switched off", () => {
    const steps = [look(UNSURE), goodIo, shortIo];
    expect(weigh(steps).suspects[0]!.ref).toBe("U3");
    expect(of(weigh(steps), "U3").for.join(" ")).toContain("on VIO, which reads short");
    expect(of(weigh(steps), "C7").against.join(" ")).toContain("on no net that reads low (VIO)");
    // VIO is the only net of U3 and one of two of U9: 0.5 : 0.02, and half of that and a half.
    expect(of(weigh(steps), "U3").readingRatio).toBeCloseTo(25, 9);
    expect(of(weigh(steps), "U9").readingRatio).toBeCloseTo(13, 9);
    expect(of(weigh(steps), "U3").for.join(" ")).toContain("× 25 as likely");
    const off = weigh(steps, { useReadings: false });
    expect(of(off, "U3").readingRatio).toBeNull();
    expect(of(off, "C7").probability).toBe(of(weigh([look(UNSURE)]), "C7").probability);
    expect(off.readings).toHaveLength(1);
    expect(evidenceSchema.parse(weigh(steps))).toEqual(weigh(steps));
  });

  it("knows the cure by the net", () => {
    const evidence = weigh([look(UNSURE), good, short, lifted("C7"), fine]);
    expect(of(evidence, "C7").state).toBe("cured");
    expect(of(evidence, "C7").cleared).toBe("It was lifted, and VLED reads as it should since.");
  });

  it("clears what was lifted while its net stays short, and looks at what shares it", () => {
    const before = weigh([look(UNSURE), good, short]);
    const after = weigh([look(UNSURE), good, short, lifted("C7"), short]);
    expect(after.mended).toBeLessThan(0.2);
    expect(of(after, "C7").probability).toBeLessThan(0.6 * of(before, "C7").probability);
    for (const ref of ["L2", "U9"]) {
      expect(of(after, ref).stillFaulty).toBeGreaterThan(of(after, "C7").stillFaulty);
    }
  });

  it("asks to discharge first while readings move", () => {
    const evidence = weigh([look(UNSURE), good, { reading: { value: 0.1 } }, { reading: { value: 0.2 } }]);
    expect(evidence.next.sentence).toMatch(/^Discharge VLED, wait/);
    expect(of(evidence, "C7").probability).toBe(of(weigh([look(UNSURE)]), "C7").probability);
  });

  it("does not advise to read a net again that was read in this state", () => {
    const fresh = weigh([look(UNSURE)]).next;
    expect(fresh.sentence).toMatch(/read (VIO|VLED) to ground/);
    expect(fresh.gainBits).toBeGreaterThan(0.1);
    const net = /read (\w+) to ground/.exec(fresh.sentence)![1]!;
    const read = weigh([
      look(UNSURE),
      { reference: { net, value: 0.4 } },
      { reading: { net, value: 0.4 } },
    ]).next;
    expect(read.sentence).not.toContain(`read ${net} to ground`);
  });
});
