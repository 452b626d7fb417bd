// store: names of the files in a job folder; none of them contains a word that came from outside.
import { createHash } from "node:crypto";
import { join } from "node:path";
import type { KeptFrame } from "../job/attempt-schema.js";

/** Names at the top of a job folder. */
export const JOB_FILE = "job.json";
export const JOURNAL_FILE = "journal.jsonl";
export const LOCK_FILE = "lock";
export const ATTEMPTS = "attempts";
/** Where what was cut short by a crash is kept for a person to look at. */
export const ASIDE = "aside";
/** Begin of the folders in which something is being made ready; they are no part of the job. */
export const STAGE = ".adding-";

/** Names of files from the job's folder, with `/`. */
export const boardName = (sha256: string): string => `boards/${sha256}.json`;
export const viewName = (sha256: string): string => `views/${sha256}.json`;
export const frameName = (frame: Pick<KeptFrame, "sha256" | "ending">): string =>
  `frames/${frame.sha256}${frame.ending}`;
export const attemptName = (number: number): string => `${ATTEMPTS}/${String(number).padStart(3, "0")}`;
export const attemptFile = (number: number): string => `${attemptName(number)}/attempt.json`;

/** Number of an attempt by the name of its folder; null for other names. */
export function attemptNumber(name: string): number | null {
  return /^\d{3,}$/.test(name) && Number(name) > 0 ? Number(name) : null;
}

/** Path on the disk of a name in a job. */
export function pathIn(folder: string, name: string): string {
  return join(folder, ...name.split("/"));
}

/** SHA-256, hex; texts as UTF-8. */
export function sha256Of(contents: string | Uint8Array): string {
  return createHash("sha256").update(contents).digest("hex");
}

/** What a pack has beside the files of its job: a list of them, and the job's report. No part of the job; whoever opens
 *  it makes the report anew. */
export const PACK_CONTENTS = "contents.txt";
export const PACK_REPORT = "report/job-report.html";
