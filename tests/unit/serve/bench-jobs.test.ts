// The calls of the page, one after the other, on the sample frames; every answer fits its schema.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { courseSchema, placedSchema } from "../../../src/api/attempts-schema.js";
import { librarySchema, savedBoardSchema } from "../../../src/api/boards-schema.js";
import { inboxSchema } from "../../../src/api/inbox-schema.js";
import {
  compareAnswerSchema,
  jobListSchema,
  jobStateSchema,
  sayAnswerSchema,
} from "../../../src/api/jobs-schema.js";
import { decodePictures, layerOf } from "../../../src/api/pictures.js";
import { taskSchema } from "../../../src/api/task-schema.js";
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { parseFindings } from "../../../src/findings/parse-findings.js";
import { analyseKept } from "../../../src/store/analyse-kept.js";
import { PROJECT } from "../../structure/project.js";
import { openBench, type TestBench } from "./bench-client.js";

const sample = <T>(name: string): T =>
  JSON.parse(readFileSync(join(PROJECT, "sample-frames", name), "utf8")) as T;
const board = sample<BoardMap>("board.json");
const view = sample<View>("attempt-2/view-top.json");
const DEVICE = "Wrenbeck T4";

let bench: TestBench;
let job: string;
beforeAll(async () => {
  bench = await openBench();
  job = (await bench.call("makeJob", { body: { device: DEVICE, complaint: "does not start" } })).job;
});
afterAll(() => bench.stop());

describe("the page's calls, in the order of a repair", () => {
  it("list the new job", async () => {
    const list = jobListSchema.parse(await bench.call("listJobs", {}));
    expect(list.jobs).toMatchObject([{ id: job, device: DEVICE, complaint: "does not start", attempts: 0 }]);
    expect(list.jobs[0]!.folder).toMatch(/^\d{4}-\d{2}-\d{2}-wrenbeck-t4$/);
    expect(list.unreadable).toEqual([]);
  });

  it("save a map, and find it again in the library", async () => {
    const saved = savedBoardSchema.parse(await bench.call("saveBoard", { job, body: { map: board } }));
    expect(saved).toMatchObject({ seq: 1, name: board.name });
    // The same map again adds no line.
    expect((await bench.call("saveBoard", { job, body: { map: board } })).seq).toBe(1);
    const { boards } = librarySchema.parse(await bench.call("library", {}));
    // 58 × 34 mm, 27 parts on top and 8 below: sample-frames/README.md.
    expect(boards).toMatchObject([
      { device: DEVICE, job, sha256: saved.sha256, regions: { top: 27, bottom: 8 } },
    ]);
    expect(boards[0]!.sizeMm.map(Math.round)).toEqual([58, 34]);
    expect((await bench.call("board", { job, sha256: saved.sha256 })).map).toEqual(board);
  });

  it("keep a draft, change it, and remove it", async () => {
    const words = { job, name: "board-top" };
    expect(await bench.call("draft", words)).toEqual({ draft: null });
    await bench.call("saveDraft", { ...words, body: { draft: { points: [[1, 2]] } } });
    expect(await bench.call("draft", words)).toEqual({ draft: { points: [[1, 2]] } });
    expect((await bench.call("jobState", { job })).drafts).toEqual(["board-top"]);
    await bench.call("removeDraft", words);
    expect((await bench.call("jobState", { job })).drafts).toEqual([]);
  });

  it("drop a burst of pictures with their scales, and tell what each is", async () => {
    await bench.drop(job, "attempt-2/baseline");
    await bench.drop(job, "attempt-2/powered");
    const { files } = inboxSchema.parse(await bench.read(job));
    const frames = files.filter(({ sort }) => sort === "frame");
    expect(frames.map(({ names, role, roleBy }) => [names[0], role, roleBy])).toEqual([
      ...[1, 2, 3, 4].map((n) => [`attempt-2/baseline/frame-${n}.png`, "baseline", "name"]),
      ...[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12].map((n) => [
        `attempt-2/powered/frame-${n}.png`,
        "powered",
        "name",
      ]),
    ]);
    for (const { frame, error, names } of frames) {
      expect([frame!.width, frame!.height, frame!.frames, error]).toEqual([160, 120, 1, null]);
      expect(frame!.scaleFrom).toBe(`${names[0]}.json`);
      expect(frame!.lowC).toBeLessThan(frame!.medianC);
    }
    // The scales of all pictures are the same bytes: one file of sixteen names.
    const scales = files.filter(({ sort }) => sort === "scale");
    expect(scales.map(({ names }) => names.length)).toEqual([16]);
  });

  it("show a frame that was dropped", async () => {
    const { files } = await bench.call("inbox", { job });
    const { sha256, frame } = files.find(({ sort }) => sort === "frame")!;
    const pictures = decodePictures(await bench.call("inboxFrame", { job, sha256 }));
    expect([pictures.width, pictures.height]).toEqual([160, 120]);
    const values = layerOf(pictures, "frame")!;
    expect(Math.max(...values)).toBe(frame!.highC);
  });

  it("make an attempt of them, whose findings are those of the kept frames", async () => {
    const { files } = await bench.call("inbox", { job });
    const of = (role: string): string[] =>
      files.filter((file) => file.role === role).map(({ sha256 }) => sha256);
    const { task } = await bench.call("makeAttempt", {
      job,
      body: {
        baseline: of("baseline"),
        powered: of("powered"),
        view,
        options: { rateHz: 2 },
        conditions: { volts: 0.9, amps: 0.254 },
      },
    });
    const ended = taskSchema.parse(await bench.ended(task));
    expect(ended).toMatchObject({ state: "done", attempt: 1, error: null });
    const state = jobStateSchema.parse(await bench.call("jobState", { job }));
    const [first] = state.attempts;
    expect(first!.attempt.views[0]!.powered.map(({ name }) => name)).toEqual(
      [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12].map((n) => `powered/frame-${n}.png`),
    );
    const folder = join(bench.folder, state.folder);
    const again = await analyseKept(folder, first!.attempt, { toolVersion: "9.9.9" });
    expect(first!.findings).toEqual(JSON.parse(JSON.stringify(again.findings)));
    const file = await bench.call("attemptFile", { job, number: 1, file: "findings.json" });
    expect(parseFindings(JSON.parse(new TextDecoder().decode(file)), "findings.json").findings).toEqual(
      first!.findings,
    );
    const pictures = decodePictures(await bench.call("pictures", { job, number: 1 }));
    expect(layerOf(pictures, "rise")).toEqual(again.rise.data);
    expect(layerOf(pictures, "significance")).toEqual(again.significance.data);
    // Powered frames have left the inbox; baselines may serve again.
    expect(state.inbox.files.filter(({ role }) => role === "powered")).toEqual([]);
    expect(state.inbox.files.filter(({ role }) => role === "baseline").map((one) => one.attempts)).toEqual([
      [1],
      [1],
      [1],
      [1],
    ]);
  });

  it("follow a place through the burst", async () => {
    const course = courseSchema.parse(
      await bench.call("course", { job, number: 1, x: 70.5, y: 60, radius: 2 }),
    );
    // README, "Limits": frame k lies (k + ½) ÷ rate after power-on; two frames a second.
    expect(course.timesS).toEqual([0.25, 0.75, 1.25, 1.75, 2.25, 2.75, 3.25, 3.75, 4.25, 4.75, 5.25, 5.75]);
    expect(course.risesK.length).toBe(12);
    // Points of the pixel grid in a disc of radius 2 about (70.5, 60).
    expect(course.pixels).toBe(12);
  });

  it("place another baseline of the same board by that attempt", async () => {
    await bench.drop(job, "attempt-1/baseline");
    const { files } = await bench.read(job);
    const frame = files.find(({ names }) => names[0]!.startsWith("attempt-1/"))!.sha256;
    const placed = placedSchema.parse(await bench.call("place", { job, body: { frame, side: "top" } }));
    expect(placed).toMatchObject({ by: { job, attempt: 1, view: 0 }, trusted: true, reason: null });
    expect(placed.view!.frame).toEqual({ width: 160, height: 120 });
    const none = await bench.call("place", { job, body: { frame, side: "bottom" } });
    expect(none).toMatchObject({ view: null, trusted: false, by: null });
  });

  it("say readings and actions, all or none, and take one back", async () => {
    const reading = { net: "VSYS", measure: "resistance" as const, value: 3.2, overRange: false, raw: "3.2" };
    const answer = sayAnswerSchema.parse(
      await bench.call("say", {
        job,
        body: {
          said: [
            { type: "reading", reading },
            { type: "remark", text: "odd" },
          ],
        },
      }),
    );
    const [first] = answer.entries;
    const bad = [
      { type: "remark" as const, text: "new" },
      { type: "withdrawal" as const, seq: 999, reason: "slip" },
    ];
    await expect(bench.call("say", { job, body: { said: bad } })).rejects.toMatchObject({
      status: 422,
      words: { code: "E_JOB_ENTRY" },
    });
    await bench.call("say", {
      job,
      body: { said: [{ type: "withdrawal", seq: first!.seq, reason: "slip" }] },
    });
    const state = await bench.call("jobState", { job });
    expect([state.readings, state.remarks.map(({ text }) => text), state.withdrawn]).toEqual([
      [],
      ["odd"],
      [first!.seq],
    ]);
  });

  it("make the report and the pack, and give them", async () => {
    const report = await bench.ended(
      (await bench.call("makeReport", { job, body: { for: "customer" } })).task,
    );
    expect(report).toMatchObject({ state: "done", files: ["customer-report.html", "customer-report.pdf"] });
    const pack = await bench.ended((await bench.call("makePack", { job })).task);
    expect(pack).toMatchObject({ state: "done", files: ["job.zip"] });
    const start = async (file: "customer-report.html" | "customer-report.pdf" | "job.zip"): Promise<string> =>
      new TextDecoder("latin1").decode((await bench.call("jobFile", { job, file })).slice(0, 4));
    // First bytes: ISO 32000-1, 7.5.2; PKWARE APPNOTE 4.3.7.
    expect([await start("customer-report.pdf"), await start("job.zip")]).toEqual(["%PDF", "PK\u0003\u0004"]);
    const html = await bench.raw("GET", `/api/jobs/${job}/files/customer-report.html`, bench.own);
    expect(html.headers["content-security-policy"]).toMatch(/^sandbox; default-src 'none'/);
    expect(html.headers["content-disposition"]).toBe('attachment; filename="customer-report.html"');
  });
});

describe("the sample job", () => {
  it("is there at once, comes to an answer, and its attempts can be compared", async () => {
    const made = await bench.call("makeSample", {});
    expect((await bench.call("jobState", { job: made.job })).boards).toHaveLength(1);
    expect(await bench.ended(made.task)).toMatchObject({ state: "done", attempt: 3 });
    const state = jobStateSchema.parse(await bench.call("jobState", { job: made.job }));
    const { sources } = sample<{ sources: { ref: string; fault: boolean }[] }>("attempt-3/truth.json");
    expect(state.evidence!.suspects[0]!.ref).toBe(sources.find(({ fault }) => fault)!.ref);
    expect(state.comparisons.map(({ before, after }) => [before, after])).toEqual([
      [1, 2],
      [2, 3],
    ]);
    const compared = compareAnswerSchema.parse(
      await bench.call("compare", { job: made.job, before: 1, after: 3 }),
    );
    expect(compared.comparison!.actions).toEqual([{ what: "replaced", ref: "C6" }]);
  });

  it("can be stopped on its way, and stays a sound job", async () => {
    const made = await bench.call("makeSample", {});
    await bench.call("cancelTask", { task: made.task.id });
    expect((await bench.ended(made.task)).state).toBe("cancelled");
    const state = await bench.call("jobState", { job: made.job });
    expect(state.attempts.length).toBeLessThan(3);
  });
});
