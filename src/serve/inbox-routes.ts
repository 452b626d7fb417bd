// serve: requests for what was dropped on a job → kept, listed, shown, corrected, removed.

import { readFile } from "node:fs/promises";
import type { Context, Hono } from "hono";
import { addInboxQuerySchema, changeManySchema, inboxPathSchema } from "../api/inbox-schema.js";
import { jobPathSchema } from "../api/jobs-schema.js";
import { type Bench, noneError } from "./bench-context.js";
import { largeError } from "./body-chunks.js";
import { checked, checkedBody } from "./check-request.js";
import { giveBytes } from "./give-file.js";

/** Answer requests for the inbox. */
export function addInboxRoutes(app: Hono, bench: Bench): void {
  const { inbox, jobs, limits, quick } = bench;

  app.get("/api/jobs/:job/inbox", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    return c.json(await inbox.list(job, await jobs.folderOf(job)));
  });

  app.post("/api/jobs/:job/inbox", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    const { name } = checked(addInboxQuerySchema, c.req.query());
    const folder = await jobs.folderOf(job);
    // What says itself that it is too large need not be waited for.
    if (Number(c.req.header("content-length") ?? 0) > limits.fileBytes) throw largeError(limits.fileBytes);
    const file = await inbox.add(job, folder, name, c.req.raw.body, limits);
    return c.json({ file }, 201);
  });

  app.post("/api/jobs/:job/inbox/many", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    await inbox.addMany(job, await jobs.folderOf(job), c.req.raw.body, limits);
    return c.json({ done: true }, 201);
  });

  app.patch("/api/jobs/:job/inbox", async (c) => {
    const { job } = checked(jobPathSchema, c.req.param());
    const folder = await jobs.folderOf(job);
    return c.json(await inbox.change(job, folder, await checkedBody(c, changeManySchema, limits)));
  });

  app.delete("/api/jobs/:job/inbox/:sha256", async (c) => {
    const { job, sha256 } = checked(inboxPathSchema, c.req.param());
    await inbox.remove(job, await jobs.folderOf(job), sha256);
    return c.json({ done: true });
  });

  const dropped = async (c: Context) => {
    const { job, sha256 } = checked(inboxPathSchema, c.req.param());
    return inbox.dropped(await jobs.folderOf(job), sha256);
  };
  app.get("/api/jobs/:job/inbox/:sha256/frame", async (c) =>
    giveBytes(c, await quick.run("droppedFrame", await dropped(c), { urgent: true })),
  );
  app.get("/api/jobs/:job/inbox/:sha256/photo", async (c) =>
    giveBytes(c, await quick.run("droppedPhoto", await dropped(c), { urgent: true }), "image/jpeg"),
  );
  app.get("/api/jobs/:job/inbox/:sha256/file", async (c) => {
    const { path } = await dropped(c);
    const bytes = await readFile(path).catch(() => {
      throw noneError("the file was removed");
    });
    return giveBytes(c, bytes);
  });
}
