// serve: requests for attempts → placings, new attempts, pictures, time courses, files.
import type { Context, Hono } from "hono";
import {
  attemptPathSchema,
  courseQuerySchema,
  makeAttemptSchema,
  placeSchema,
  viewQuerySchema,
} from "../api/attempts-schema.js";
import { jobPathSchema } from "../api/jobs-schema.js";
import { attemptFilePathSchema } from "../api/report-schema.js";
import { ToolError } from "../core/errors.js";
import { attemptName } from "../store/job-paths.js";
import { openJob } from "../store/open-job.js";
import { readJobFile } from "../store/read-job-file.js";
import { DISK } from "../store/storage.js";
import { type Bench, noneError } from "./bench-context.js";
import { checked, checkedBody } from "./check-request.js";
import { giveBytes, giveFile } from "./give-file.js";
import { picturesFile, readKeptPictures } from "./kept-pictures.js";
import { takeFrames } from "./take-frames.js";

/** Radius of the disc of a time course where none is asked for, px: a part of a few pixels. */
const COURSE_PX = 1.5;

/** Answer requests for attempts. @param onFault told of faults of ours in tasks. */
export function addAttemptRoutes(app: Hono, bench: Bench, onFault: (error: unknown) => void): void {
  const { jobs, inbox, limits, toolVersion, events } = bench;

  app.post("/api/jobs/:job/place", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    const folder = await jobs.folderOf(job);
    const wanted = await checkedBody(c, placeSchema, limits);
    const from = wanted.from ?? job;
    const earlier = await jobs.folderOf(from);
    const { attempts } = await openJob(earlier);
    const by = attempts.toReversed().flatMap(({ attempt, views }) => {
      if (wanted.attempt !== undefined && attempt.number !== wanted.attempt) return [];
      if (wanted.board !== undefined && attempt.board?.name !== wanted.board) return [];
      return views.flatMap((view, i) =>
        view === null || (wanted.side !== undefined && view.side !== wanted.side)
          ? []
          : [{ folder: earlier, job: from, attempt: attempt.number, view: i }],
      );
    });
    const frame = await inbox.dropped(folder, wanted.frame);
    return c.json(await bench.medium.run("place", { frame, by }, { urgent: true }));
  });

  app.post("/api/jobs/:job/attempts/ahead", async (c) => {
    const { job, folder, wanted } = await wantedAttempt(c);
    if (!bench.tasks.isGoing("attempt", job)) bench.ahead.begin(folder, wanted);
    return c.json({ done: true }, 202);
  });

  app.post("/api/jobs/:job/attempts", async (c) => {
    const { job, folder, wanted } = await wantedAttempt(c);
    const isUnderWay = bench.ahead.giveWay(folder, wanted);
    const { request, release } = await takeFrames(folder, wanted, inbox);
    const task = bench.tasks.begin(
      "attempt",
      job,
      async (options) => {
        try {
          if (isUnderWay) {
            options.onStart?.();
            options.onProgress?.({ text: "Looking for heat", done: 0, total: null });
          }
          // What was read when it was dropped need not be read again.
          bench.long.takeReaderOf(bench.quick);
          const { number } = await bench.long.run("attempt", { folder, request }, options);
          events.tell({ type: "job", job });
          const taken = [...wanted.powered, ...(wanted.other?.powered ?? [])];
          // Nobody waits for it. What the disk refuses stays where it was: the attempt has it.
          inbox.removeTaken(job, folder, taken).catch(() => {});
          return { attempt: number };
        } finally {
          // Nor for this: what is left of it when the plug is pulled is swept away.
          release().catch(() => {});
        }
      },
      onFault,
    );
    return c.json({ task }, 202);
  });

  app.get("/api/jobs/:job/attempts/:number/pictures", async (c) => {
    const { folder, number } = await attemptOf(c);
    const { view = 0 } = checked(viewQuerySchema, c.req.query());
    const { entries, withdrawn } = await openJob(folder);
    const said = entries.find(
      (one) => one.said.type === "attempt" && one.said.number === number && !withdrawn.has(one.seq),
    )?.said;
    if (said?.type !== "attempt") throw noneError(`there is no attempt ${number}`);
    const cache = picturesFile(folder, said.sha256, view, toolVersion);
    // What is kept need not go through another process, which may have to be started for it.
    const kept = await readKeptPictures(cache);
    return giveBytes(
      c,
      kept ?? (await bench.medium.run("pictures", { folder, number, view, cache }, { urgent: true })),
    );
  });

  app.get("/api/jobs/:job/attempts/:number/course", async (c) => {
    const { folder, number } = await attemptOf(c);
    const { view = 0, x, y, radius = COURSE_PX } = checked(courseQuerySchema, c.req.query());
    return c.json(await bench.medium.run("course", { folder, number, view, x, y, radius }, { urgent: true }));
  });

  app.get("/api/jobs/:job/attempts/:number/files/:file", async (c) => {
    const { file } = checked(attemptFilePathSchema, c.req.param());
    const { folder, number } = await attemptOf(c);
    const job = await openJob(folder);
    const attempt = job.attempts.find((one) => one.attempt.number === number)?.attempt;
    const sha256 =
      attempt === undefined || !Object.hasOwn(attempt.files, file) ? undefined : attempt.files[file];
    if (sha256 === undefined) throw noneError(`attempt ${number} has no file ${file}`);
    return giveFile(c, file, await readJobFile(folder, `${attemptName(number)}/${file}`, sha256, DISK));
  });

  const wantedAttempt = async (c: Context) => {
    const { job } = checked(jobPathSchema, c.req.param());
    const folder = await jobs.folderOf(job);
    const wanted = await checkedBody(c, makeAttemptSchema, limits);
    const { boards } = await openJob(folder);
    // The store takes names of files, too: those are for the command line.
    if (wanted.board !== undefined && !boards.some(({ name }) => name === wanted.board)) {
      throw new ToolError("E_JOB_BOARD", {
        problem: `the job has no board "${wanted.board}"`,
        fix: "Save the map first, or choose one of the job's boards",
      });
    }
    return { job, folder, wanted };
  };

  const attemptOf = async (c: Context) => {
    const { job, number } = checked(attemptPathSchema, c.req.param());
    return { folder: await jobs.folderOf(job), number };
  };
}
