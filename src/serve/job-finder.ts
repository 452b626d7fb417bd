// serve: the folder that is served → its jobs by their ids, and a new folder for a new one.
import { access, mkdir } from "node:fs/promises";
import { join, relative } from "node:path";
import type { JobList, JobSummary } from "../api/jobs-schema.js";
import { ToolError } from "../core/errors.js";
import { summariseJob } from "../job/summarise-job.js";
import { diskReason } from "../report/output-error.js";
import { findJobs } from "../store/index-jobs.js";
import { openJob } from "../store/open-job.js";
import { DISK } from "../store/storage.js";
import { noneError } from "./bench-context.js";
import { journalStamp } from "./journal-stamp.js";

interface Known {
  /** Size and time of the journal: as long as they stay, so does the rest. */
  readonly stamp: string;
  readonly summary: JobSummary | null;
  readonly problem: string | null;
}

/** Knows the jobs below a folder. Requests name jobs by id, and only what was found here has one. */
export class JobFinder {
  readonly folder: string;
  readonly #known = new Map<string, Known>();

  constructor(folder: string) {
    this.folder = folder;
  }

  /** Folder of a job. @throws ToolError E_BENCH_NONE */
  async folderOf(id: string): Promise<string> {
    return this.#look(id) ?? ((await this.list()) && this.#look(id)) ?? this.#none();
  }

  /** All jobs, the latest first. */
  async list(): Promise<Pick<JobList, "jobs" | "unreadable">> {
    const unreadable: JobList["unreadable"] = [];
    const folders = await findJobs(this.folder, DISK, (folder, { message }) => {
      unreadable.push({ folder: this.nameOf(folder), problem: message });
    });
    for (const folder of [...this.#known.keys()]) if (!folders.includes(folder)) this.#known.delete(folder);
    for (const folder of folders) {
      const stamp = await journalStamp(folder);
      if (this.#known.get(folder)?.stamp !== stamp)
        this.#known.set(folder, { stamp, ...(await this.#read(folder)) });
    }
    const jobs: JobSummary[] = [];
    for (const [folder, { summary, problem }] of this.#known) {
      if (summary !== null) jobs.push(summary);
      else unreadable.push({ folder: this.nameOf(folder), problem: problem ?? "" });
    }
    jobs.sort((a, b) => Date.parse(b.lastAt) - Date.parse(a.lastAt) || (a.folder < b.folder ? -1 : 1));
    return { jobs, unreadable };
  }

  /** Stamps of all jobs by id, to see what changed. */
  async stamps(): Promise<Map<string, string>> {
    await this.list();
    return new Map(
      [...this.#known.values()].flatMap(({ stamp, summary }) =>
        summary === null ? [] : [[summary.id, stamp]],
      ),
    );
  }

  /** Make a folder for a new job, named after the day and the device. */
  async makeFolder(device: string, now: Date): Promise<string> {
    const words = device
      .normalize("NFKD")
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-+|-+$/g, "")
      .slice(0, 40);
    const name = `${now.toISOString().slice(0, 10)}-${words === "" ? "job" : words}`;
    for (let n = 1; ; n++) {
      const folder = join(this.folder, n === 1 ? name : `${name}-${n}`);
      try {
        await mkdir(folder);
        return folder;
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code === "EEXIST" && n < 10_000) continue;
        throw new ToolError("E_JOB_WRITE", {
          problem: `expected to make a folder for a new job, but ${diskReason(error)}`,
          fix: "Free some space, or check the permissions of the folder of jobs",
          place: { file: folder },
        });
      }
    }
  }

  #look(id: string): string | undefined {
    for (const [folder, { summary }] of this.#known) if (summary?.id === id) return folder;
    return undefined;
  }

  #none(): never {
    throw noneError("there is no such job in the folder that is served");
  }

  /** A folder of a job as it is called from the folder that is served. */
  nameOf(folder: string): string {
    return relative(this.folder, folder).replaceAll("\\", "/") || ".";
  }

  async #read(folder: string): Promise<Omit<Known, "stamp">> {
    try {
      const { parts, ...summary } = summariseJob(await openJob(folder));
      return {
        summary: {
          ...summary,
          folder: this.nameOf(folder),
          boards: [...summary.boards],
          nets: [...summary.nets],
          words: [...summary.words],
          parts: parts.map((part) => ({ ...part })),
        },
        problem: null,
      };
    } catch (error) {
      if (!(error instanceof ToolError)) throw error;
      return { summary: null, problem: error.message };
    }
  }
}

/** Make the folder of jobs if it is not there, and see that it may be written to. @throws ToolError E_OUTPUT */
export async function openJobsFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder, { recursive: true });
    await access(folder, 2);
  } catch (error) {
    throw new ToolError("E_OUTPUT", {
      problem: `expected a folder for jobs that can be written to, but ${diskReason(error)}`,
      fix: "Give --jobs a folder that you may write to",
      place: { file: folder },
    });
  }
}
