// serve: requests for board maps and drafts → the library of all jobs, maps saved and given, drafts kept.
import type { Hono } from "hono";
import {
  boardPathSchema,
  draftPathSchema,
  draftSchema,
  type Library,
  type LibraryBoard,
  saveBoardSchema,
} from "../api/boards-schema.js";
import { jobPathSchema } from "../api/jobs-schema.js";
import { boundsOf } from "../board/polygon.js";
import { ToolError } from "../core/errors.js";
import { addBoard } from "../store/add-board.js";
import { openJob } from "../store/open-job.js";
import { type Bench, noneError } from "./bench-context.js";
import { checked, checkedBody } from "./check-request.js";
import { readDraft, removeDraft, writeDraft } from "./draft-files.js";

/** Answer requests for boards and drafts. */
export function addBoardRoutes(app: Hono, bench: Bench): void {
  const { jobs, limits, toolVersion, events } = bench;

  app.get("/api/boards", async (c) => {
    const library: Library = { boards: await gatherLibrary(bench) };
    return c.json(library);
  });

  app.get("/api/jobs/:job/boards/:sha256", async (c) => {
    const { job, sha256 } = checked(boardPathSchema, c.req.param());
    const { boards } = await openJob(await jobs.folderOf(job));
    const board = boards.find((one) => one.sha256 === sha256);
    if (board === undefined) throw noneError("the job has no such map");
    return c.json({ map: board.map });
  });

  app.post("/api/jobs/:job/boards", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    const folder = await jobs.folderOf(job);
    const { map } = await checkedBody(c, saveBoardSchema, limits);
    const { header } = await openJob(folder);
    const saved = await addBoard(folder, map, header.device, { toolVersion });
    events.tell({ type: "job", job });
    return c.json(saved, 201);
  });

  app.get("/api/jobs/:job/drafts/:name", async (c) => {
    const { job, name } = checked(draftPathSchema, c.req.param());
    return c.json({ draft: await readDraft(await jobs.folderOf(job), name) });
  });

  app.put("/api/jobs/:job/drafts/:name", async (c) => {
    const { job, name } = checked(draftPathSchema, c.req.param());
    const folder = await jobs.folderOf(job);
    await writeDraft(folder, name, (await checkedBody(c, draftSchema, limits)).draft);
    return c.json({ done: true });
  });

  app.delete("/api/jobs/:job/drafts/:name", async (c) => {
    const { job, name } = checked(draftPathSchema, c.req.param());
    await removeDraft(await jobs.folderOf(job), name);
    return c.json({ done: true });
  });
}

/** The newest map of each name for each device. Jobs that can't be read have none to offer. */
async function gatherLibrary({ jobs }: Bench): Promise<LibraryBoard[]> {
  const newest = new Map<string, LibraryBoard>();
  for (const { id, device, boards } of (await jobs.list()).jobs) {
    if (boards.length === 0) continue;
    const job = await jobs
      .folderOf(id)
      .then(openJob)
      .catch((error) => {
        if (error instanceof ToolError) return null;
        throw error;
      });
    for (const { name, sha256, at, map } of job?.boards ?? []) {
      const key = JSON.stringify([device, name]);
      const before = newest.get(key);
      if (before !== undefined && Date.parse(before.at) > Date.parse(at)) continue;
      const { minX, minY, maxX, maxY } = boundsOf(map.outline);
      const count = (side: string): number => map.regions.filter((region) => region.side === side).length;
      newest.set(key, {
        device,
        job: id,
        name,
        sha256,
        at,
        regions: { top: count("top"), bottom: count("bottom") },
        sizeMm: [maxX - minX, maxY - minY],
      });
    }
  }
  return [...newest.values()].sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}
