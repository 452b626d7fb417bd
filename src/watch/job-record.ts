// watch: a job folder → which frames it has, in which role, and which files were set aside.
import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { ToolError } from "../core/errors.js";
import type { Attempt } from "../job/attempt-schema.js";
import { keptEnding } from "../read/frame-extensions.js";
import { appendSaid } from "../store/append-said.js";
import { ASIDE, JOB_FILE, pathIn } from "../store/job-paths.js";
import { openJob, readAttempt } from "../store/open-job.js";
import { STORE_DEFAULTS, type StoreOptions } from "../store/store-options.js";
import type { JobRecord, ListedFile, Role } from "./watched-frame.js";

/** How a remark of a file that was set aside begins and ends; read back by `readRecord`. */
const ASIDE_REMARK = /^Set aside: .* \(SHA-256 ([0-9a-f]{64})\): /s;

/** Read what a job has of frames. Withdrawn attempts count too: what a person took out is not to come back by itself.
 *  @throws ToolError those of `openJob`. */
export async function readRecord(folder: string, options: Partial<StoreOptions> = {}): Promise<JobRecord> {
  const o = { ...STORE_DEFAULTS, ...options };
  const job = await openJob(folder, o);
  const roles = new Map<string, Role>();
  const note = (attempt: Attempt): void => {
    for (const { baseline, powered } of attempt.views) {
      for (const { sha256 } of powered) roles.set(sha256, "powered");
      for (const { sha256 } of baseline) roles.set(sha256, "baseline");
    }
  };
  for (const { attempt } of job.attempts) note(attempt);
  for (const { seq, said } of job.entries) {
    if (said.type !== "attempt" || !job.withdrawn.has(seq)) continue;
    note((await readAttempt(folder, said.number, said.sha256, o.storage)).attempt);
  }
  const setAside = new Set(job.remarks.flatMap(({ text }) => ASIDE_REMARK.exec(text)?.[1] ?? []));
  return { roles, setAside, createdMs: Date.parse(job.header.createdAt) };
}

/** Keep a copy of a bad file in the job's `aside/frames/`, and say why in the journal. The file itself stays where it
 *  is. The copy comes first: what the journal speaks of is there.
 *  @throws ToolError E_JOB_LOCKED, E_JOB_WRITE. */
export async function setFileAside(
  folder: string,
  file: ListedFile,
  sha256: string,
  fault: ToolError,
  options: Partial<StoreOptions> = {},
): Promise<void> {
  const { storage } = { ...STORE_DEFAULTS, ...options };
  const name = `${ASIDE}/frames/${sha256}${keptEnding(file.name)}`;
  try {
    // Where the job's drive is gone, none is made in its place.
    await storage.read(pathIn(folder, JOB_FILE));
    await storage.makeFolder(pathIn(folder, `${ASIDE}/frames`));
    // A copy of a run that was killed may be half of one.
    await storage.remove(pathIn(folder, name));
    await storage.create(pathIn(folder, name), await readFile(file.path));
  } catch (error) {
    throw new ToolError("E_JOB_WRITE", {
      problem: `a bad file can't be kept: ${(error as Error).message}`,
      fix: "Free some space, or check the folder's permissions",
      place: { file: pathIn(folder, name) },
    });
  }
  const text = `Set aside: ${basename(file.name).slice(0, 200)} (SHA-256 ${sha256}): ${fault.message.slice(0, 500)}`;
  await appendSaid(folder, [{ type: "remark", text }], options);
}
