// A job folder from its making to its check: what is kept, what is refused.
import { readdir, readFile, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { createJob } from "../../../src/store/create-job.js";
import { openJob } from "../../../src/store/open-job.js";
import { makeView } from "../../cli/make-frames.js";
import { type Bench, beginJob, CLOCK, change, DEVICE, makeBench, writeOtherBoard } from "./bench.js";

let bench: Bench;
beforeEach(async () => {
  bench = await makeBench();
});
afterEach(() => bench.remove());

const newJob = (boards?: string[]) => beginJob(bench, boards);

describe("createJob", () => {
  it("keeps what was said of the device, and its map to the byte", async () => {
    const symptom = { restartsAfterS: 2.5, connected: ["cell", "display"] };
    const job = await createJob(
      bench.job,
      { ...DEVICE, complaint: "restarts", symptom, boards: [bench.file("board.json")] },
      CLOCK,
    );
    expect(job.header).toMatchObject({
      device: "sluice gauge K3",
      complaint: "restarts",
      symptom,
      createdAt: "2031-03-01T09:05:00+01:00",
    });
    expect(job.boards).toMatchObject([{ seq: 1, name: "test board", file: "board.json" }]);
    const kept = await readFile(join(bench.job, "boards", `${job.boards[0]!.sha256}.json`));
    expect(kept).toEqual(await readFile(bench.file("board.json")));
    expect((await readdir(bench.job)).sort()).toEqual(["boards", "job.json", "journal.jsonl"]);
  });

  it("takes an empty folder, and refuses one that holds a job or anything else", async () => {
    await newJob();
    await expect(newJob()).rejects.toThrow(/^E_JOB_EXISTS: .*holds a job already/);
    await expect(createJob(bench.folder, DEVICE, CLOCK)).rejects.toThrow(/^E_JOB_EXISTS: .*"board.json"/);
  });

  it("does not write over a journal that has lost its job.json", async () => {
    await newJob();
    const journal = await readFile(join(bench.job, "journal.jsonl"));
    await rename(join(bench.job, "job.json"), bench.file("lost.json"));
    await newJob();
    const [aside] = await readdir(join(bench.job, "aside"));
    expect(await readFile(join(bench.job, "aside", aside!))).toEqual(journal);
  });

  it("refuses two maps of one name", async () => {
    await writeOtherBoard(bench, "test board", "twin.json");
    await expect(newJob(["board.json", "twin.json"])).rejects.toThrow(/^E_JOB_BOARD: .*"test board"/);
  });
});

describe("appendSaid", () => {
  const remark = (text: string) => ({ type: "remark", text }) as const;

  it("says several things together, in order, at the time that was given", async () => {
    await newJob();
    const at = "2031-03-02T10:00:00+01:00";
    const entries = await appendSaid(bench.job, [remark("a"), remark("b")], { ...CLOCK, at });
    expect(entries.map(({ seq }) => seq)).toEqual([2, 3]);
    const job = await openJob(bench.job, CLOCK);
    expect(job.remarks).toEqual([
      { seq: 2, at, text: "a" },
      { seq: 3, at, text: "b" },
    ]);
  });

  it("withdraws what was said by mistake, once", async () => {
    await newJob();
    await appendSaid(bench.job, [remark("wrong device"), remark("right")], CLOCK);
    const withdraw = (seq: number) =>
      appendSaid(bench.job, [{ type: "withdrawal", seq, reason: "slip" }], CLOCK);
    await withdraw(2);
    const job = await openJob(bench.job, CLOCK);
    expect(job.remarks.map(({ text }) => text)).toEqual(["right"]);
    expect(job.entries).toHaveLength(4);
    await expect(withdraw(2)).rejects.toThrow(/^E_JOB_ENTRY: line 2 was withdrawn already/);
    await expect(withdraw(4)).rejects.toThrow(/^E_JOB_ENTRY: line 4 is a withdrawal/);
    await expect(withdraw(9)).rejects.toThrow(/^E_JOB_ENTRY: .*1 … 4, found 9/);
  });

  it("gives the number of a withdrawn attempt to no other", async () => {
    await newJob();
    await addAttempt(bench.job, bench.frames, CLOCK);
    await appendSaid(bench.job, [{ type: "withdrawal", seq: 2, reason: "wrong frames" }], CLOCK);
    const { job } = await addAttempt(bench.job, bench.frames, CLOCK);
    expect(job.attempts.map(({ attempt }) => attempt.number)).toEqual([2]);
  });

  it("puts a line that was cut short aside, and says so until then", async () => {
    await newJob();
    await appendSaid(bench.job, [remark("whole")], CLOCK);
    const path = join(bench.job, "journal.jsonl");
    const whole = await readFile(path);
    const torn = '{"kind":"faultglow/entry","version":1,"seq":3,"said":{"type":"remark","text":"ü';
    await writeFile(path, Buffer.concat([whole, Buffer.from(torn).subarray(0, -1)]));
    const job = await openJob(bench.job, CLOCK);
    expect(job.notes).toMatchObject([{ code: "N_JOB_TORN" }]);
    expect(job.remarks).toHaveLength(1);
    await appendSaid(bench.job, [remark("next")], CLOCK);
    const [name] = await readdir(join(bench.job, "aside"));
    expect(await readFile(join(bench.job, "aside", name!))).toEqual(Buffer.from(torn).subarray(0, -1));
    const after = await openJob(bench.job, CLOCK);
    expect(after.notes).toEqual([]);
    expect(after.remarks.map(({ text }) => text)).toEqual(["whole", "next"]);
  });
});

describe("openJob", () => {
  it("refuses a folder without a job, and one without its journal", async () => {
    await expect(openJob(bench.folder)).rejects.toThrow(/^E_JOB_NONE/);
    await newJob();
    await rename(join(bench.job, "journal.jsonl"), bench.file("journal"));
    await expect(openJob(bench.job)).rejects.toThrow(/^E_JOB_JOURNAL: the job has no journal/);
  });

  it("refuses a job.json of another kind, of another version, or of another form", async () => {
    await newJob();
    const path = join(bench.job, "job.json");
    await change(path, (text) => text.replace('"device": "sluice', '"Device": "sluice'));
    await expect(openJob(bench.job)).rejects.toThrow(/^E_JOB_VALUE: device is missing.*Device/);
    await change(path, (text) => text.replace('"version": 1', '"version": 2'));
    await expect(openJob(bench.job)).rejects.toThrow(/^E_JOB_KIND: .*newer/);
    await writeFile(path, JSON.stringify(makeView()));
    await expect(openJob(bench.job)).rejects.toThrow(/^E_JOB_KIND: .*faultglow\/view/);
  });

  it("sees that job.json or an earlier line was changed", async () => {
    await newJob();
    await appendSaid(bench.job, [{ type: "remark", text: "0.30 V" }], CLOCK);
    await appendSaid(bench.job, [{ type: "remark", text: "0.22 V" }], CLOCK);
    await change(join(bench.job, "journal.jsonl"), (text) => text.replace("0.30", "0.03"));
    await expect(openJob(bench.job)).rejects.toThrow(/^E_JOB_JOURNAL: line 2 is not what it was.*line 3/);
    await change(join(bench.job, "journal.jsonl"), (text) => text.replace("0.03", "0.30"));
    await openJob(bench.job);
    await change(join(bench.job, "job.json"), (text) => text.replace("K3", "K4"));
    await expect(openJob(bench.job)).rejects.toThrow(/^E_JOB_JOURNAL: job.json is not what it was/);
  });
});
