// page: dropped files → sent to the job's inbox, four at a time.
import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { callApi } from "../../api/call-api.js";
import { announce, announceError } from "./announce.js";
import { jobState, refreshInboxSoon, takeInbox } from "./job-data.js";

/** A file to be sent, with the folders it lay in. */
export interface NamedFile {
  readonly name: string;
  readonly file: File;
}

/** How far the sending is. */
export interface Sending {
  readonly job: string;
  readonly done: number;
  readonly total: number;
  readonly failed: readonly string[];
}

/** What is being sent; null where nothing is. */
export const sending: Signal<Sending | null> = signal(null);
/** True while something is being sent. */
export const isSending: ReadonlySignal<boolean> = computed(() => sending.value !== null);

const AT_ONCE = 4;
/** The server takes no longer names. */
const LONGEST_NAME = 400;
const queue: { job: string; named: NamedFile }[] = [];
let stopper = new AbortController();
let lanes = 0;

/** Send files to the inbox of a job, in the order given. More may be added while some are under way. */
export function sendFiles(job: string, files: readonly NamedFile[]): void {
  if (files.length === 0) return;
  const before = sending.value;
  sending.value =
    before === null
      ? { job, done: 0, total: files.length, failed: [] }
      : { ...before, total: before.total + files.length };
  queue.push(...files.map((named) => ({ job, named })));
  while (lanes < AT_ONCE && lanes < queue.length) {
    lanes++;
    void work();
  }
}

/** Give up what was not sent yet. */
export function stopSending(): void {
  queue.length = 0;
  stopper.abort();
  stopper = new AbortController();
}

async function work(): Promise<void> {
  for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
    const { job, named } = next;
    const { signal } = stopper;
    try {
      const { file } = await callApi(
        "addToInbox",
        { job, name: named.name.slice(-LONGEST_NAME), bytes: named.file },
        { signal },
      );
      // The first is shown at once; of all others the server tells many at a time.
      const state = jobState.value;
      if (state?.id === job && state.inbox.files.length === 0) takeInbox([file], []);
    } catch (error) {
      if (!signal.aborted) {
        announceError(error);
        note((now) => ({ ...now, failed: [...now.failed, named.name] }));
      }
    }
    note((now) => ({ ...now, done: now.done + 1 }));
  }
  lanes--;
  if (lanes > 0 || sending.value === null) return;
  const { done, failed } = sending.value;
  sending.value = null;
  refreshInboxSoon();
  announce(
    failed.length === 0
      ? `${done} ${done === 1 ? "file is" : "files are"} in the job.`
      : `Not taken: ${failed.join(", ")}.`,
    failed.length > 0,
  );
}

function note(change: (now: Sending) => Sending): void {
  if (sending.value !== null) sending.value = change(sending.value);
}
