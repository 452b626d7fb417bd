import { describe, expect, it } from "vitest";
import { weighJob } from "../../../src/evidence/weigh-job.js";
import { BOARD, makeJob } from "./make-job.js";

describe("weighJob of a device whose board is split", () => {
  it("finds a fault on each of two boards beside one that was mended", () => {
    const job = makeJob([
      { attempt: { heat: [{ C7: 0.97 }] } },
      { attempt: { heat: [{ L2: 0.98 }], view: "lower" } },
      { action: { did: "replaced", ref: "C7" } },
      { attempt: { heat: [{ U9: 0.98 }] } },
    ]);
    const [first] = job.boards;
    const lower = { ...first!, name: "lower", map: { ...BOARD, name: "lower" } };
    const split = {
      ...job,
      boards: [first!, lower],
      actions: job.actions.map((action) => ({ ...action, board: "main" })),
      attempts: job.attempts.map((one, k) =>
        k === 1
          ? { ...one, attempt: { ...one.attempt, board: { ...one.attempt.board!, name: "lower" } } }
          : one,
      ),
    };
    const evidence = weighJob(split);
    const on = (ref: string, board: string) =>
      evidence.suspects.find((one) => one.ref === ref && one.board === board)!;
    expect(on("U9", "main").stillFaulty).toBeGreaterThan(0.8);
    expect(on("L2", "lower").stillFaulty).toBeGreaterThan(0.8);
    expect(on("C7", "main")).toMatchObject({ state: "cured" });
    expect(evidence.thirdFault).toBeGreaterThan(0.5);
    expect(evidence.next.sentence).toMatch(/lift (L2 \(lower\)|U9 \(main\)) and capture/);
    expect(evidence.verdict).toMatch(
      /(U9|L2) .* and .*(L2|U9) .* are both at fault\. C7 \(main\) was at fault too/,
    );
  });
});
