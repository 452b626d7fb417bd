// page: the server's jobs → signals that follow them.
import { type Signal, signal } from "@preact/signals";
import { CallError, callApi } from "../../api/call-api.js";
import type { Inbox, InboxFile } from "../../api/inbox-schema.js";
import type { JobList, JobState } from "../../api/jobs-schema.js";
import { capitalised } from "../../core/sentence-case.js";
import { compareNatural } from "../../read/compare-natural.js";
import { keepSame } from "./keep-same.js";

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
      const { answer, news } = await listening(() => callApi("jobState", { job }));
      if (job === openId) {
        jobState.value = keepSame(jobState.value, { ...answer, inbox: withNews(answer.inbox, news) });
        problem.value = null;
      } else isStale = true;
    } while (isStale);
  } catch (error) {
    problem.value = problemText(error);
  } finally {
    isAsking = false;
  }
}

/** What a person did is followed by events of single files; the whole list is fetched once for all that comes within
 *  this time, ms. */
const GATHER_MS = 150;
let inboxTimer: ReturnType<typeof setTimeout> | undefined;

/** Fetch the inbox of the open job soon. */
export function refreshInboxSoon(): void {
  if (inboxTimer !== undefined) return;
  inboxTimer = setTimeout(async () => {
    inboxTimer = undefined;
    const job = openId;
    if (job === null) return;
    try {
      const { answer, news } = await listening(() => callApi("inbox", { job }));
      const inbox = withNews(answer, news);
      if (jobState.value !== null && job === openId)
        jobState.value = keepSame(jobState.value, { ...jobState.value, inbox });
    } catch (error) {
      problem.value = problemText(error);
    }
  }, GATHER_MS);
}

/** What was told of files of the open job. */
interface InboxNews {
  readonly files: readonly InboxFile[];
  readonly removed: readonly string[];
}

/** Calls under way, each with what is told meanwhile: their answers may be older than that. */
const underWay = new Set<InboxNews[]>();

async function listening<Answer>(
  call: () => Promise<Answer>,
): Promise<{ answer: Answer; news: InboxNews[] }> {
  const news: InboxNews[] = [];
  underWay.add(news);
  try {
    return { answer: await call(), news };
  } finally {
    underWay.delete(news);
  }
}

/** Take what is told of files of the open job: news of those that are listed, and new ones into their order. */
export function takeInbox(files: readonly InboxFile[], removed: readonly string[]): void {
  for (const news of underWay) news.push({ files, removed });
  const state = jobState.value;
  if (state !== null) jobState.value = { ...state, inbox: withNews(state.inbox, [{ files, removed }]) };
}

function withNews(inbox: Inbox, news: readonly InboxNews[]): Inbox {
  let { files } = inbox;
  for (const told of news) {
    const changed = new Map(told.files.map((file) => [file.sha256, file]));
    const kept = files.filter(({ sha256 }) => !told.removed.includes(sha256));
    const known = new Set(kept.map(({ sha256 }) => sha256));
    files = kept.map((file) => changed.get(file.sha256) ?? file);
    for (const file of told.files) if (!known.has(file.sha256)) insertByName(files, file);
  }
  return { ...inbox, files };
}

/** Put a file into its place among files in the order of their names: sorting hundreds anew with each event would make
 *  the page wait.
 */
function insertByName(files: InboxFile[], file: InboxFile): void {
  const name = file.names[0] ?? "";
  let [low, high] = [0, files.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (compareNatural(files[middle]!.names[0] ?? "", name) <= 0) low = middle + 1;
    else high = middle;
  }
  files.splice(low, 0, file);
}

/** Word what went wrong with a call. */
function problemText(error: unknown): string {
  if (error instanceof CallError && error.status === 401) {
    return "This browser may not use the bench yet. Open the address that faultglow bench printed, with its token, once.";
  }
  return capitalised(error instanceof Error ? error.message : String(error));
}
