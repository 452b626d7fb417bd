// page: dropped files → sent to the job's inbox, small ones many in a request.
import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { callApi } from "../../api/call-api.js";
import { packFiles } from "../../api/pack-files.js";
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

/** Requests under way at a time. */
const AT_ONCE = 4;
/** A request costs browser and server as much as the bytes of a small frame: several go in one, as many as are soon
 *  there. */
const REQUEST_BYTES = 4 * 1024 * 1024;
const REQUEST_FILES = 32;
/** The server takes no longer names. */
const LONGEST_NAME = 400;
interface Queued {
  readonly job: string;
  readonly named: NamedFile;
  /** Length of the file once it was looked at: of one that lies on the disk the browser asks the system each time, and
   *  the page waits for that. */
  bytes: number | null;
}
const queue: Queued[] = [];
/** No frame of this sending has gone yet. */
let isFirst = true;
let stopper = new AbortController();
let lanes = 0;

/** Send files to the inbox of a job, in the order given. More may be added while some are under way. */
export function sendFiles(job: string, files: readonly NamedFile[]): void {
  if (files.length === 0) return;
  const before = sending.value;
  isFirst ||= before === null;
  sending.value =
    before === null
      ? { job, done: 0, total: files.length, failed: [] }
      : { ...before, total: before.total + files.length };
  queue.push(...files.map((named) => ({ job, named, bytes: null })));
  openLanes();
}

/** As many requests at a time as are of use; one until the first frame of all is there. */
function openLanes(): void {
  const most = isFirst ? 1 : AT_ONCE;
  while (lanes < most && queue.length > 0) {
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

/** Have the browser ask before a page is left whose files have not all been sent: those that have not would be lost. */
export function askBeforeLeaving(): void {
  addEventListener("beforeunload", (event) => {
    if (isSending.value) event.preventDefault();
  });
}

async function work(): Promise<void> {
  for (let next = nextRequest(); next !== null; next = nextRequest()) {
    const { files, isShown } = next;
    const { signal } = stopper;
    try {
      if (files.length > 1) await sendTogether(files, signal);
      else await sendOne(files[0]!, signal, isShown);
    } catch {
      // Which of them can't be sent, and why, is found by sending each alone; what is there already is no harm.
      for (const one of files) if (!signal.aborted) await sendOne(one, signal, false);
    }
    note((now) => ({ ...now, done: now.done + files.length }));
    openLanes();
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

/** Take what goes into one request out of the queue. The first frame of all goes alone, and is shown as soon as it is
 *  there; only JSON goes before it, which may be what it is read by. */
function nextRequest(): { readonly files: readonly Queued[]; readonly isShown: boolean } | null {
  const [first] = queue;
  if (first === undefined) return null;
  const isShown = isFirst && !isJson(first.named);
  let count = 1;
  let bytes = bytesOf(first);
  for (; count < Math.min(queue.length, isShown ? 1 : REQUEST_FILES); count++) {
    const { job, named } = queue[count]!;
    bytes += bytesOf(queue[count]!);
    if (job !== first.job || bytes > REQUEST_BYTES || (isFirst && !isJson(named))) break;
  }
  if (isShown) isFirst = false;
  return { files: queue.splice(0, count), isShown };
}

function bytesOf(queued: Queued): number {
  queued.bytes ??= queued.named.file.size;
  return queued.bytes;
}

async function sendTogether(files: readonly Queued[], signal: AbortSignal): Promise<void> {
  const { job } = files[0]!;
  const bytes = packFiles(
    files.map((queued) => ({
      name: nameOf(queued.named),
      content: queued.named.file,
      bytes: bytesOf(queued),
    })),
  );
  await callApi("addManyToInbox", { job, bytes }, { signal });
}

async function sendOne({ job, named }: Queued, signal: AbortSignal, isShown: boolean): Promise<void> {
  try {
    const { file } = await callApi("addToInbox", { job, name: nameOf(named), bytes: named.file }, { signal });
    // Of all others the server tells many at a time.
    if (isShown && jobState.value?.id === job) takeInbox([file], []);
  } catch (error) {
    if (signal.aborted) return;
    announceError(error);
    note((now) => ({ ...now, failed: [...now.failed, named.name] }));
  }
}

/** True for what is small, and says something of other files. */
export function isJson({ name }: NamedFile): boolean {
  return /\.json$/i.test(name);
}

function nameOf({ name }: NamedFile): string {
  return name.slice(-LONGEST_NAME);
}

function note(change: (now: Sending) => Sending): void {
  if (sending.value !== null) sending.value = change(sending.value);
}
