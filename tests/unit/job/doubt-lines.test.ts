// Lines that were just added → what looks like a slip in them, or what they leave behind.
import { describe, expect, it } from "vitest";
import { doubtLines } from "../../../src/job/doubt-lines.js";
import type { Job, JobAttempt, JobBoard } from "../../../src/job/job.js";

type Line = Job["entries"][number];
const line = (seq: number, said: object): Line => ({ seq, said }) as unknown as Line;
const board = (seq: number, name: string): JobBoard =>
  ({ seq, name, map: { regions: [{ ref: "U1" }, { ref: "C6" }] } }) as unknown as JobBoard;

/** An attempt with powered frames of these hashes, on a map or on none. */
function attempt(seq: number, number: number, powered: readonly string[], more: object = {}): JobAttempt {
  const {
    map = true,
    volts = null,
    amps = null,
    cycleS = null,
  } = more as { map?: boolean; volts?: number; amps?: number; cycleS?: number };
  return {
    seq,
    board: map ? {} : null,
    attempt: {
      number,
      conditions: { volts, amps, rail: null },
      options: { cycleS },
      views: [{ powered: powered.map((sha256) => ({ sha256 })) }],
    },
  } as unknown as JobAttempt;
}

function jobOf(more: Partial<Job>): Job {
  const none = { boards: [], attempts: [], readings: [], references: [], actions: [], entries: [] };
  return { ...none, ...more } as unknown as Job;
}
const codes = (job: Job, from: number) => doubtLines(job, from).map(({ code }) => code);

describe("doubtLines", () => {
  const entries = [
    line(1, { type: "board", name: "main" }),
    line(2, { type: "board", name: "main" }),
    line(3, { type: "board", name: "radio" }),
    line(4, { type: "remark", text: "hot" }),
  ];
  const takenBack = (seq: number) => [...entries, line(5, { type: "withdrawal", seq, reason: "slip" })];

  it("says what a job is left with when a map is taken back", () => {
    const none = doubtLines(jobOf({ entries: takenBack(1) }), 5);
    expect(none.map(({ code, severity }) => [code, severity])).toEqual([["N_JOB_MAP", "warning"]]);
    expect(none[0]!.text).toMatch(/^The job has no board map any more: attempts keep the one/);
    const other = doubtLines(jobOf({ entries: takenBack(1), boards: [board(3, "radio")] }), 5);
    expect(other[0]!.text).toMatch(/^The job has no map of "main" any more/);
    const earlier = jobOf({ entries: takenBack(2), boards: [board(1, "main"), board(3, "radio")] });
    expect(doubtLines(earlier, 5)[0]!.text).toBe('Of "main" the map of line 1 counts again.');
    // An older one that is taken back leaves the later one counting, as it did.
    const later = jobOf({ entries: takenBack(1), boards: [board(2, "main"), board(3, "radio")] });
    expect(doubtLines(later, 5)[0]!.text).toBe('Of "main" the map of line 2 still counts, as before.');
  });

  it("says nothing of other lines that are taken back, nor of what was said before", () => {
    expect(codes(jobOf({ entries: takenBack(4) }), 5)).toEqual([]);
    expect(codes(jobOf({ entries: takenBack(1) }), 6)).toEqual([]);
  });

  it("doubts an attempt without a powered frame of its own, but not frames that come again to be placed", () => {
    const first = attempt(1, 1, ["a", "b"]);
    expect(codes(jobOf({ attempts: [first, attempt(2, 2, ["b"])] }), 2)).toEqual(["N_JOB_REPEAT"]);
    expect(doubtLines(jobOf({ attempts: [first, attempt(2, 2, ["b"])] }), 2)[0]!.text).toMatch(
      /^Attempt 2 has no powered frame that attempt 1 does not have: .* Withdraw the one that is not to count: line 1 \(attempt 1\) or line 2 \(attempt 2\)\.$/,
    );
    expect(codes(jobOf({ attempts: [first, attempt(2, 2, ["b", "c"])] }), 2)).toEqual([]);
    const bare = attempt(1, 1, ["a"], { map: false });
    expect(codes(jobOf({ attempts: [bare, attempt(2, 2, ["a"])] }), 2)).toEqual([]);
    expect(codes(jobOf({ attempts: [bare, attempt(2, 2, ["a"], { map: false })] }), 2)).toEqual([
      "N_JOB_REPEAT",
    ]);
  });

  it("doubts power of which half was told", () => {
    const told = (more: object) => codes(jobOf({ attempts: [attempt(1, 1, ["a"], more)] }), 1);
    expect([told({ volts: 3.3 }), told({ amps: 1 }), told({ volts: 3.3, amps: 1 }), told({})]).toEqual([
      ["N_JOB_POWER"],
      ["N_JOB_POWER"],
      [],
      [],
    ]);
  });

  it("speaks of books only where the supply stayed on", () => {
    const text = (more: object) => doubtLines(jobOf({ attempts: [attempt(1, 1, ["a"], more)] }), 1)[0]!.text;
    expect(text({ volts: 3.3 })).toContain("the books are not drawn up");
    expect(text({ volts: 3.3, cycleS: 2 })).not.toContain("books");
    expect(text({ volts: 3.3, cycleS: 2 })).toContain("comparisons can't divide it out");
  });

  it("takes several parts in one name apart", () => {
    const boards = [board(1, "main")];
    const text = (ref: string) =>
      doubtLines(jobOf({ boards, actions: [{ seq: 2, at: "", did: "replaced", ref }] }), 2)[0]!.text;
    expect(text("u1,C6")).toMatch(
      /If the parts u1 and C6 were meant, withdraw line 2 and say each by itself\.$/,
    );
    expect(text("U1,C7")).toMatch(/If it is a slip, withdraw line 2 and say it again\.$/);
  });
});
