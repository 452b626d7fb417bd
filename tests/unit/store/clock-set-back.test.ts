// The clock of the machine is set back while a job is worked on: order is that of the lines, not of the clock.
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { checkJob } from "../../../src/store/check-job.js";
import { compareAttempts } from "../../../src/store/compare-attempts.js";
import { createJob } from "../../../src/store/create-job.js";
import { indexJobs } from "../../../src/store/index-jobs.js";
import { openJob } from "../../../src/store/open-job.js";
import { writeJobReport } from "../../../src/store/write-job-report.js";
import { type Bench, CLOCK, DEVICE, makeBench } from "./bench.js";

let bench: Bench;
beforeAll(async () => {
  bench = await makeBench();
  await createJob(bench.job, { ...DEVICE, boards: [bench.file("board.json")] }, CLOCK);
});
afterAll(() => bench.remove());
const at = (moment: string) => ({ ...CLOCK, now: () => new Date(moment) });

describe("a clock that is set back by two years, and then to before 1970", () => {
  it("changes no order: lines, attempts and what they say of each other", async () => {
    await addAttempt(bench.job, bench.frames, at("2031-03-01T10:00:00Z"));
    const action = { type: "action", action: { did: "replaced", ref: "U5" } } as const;
    await appendSaid(bench.job, [action], at("2029-01-01T00:00:00Z"));
    await addAttempt(
      bench.job,
      { ...bench.frames, powered: bench.frames.baseline },
      at("1969-12-31T23:00:00Z"),
    );
    const job = await openJob(bench.job, CLOCK);
    expect(job.entries.map(({ seq, said }) => [seq, said.type])).toEqual([
      [1, "board"],
      [2, "attempt"],
      [3, "action"],
      [4, "attempt"],
    ]);
    expect(job.attempts.map(({ attempt }) => attempt.number)).toEqual([1, 2]);
    expect(await checkJob(bench.job, CLOCK)).toMatchObject({ sound: true, problems: [] });
    const { html } = await writeJobReport(bench.job, "repairer", CLOCK);
    const text = await readFile(html, "utf8");
    expect(text.indexOf("Attempt 1")).toBeGreaterThan(0);
    expect(text.indexOf("Attempt 1")).toBeLessThan(text.indexOf("Attempt 2"));
    // The second attempt is still the one after the replacement.
    const [pair] = compareAttempts(job, "0.0.1");
    expect(pair!.comparison!.actions).toEqual([{ what: "replaced", ref: "U5" }]);
    expect(text).not.toMatch(/NaN|Invalid Date/);
    const index = await indexJobs(join(bench.job, ".."), {}, CLOCK);
    expect(JSON.stringify(index)).not.toMatch(/NaN|Invalid/);
  });

  it("keeps nobody out: a lock of the future is known by its process, not by its time", async () => {
    const slow = appendSaid(bench.job, [{ type: "remark", text: "tomorrow" }], at("2099-01-01T00:00:00Z"));
    const quick = appendSaid(bench.job, [{ type: "remark", text: "yesterday" }], at("1990-01-01T00:00:00Z"));
    await Promise.all([slow, quick]);
    const { remarks } = await openJob(bench.job, CLOCK);
    expect(remarks.map(({ text }) => text).sort()).toEqual(["tomorrow", "yesterday"]);
  });
});
