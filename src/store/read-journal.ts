// store: a job folder → its header and the lines of its journal, nothing else read.
import { ToolError } from "../core/errors.js";
import { JOB_KIND } from "../job/job-kinds.js";
import { type JobHeader, jobSchema } from "../job/job-schema.js";
import { type Journal, parseJournal } from "../job/parse-journal.js";
import { parseKind } from "../job/parse-kind.js";
import { readReason } from "../read/read-reason.js";
import { JOB_FILE, JOURNAL_FILE, pathIn, sha256Of } from "./job-paths.js";
import { NO_JOB_FILE } from "./read-job-file.js";
import type { Storage } from "./storage.js";

/** Header and journal of a job. */
export interface JobText {
  readonly header: JobHeader;
  readonly journal: Journal;
}

/** Read job.json and the journal and check the chain of its lines.
 *  @throws ToolError E_JOB_NONE if the folder holds no job; E_JOB_JOURNAL if the journal is missing or damaged;
 *    E_JOB_KIND if either is no file; errors of `parseKind`.
 */
export async function readJournal(folder: string, storage: Storage): Promise<JobText> {
  const head = await readOrNull(pathIn(folder, JOB_FILE), storage);
  if (head === null) {
    throw new ToolError("E_JOB_NONE", {
      problem: `expected the folder of a job, but it holds no ${JOB_FILE}`,
      fix: "Give the folder of a job (was it moved or renamed?), or make one: faultglow job new DIR --device NAME",
      place: { file: folder },
    });
  }
  const file = pathIn(folder, JOURNAL_FILE);
  const lines = await readOrNull(file, storage);
  if (lines === null) {
    throw new ToolError("E_JOB_JOURNAL", {
      problem: "the job has no journal",
      fix: "Take the job from a copy or a pack",
      place: { file },
    });
  }
  return {
    header: parseKind(new TextDecoder().decode(head), JOB_KIND, jobSchema, pathIn(folder, JOB_FILE)),
    journal: parseJournal(lines, sha256Of(head), { sha256: sha256Of, file }),
  };
}

async function readOrNull(path: string, storage: Storage): Promise<Uint8Array | null> {
  try {
    return await storage.read(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT" || code === "ENOTDIR") return null;
    if (!NO_JOB_FILE.includes(code ?? "")) throw error;
    throw new ToolError("E_JOB_KIND", {
      problem: `expected a file of a job, but ${readReason(error)}`,
      fix: "Take the job from a copy or a pack",
      place: { file: path },
    });
  }
}
