// serve: requests for jobs → lists, new jobs, what they hold, what is said of them.
import { rmdir } from "node:fs/promises";
import { join } from "node:path";
import type { Context, Hono } from "hono";
import {
  compareQuerySchema,
  type JobList,
  jobPathSchema,
  makeJobSchema,
  type SayAnswer,
  saySchema,
} from "../api/jobs-schema.js";
import { parseBoardMap } from "../board/parse-board-map.js";
import { ToolError } from "../core/errors.js";
import { doubtLines } from "../job/doubt-lines.js";
import type { JobAttempt } from "../job/job.js";
import { addBoard } from "../store/add-board.js";
import { appendSaid, type PlainSaid } from "../store/append-said.js";
import { compareTwo } from "../store/compare-attempts.js";
import { createJob, type JobRequest } from "../store/create-job.js";
import { openJob } from "../store/open-job.js";
import { SAMPLE_FOLDER } from "./add-to-job.js";
import { type Bench, noneError } from "./bench-context.js";
import { checked, checkedBody } from "./check-request.js";
import { errorWords } from "./error-words.js";
import { jobState } from "./job-state.js";

/** What the sample job says of itself. */
const SAMPLE: JobRequest = Object.freeze({
  device: "Wrenbeck T4 soil-moisture meter (sample)",
  complaint: "Does not start.",
  symptom: { text: "VSYS reads short to ground." },
  remark: "Invented: this device does not exist, and its frames are computed, with one part made to heat.",
  boards: [join(SAMPLE_FOLDER, "board.json")],
});

/** Answer requests for jobs. @param onFault told of faults of ours in tasks. */
export function addJobRoutes(app: Hono, bench: Bench, onFault: (error: unknown) => void): void {
  const { jobs, toolVersion, limits, events } = bench;
  const folderOf = (c: Context): Promise<string> => jobs.folderOf(checked(jobPathSchema, c.req.param()).job);

  app.get("/api/jobs", async (c) => {
    const list: JobList = { folder: jobs.folder, tool: toolVersion, ...(await jobs.list()) };
    return c.json(list);
  });

  app.post("/api/jobs", async (c) => {
    const { boards = [], device, complaint, symptom, remark } = await checkedBody(c, makeJobSchema, limits);
    for (const map of boards) parseBoardMap(map, "the map");
    const { id, folder } = await makeJob({ device, complaint, symptom, remark }, bench);
    for (const map of boards) await addBoard(folder, map, device, { toolVersion });
    events.tell({ type: "jobs" });
    return c.json({ job: id }, 201);
  });

  app.post("/api/sample", async (c) => {
    const { id, folder } = await makeJob(SAMPLE, bench);
    events.tell({ type: "jobs" });
    const task = bench.tasks.begin(
      "sample",
      id,
      async (options) => ({ attempt: (await bench.long.run("sample", { folder }, options)).number }),
      onFault,
    );
    return c.json({ job: id, task }, 201);
  });

  app.get("/api/jobs/:job", async (c) =>
    c.json(await jobState(checked(jobPathSchema, c.req.param()).job, bench)),
  );

  app.post("/api/jobs/:job/said", async (c) => {
    const folder = await folderOf(c);
    const { said, at } = await checkedBody(c, saySchema, limits);
    const entries = await appendSaid(folder, said as PlainSaid[], { toolVersion, at });
    const notes = doubtLines(await openJob(folder), entries[0]!.seq, false);
    const answer: SayAnswer = { entries, notes };
    events.tell({ type: "job", job: c.req.param("job") });
    return c.json(answer, 201);
  });

  app.get("/api/jobs/:job/comparison", async (c) => {
    const folder = await folderOf(c);
    const { before, after, healthy } = checked(compareQuerySchema, c.req.query());
    const job = await openJob(folder);
    const find = (number: number): JobAttempt => {
      const attempt = job.attempts.find((one) => one.attempt.number === number);
      if (attempt === undefined) throw noneError(`there is no attempt ${number}`);
      return attempt;
    };
    const [first, second] = [find(before), find(after)];
    try {
      const options = { healthy: healthy !== "no" };
      return c.json({ comparison: compareTwo(job, first, second, toolVersion, options), error: null });
    } catch (error) {
      if (!(error instanceof ToolError)) throw error;
      return c.json({ comparison: null, error: errorWords(error) });
    }
  });
}

async function makeJob(
  request: JobRequest,
  { jobs, toolVersion }: Bench,
): Promise<{ id: string; folder: string }> {
  const folder = await jobs.makeFolder(request.device, new Date());
  try {
    const job = await createJob(folder, request, { toolVersion });
    await jobs.list();
    return { id: job.header.id, folder };
  } catch (error) {
    // Left empty it would stand there for nothing.
    await rmdir(folder).catch(() => {});
    throw error;
  }
}
