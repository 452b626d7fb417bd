// store: a folder with jobs in it → what each is about, and those that are looked for.
import { join } from "node:path";
import { ToolError } from "../core/errors.js";
import { type JobQuery, matchesQuery } from "../job/matches-query.js";
import { type JobSummary, summariseJob } from "../job/summarise-job.js";
import { diskReason } from "../report/output-error.js";
import { ASIDE, JOB_FILE, STAGE } from "./job-paths.js";
import { openJob } from "./open-job.js";
import type { Storage } from "./storage.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";

/** Jobs in a folder. */
export interface JobIndex {
  /** Those that are meant, the latest first. `folder` begins as the folder was given. */
  readonly jobs: readonly (JobSummary & { readonly folder: string })[];
  /** Jobs looked at. */
  readonly looked: number;
  /** Jobs that can't be opened, and folders that can't be looked into: they may be meant, too. */
  readonly unreadable: readonly { readonly folder: string; readonly problem: string }[];
}

/** Folders in folders that are searched: year / month / job is three. */
const DEPTH = 4;

/** Look for jobs in a folder and the folders in it; a job is not searched for jobs.
 *  Nothing is kept between runs: what the jobs say is read each time, so that an index can't be out of date.
 *  @throws ToolError E_JOB_WRITE if the folder can't be read.
 */
export async function indexJobs(
  folder: string,
  query: JobQuery = {},
  options: Partial<StoreOptions> = {},
): Promise<JobIndex> {
  const o = { ...STORE_DEFAULTS, ...options };
  const jobs: (JobSummary & { folder: string })[] = [];
  const unreadable: { folder: string; problem: string }[] = [];
  const folders = await findJobs(folder, o.storage, (closed, { message }) => {
    unreadable.push({ folder: closed, problem: message });
  });
  for (const one of folders) {
    try {
      const summary = summariseJob(await openJob(one, o));
      if (matchesQuery(summary, query)) jobs.push({ folder: one, ...summary });
    } catch (error) {
      if (!(error instanceof ToolError)) throw error;
      unreadable.push({ folder: one, problem: error.message });
    }
  }
  jobs.sort((a, b) => Date.parse(b.lastAt) - Date.parse(a.lastAt) || (a.folder < b.folder ? -1 : 1));
  return { jobs, looked: folders.length, unreadable };
}

/** List the folders of jobs in a folder.
 *  @param onClosed called with each folder in it that the system refuses to list; one that went meanwhile is none.
 *  @throws ToolError E_JOB_WRITE if the folder itself can't be listed. */
export async function findJobs(
  folder: string,
  storage: Storage = STORE_DEFAULTS.storage,
  onClosed: (folder: string, fault: ToolError) => void = () => {},
): Promise<string[]> {
  try {
    return await searchFolder(folder, DEPTH, storage, onClosed);
  } catch (error) {
    throw closedError(folder, error);
  }
}

async function searchFolder(
  folder: string,
  depth: number,
  storage: Storage,
  onClosed: (folder: string, fault: ToolError) => void,
): Promise<string[]> {
  const entries = await storage.list(folder);
  if (entries.some(({ name, kind }) => name === JOB_FILE && kind === "file")) return [folder];
  const found: string[] = [];
  for (const { name, kind } of entries) {
    if (kind !== "folder" || depth === 0 || name.startsWith(STAGE) || name === ASIDE) continue;
    const inside = join(folder, name);
    try {
      found.push(...(await searchFolder(inside, depth - 1, storage, onClosed)));
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "ENOENT") onClosed(inside, closedError(inside, error));
    }
  }
  return found;
}

function closedError(file: string, error: unknown): ToolError {
  return new ToolError("E_JOB_WRITE", {
    problem: `expected a folder that can be looked into for jobs, but ${diskReason(error)}`,
    fix: "Check its name and its permissions, and that its drive is connected",
    place: { file },
  });
}
