import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { compareAttempts } from "../../../src/store/compare-attempts.js";
import { createJob } from "../../../src/store/create-job.js";
import { gatherReport } from "../../../src/store/gather-report.js";
import { openJob } from "../../../src/store/open-job.js";
import { writeJobReport } from "../../../src/store/write-job-report.js";

const SAMPLES = fileURLToPath(new URL("../../../sample-frames/", import.meta.url));
const options = { toolVersion: "0.0.1" };
const at = (minute: number): string => `2031-02-03T14:${minute}:00+01:00`;

let root = "";
let job = "";

/** A job of two attempts on the invented sample board: C6 heats, is replaced, and then U6 heats. */
beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), "faultglow-report-"));
  job = join(root, "job");
  await createJob(
    job,
    { device: "invented meter", boards: [join(SAMPLES, "board.json")], at: at(10) },
    options,
  );
  const attempt = (number: number, minute: number) =>
    addAttempt(
      job,
      {
        baseline: [join(SAMPLES, `attempt-${number}/baseline`)],
        powered: [join(SAMPLES, `attempt-${number}/powered`)],
        view: join(SAMPLES, `attempt-${number}/view-top.json`),
        conditions: { volts: 0.9, amps: 0.25 },
        at: at(minute),
      },
      options,
    );
  await attempt(1, 11);
  await appendSaid(
    job,
    [
      { type: "action", action: { did: "replaced", ref: "C6" } },
      { type: "action", action: { did: "shield-off", ref: "SH1" } },
      { type: "action", action: { did: "cleaned" } },
    ],
    { ...options, at: at(12) },
  );
  await attempt(3, 13);
});

afterAll(async () => {
  await rm(root, { recursive: true, force: true });
});

describe("gatherReport", () => {
  it("weighs the evidence, compares the attempts and lays each rise over the board", async () => {
    const model = await gatherReport(job, options);
    expect(model.evidence?.suspects.map(({ ref }) => ref)).toEqual(expect.arrayContaining(["C6", "U6"]));
    expect(model.comparisons.map(({ before, after }) => [before, after])).toEqual([[1, 2]]);
    // Cleaning at large is of no part; a shield that came off is a change of it.
    expect(model.comparisons[0]!.comparison!.actions).toEqual([
      { what: "replaced", ref: "C6" },
      { what: "changed", ref: "SH1" },
    ]);
    expect(model.rises.map(({ attempt, view, rise }) => [attempt, view, rise.side])).toEqual([
      [1, 0, "top"],
      [2, 0, "top"],
    ]);
    // Attempt 1's own findings: the rise on the board is the one that they tell.
    const [first] = model.job.attempts[0]!.findings.hotspots;
    // The grid's points lie beside the pixels' centres: its peak may miss some per cent of theirs.
    expect(model.rises[0]!.rise.peakRiseK / first!.peakRiseK).toBeGreaterThan(0.9);
    expect(model.rises[0]!.rise.peakRiseK / first!.peakRiseK).toBeLessThan(1.1);
  });

  it("refuses to draw frames that are not those of the findings", async () => {
    const copy = join(root, "changed");
    await cp(job, copy, { recursive: true });
    const [frame] = (await readdir(join(copy, "frames"))).filter((name) => name.endsWith(".csv"));
    const text = await readFile(join(copy, "frames", frame!), "utf8");
    await writeFile(
      join(copy, "frames", frame!),
      text.replace(/\d(?=\D*$)/, (digit) => String((Number(digit) + 1) % 10)),
    );
    await expect(gatherReport(copy, options)).rejects.toMatchObject({ code: "E_JOB_HASH" });
  });
});

describe("compareAttempts", () => {
  it("leaves good boards and another board's repairs out, and says why two attempts can't be compared", async () => {
    const whole = await openJob(job, options);
    const [first, second] = whole.attempts;
    const healthy = {
      ...first!,
      attempt: { ...first!.attempt, conditions: { ...first!.attempt.conditions, healthy: true } },
    };
    expect(compareAttempts({ ...whole, attempts: [healthy, second!] }, "0.0.1")).toEqual([]);
    const { board } = second!.findings;
    expect(compareAttempts(whole, "0.0.1")[0]!.comparison!.actions).toHaveLength(2);
    const elsewhere = whole.actions.map((action) => ({ ...action, board: "the other half" }));
    expect(compareAttempts({ ...whole, actions: elsewhere }, "0.0.1")[0]!.comparison!.actions).toEqual([]);
    const typed = [{ ...whole.actions[0]!, ref: "c6 ", board: first!.attempt.board!.name.toUpperCase() }];
    expect(compareAttempts({ ...whole, actions: typed }, "0.0.1")[0]!.comparison!.actions).toEqual([
      { what: "replaced", ref: "C6" },
    ]);
    const otherMap = {
      ...second!,
      findings: { ...second!.findings, board: { ...board!, outline: "0".repeat(64) } },
    };
    const [pair] = compareAttempts({ ...whole, attempts: [first!, otherMap] }, "0.0.1");
    expect(pair).toMatchObject({ before: 1, after: 2, comparison: null });
    expect(pair!.reason).toMatch(/board|map/);
  });
});

describe("writeJobReport", () => {
  it("writes the same bytes from a copy of the job in another place", async () => {
    const copy = join(root, "elsewhere", "job");
    await cp(job, copy, { recursive: true });
    const files = await writeJobReport(job, "repairer", options);
    // What was computed for the first report may be used for the next one of the same job.
    const again = await writeJobReport(job, "repairer", {
      ...options,
      known: files.rises,
      out: join(root, "again"),
    });
    expect(await readFile(again.html, "utf8")).toBe(await readFile(files.html, "utf8"));
    const others = await writeJobReport(copy, "repairer", { ...options, out: join(root, "out") });
    expect(files.html).toBe(join(job, "report", "job-report.html"));
    expect(await readFile(others.html, "utf8")).toBe(await readFile(files.html, "utf8"));
    expect((await readFile(others.pdf)).equals(await readFile(files.pdf))).toBe(true);
  });

  it("names the customer's report otherwise, and refuses a folder that can't be one", async () => {
    const { rises } = await gatherReport(job, options);
    const files = await writeJobReport(job, "customer", { ...options, known: rises });
    expect(files.pdf).toBe(join(job, "report", "customer-report.pdf"));
    await writeFile(join(root, "file"), "in the way");
    await expect(
      writeJobReport(job, "customer", { ...options, out: join(root, "file", "out") }),
    ).rejects.toMatchObject({ code: "E_OUTPUT" });
  });
});
