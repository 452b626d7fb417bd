// store: a folder with jobs in it → what each is about, and those that are looked for.
import { join } from "node:path";
import { ToolError } from "../core/errors.js";
import { type JobQuery, matchesQuery } from "../job/matches-query.js";
import { type JobSummary, summariseJob } from "../job/summarise-job.js";
import { ASIDE, JOB_FILE, STAGE } from "./job-paths.js";
import { openJob } from "./open-job.js";
import type { Storage } from "./storage.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";

/** Jobs in a folder. */
export interface JobIndex {
  /** Those that are meant, the latest first. `folder` begins as the folder was given. */
  readonly jobs: readonly (JobSummary & { readonly folder: string })[];
  /** Jobs looked at. */
  readonly looked: number;
  /** Jobs that can't be opened: they may be meant, too. */
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
  return wordErrors(folder, async () => {
    const folders = await findJobs(folder, DEPTH, o.storage);
    const jobs: (JobSummary & { folder: string })[] = [];
    const unreadable: { folder: string; problem: string }[] = [];
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
  });
}

/** List the folders of jobs in a folder. @param depth of folders that are looked into. */
export async function findJobs(
  folder: string,
  depth: number = DEPTH,
  storage: Storage = STORE_DEFAULTS.storage,
): Promise<string[]> {
  const entries = await storage.list(folder);
  if (entries.some(({ name, kind }) => name === JOB_FILE && kind === "file")) return [folder];
  const found: string[] = [];
  for (const { name, kind } of entries) {
    if (kind !== "folder" || depth === 0 || name.startsWith(STAGE) || name === ASIDE) continue;
    found.push(...(await findJobs(join(folder, name), depth - 1, storage)));
  }
  return found;
}
