// serve: requests for reports, packs, tasks and watches → begun, followed, ended, downloaded.
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Hono } from "hono";
import { jobPathSchema } from "../api/jobs-schema.js";
import { jobFilePathSchema, makeReportSchema } from "../api/report-schema.js";
import { taskPathSchema } from "../api/task-schema.js";
import { startWatchSchema } from "../api/watch-schema.js";
import { REPORT_FILES, REPORT_FOLDER } from "../store/write-job-report.js";
import { type Bench, noneError } from "./bench-context.js";
import { checked, checkedBody } from "./check-request.js";
import { giveFile } from "./give-file.js";

const PACK = "job.zip";

/** Answer requests for reports, tasks and watches. @param onFault told of faults of ours in tasks. */
export function addReportRoutes(app: Hono, bench: Bench, onFault: (error: unknown) => void): void {
  const { jobs, limits, tasks, long, watches } = bench;

  app.post("/api/jobs/:job/report", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    const folder = await jobs.folderOf(job);
    const { for: audience } = await checkedBody(c, makeReportSchema, limits);
    const name = REPORT_FILES[audience];
    const work = async (options: Parameters<typeof long.run>[2]) => {
      await long.run("report", { folder, audience }, options);
      return { files: [`${name}.html`, `${name}.pdf`] };
    };
    return c.json({ task: tasks.begin("report", job, work, onFault) }, 202);
  });

  app.post("/api/jobs/:job/pack", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    const folder = await jobs.folderOf(job);
    const work = async (options: Parameters<typeof long.run>[2]) => {
      const file = join(folder, REPORT_FOLDER, PACK);
      const { noReport } = await long.run("pack", { folder, file }, options);
      if (noReport === null) return { files: [PACK] };
      return { files: [PACK], text: `The zip holds no report, for it can't be made: ${noReport}` };
    };
    return c.json({ task: tasks.begin("pack", job, work, onFault) }, 202);
  });

  app.get("/api/jobs/:job/files/:file", async (c) => {
    const { job, file } = checked(jobFilePathSchema, c.req.param());
    const bytes = await readFile(join(await jobs.folderOf(job), REPORT_FOLDER, file)).catch(() => {
      throw noneError(`the job has no ${file} yet`);
    });
    return giveFile(c, file, bytes);
  });

  app.get("/api/tasks/:task", (c) =>
    c.json({ task: tasks.get(checked(taskPathSchema, c.req.param()).task) }),
  );
  app.delete("/api/tasks/:task", (c) =>
    c.json({ task: tasks.cancel(checked(taskPathSchema, c.req.param()).task) }),
  );

  app.post("/api/jobs/:job/watch", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    const folder = await jobs.folderOf(job);
    return c.json(await watches.start(job, folder, await checkedBody(c, startWatchSchema, limits)), 201);
  });
  app.delete("/api/jobs/:job/watch", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    await jobs.folderOf(job);
    const state = await watches.stop(job);
    if (state === null) throw noneError("nothing is watched for this job");
    return c.json(state);
  });
}
