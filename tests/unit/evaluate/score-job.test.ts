import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { JOBS } from "../../evaluate/figures/jobs.js";
import { scoreJob } from "../../evaluate/score-job.js";
import { JOB_KINDS, type Job, makeJob, type TrueChange } from "../../simulate/make-job.js";
import { makeFindings } from "../compare/make-findings.js";

const change = (words: Partial<TrueChange> & Pick<TrueChange, "ref" | "watts" | "change">): TrueChange => ({
  side: "top",
  fault: true,
  outOfSight: false,
  ...words,
});
const job = (kind: Job["kind"], changes: TrueChange[]) => ({ kind, seed: 1, changes }) as unknown as Job;
const heat = (ref: string, powerW: number) => makeFindings({ heat: [{ ref, powerW }] });

describe("scoreJob", () => {
  it("counts what is right, what is wrong, and heat that is none", () => {
    const moved = job("moved", [
      change({ ref: "C6", watts: [0.2, 0], change: "gone" }),
      change({ ref: "R4", watts: [0, 0.3], change: "new" }),
    ]);
    const score = scoreJob(moved, compareFindings(heat("C6", 0.2), heat("U6", 0.3)));
    // C6 is right, R4 is missing, U6 does not heat.
    expect(score).toMatchObject({ parts: 3, right: 1, unseenTold: 0, verdictRight: false });
    expect(score.wrong).toEqual(["R4: none, not new", "U6: new, but it does not heat"]);
  });

  it("holds hotter and cooler against the watts by what was divided out", () => {
    const same = job("same", [change({ ref: "C6", watts: [0.2, 0.6], change: "persisted" })]);
    expect(scoreJob(same, compareFindings(heat("C6", 0.2), heat("C6", 0.6))).right).toBe(1);
    const fed = makeFindings({ heat: [{ ref: "C6", powerW: 0.6 }], amps: 0.6 });
    expect(scoreJob(same, compareFindings(heat("C6", 0.2), fed)).right).toBe(1);
    expect(scoreJob(same, compareFindings(heat("C6", 0.2), heat("C6", 0.2))).right).toBe(0);
  });

  it("counts what is said of parts out of sight", () => {
    const hidden = job("flipped-fixed", [
      change({ ref: "C6", watts: [0.2, 0], change: "gone", outOfSight: true }),
    ]);
    const told = compareFindings(heat("C6", 0.2), makeFindings());
    expect(scoreJob(hidden, told)).toMatchObject({ right: 0, unseenTold: 1, verdictRight: false });
    const unsure = compareFindings(heat("C6", 0.2), makeFindings({ sides: ["bottom"] }));
    expect(scoreJob(hidden, unsure)).toMatchObject({ right: 1, unseenTold: 0, verdictRight: true });
  });
});

describe("JOBS", () => {
  it("adds up what its trials counted", () => {
    const figures = JOBS.summarise([
      { kind: 0, parts: 3, right: 3, unseenTold: 0, verdictRight: true },
      { kind: 1, parts: 2, right: 1, unseenTold: 0, verdictRight: false },
    ]);
    // Two of the five rows are of jobs placed without fiducials, of which there are none here.
    expect(figures.map(({ value }) => value)).toEqual([0.8, null, null, 0, 0.5]);
    expect(figures.map(({ of }) => of)).toEqual([5, 0, 0, 5, 2]);
  });
});

describe("makeJob", () => {
  it("shows one board twice, from other places, and says what became of the heat", () => {
    expect(JOB_KINDS.length).toBe(7);
    const made = makeJob("moved", 2);
    expect(made.after.board).toBe(made.before.board);
    expect(made.after.view.fiducials).not.toEqual(made.before.view.fiducials);
    const faults = made.changes.filter(({ fault }) => fault).map((one) => one.change);
    expect(faults.sort()).toEqual(["gone", "new"]);
    expect(makeJob("moved", 2).changes).toEqual(made.changes);
  });

  it("turns the board over: what the first attempt sees the second one does not", () => {
    const made = makeJob("flipped", 1);
    expect(made.after.view.side).not.toBe(made.before.view.side);
    expect(made.changes.every(({ outOfSight }) => outOfSight)).toBe(true);
  });
});
