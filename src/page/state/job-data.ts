// page: the server's jobs → signals that follow them.
import { type Signal, signal } from "@preact/signals";
import { CallError, callApi } from "../../api/call-api.js";
import type { InboxFile } from "../../api/inbox-schema.js";
import type { JobList, JobState } from "../../api/jobs-schema.js";
import type { Job } from "../../job/job.js";

/** The list of jobs; null until it came. */
export const jobList: Signal<JobList | null> = signal(null);
/** The job that is open; null until it came. */
export const jobState: Signal<JobState | null> = signal(null);
/** Why list or job can't be shown; null where they can. */
export const problem: Signal<string | null> = signal(null);

let openId: string | null = null;
let isAsking = false;
let isStale = false;

/** Fetch the list of jobs. */
export async function refreshJobs(): Promise<void> {
  try {
    jobList.value = await callApi("listJobs", {});
    if (openId === null) problem.value = null;
  } catch (error) {
    problem.value = problemText(error);
  }
}

/** Open a job, or none; what another job left is cleared at once. */
export function openJob(job: string | null): void {
  if (job === openId) return;
  openId = job;
  jobState.value = null;
  problem.value = null;
  if (job !== null) void refreshJob();
}

/** Fetch the open job; asked again while an answer is under way, it is fetched once more after that. */
export async function refreshJob(): Promise<void> {
  if (isAsking) {
    isStale = true;
    return;
  }
  isAsking = true;
  try {
    do {
      isStale = false;
      const job = openId;
      if (job === null) break;
      const state = await callApi("jobState", { job });
      if (job === openId) {
        jobState.value = state;
        problem.value = null;
      } else isStale = true;
    } while (isStale);
  } catch (error) {
    problem.value = problemText(error);
  } finally {
    isAsking = false;
  }
}

let inboxTimer: ReturnType<typeof setTimeout> | undefined;
/** Events of single files come in crowds; the list as a whole, in its order and with its roles, is fetched once for all that
 *  come within this time, ms … */
const GATHER_MS = 150;
/** … and while hundreds come, not before it took this many times as long as the last fetch. */
const REST_FACTOR = 6;
let lastFetchMs = 0;

/** Fetch the inbox of the open job soon. */
export function refreshInboxSoon(): void {
  if (inboxTimer !== undefined) return;
  inboxTimer = setTimeout(
    async () => {
      const job = openId;
      const start = performance.now();
      try {
        if (job !== null) {
          const inbox = await callApi("inbox", { job });
          if (jobState.value !== null && job === openId) jobState.value = { ...jobState.value, inbox };
        }
      } catch (error) {
        problem.value = problemText(error);
      }
      lastFetchMs = performance.now() - start;
      inboxTimer = undefined;
      if (isInboxStale) {
        isInboxStale = false;
        refreshInboxSoon();
      }
    },
    Math.max(GATHER_MS, REST_FACTOR * lastFetchMs),
  );
}

let isInboxStale = false;

/** Take what an event says of files, at once; the whole list follows. */
export function takeInbox(files: readonly InboxFile[], removed: readonly string[]): void {
  const state = jobState.value;
  if (state !== null) {
    const news = new Map(files.map((file) => [file.sha256, file]));
    const kept = state.inbox.files.filter(({ sha256 }) => !removed.includes(sha256));
    const known = new Set(kept.map(({ sha256 }) => sha256));
    const all = [
      ...kept.map((file) => news.get(file.sha256) ?? file),
      ...files.filter(({ sha256 }) => !known.has(sha256)),
    ];
    jobState.value = { ...state, inbox: { ...state.inbox, files: all } };
  }
  isInboxStale = inboxTimer !== undefined;
  refreshInboxSoon();
}

/** The job as the pure stages know it. */
export function jobOf(state: JobState): Job {
  return { ...state, withdrawn: new Set(state.withdrawn) };
}

/** Word what went wrong with a call. */
export function problemText(error: unknown): string {
  if (error instanceof CallError && error.status === 401) {
    return "This browser may not use the bench yet. Open the address that faultglow bench printed, with its token, once.";
  }
  return error instanceof Error ? error.message : String(error);
}
