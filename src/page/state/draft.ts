// page: something half done → kept in the job's folder, so that neither a reload nor a restart of the server loses it.
import { callApi } from "../../api/call-api.js";
import { announceError } from "./announce.js";

/** Keep a change this long before it is sent, ms: a word typed is one draft, not seven. */
const WAIT_MS = 400;
interface Waiting {
  readonly job: string;
  readonly name: string;
  readonly draft: unknown;
  readonly timer: ReturnType<typeof setTimeout>;
}
const waiting = new Map<string, Waiting>();

/** Fetch a draft.
 *  @returns what was kept under that name; null where nothing was.
 */
export async function loadDraft(job: string, name: string): Promise<unknown> {
  const unsent = waiting.get(`${job}/${name}`);
  return unsent === undefined ? ((await callApi("draft", { job, name })).draft ?? null) : unsent.draft;
}

/** Keep a draft soon; of changes that follow each other quickly only the last is sent. */
export function saveDraftSoon(job: string, name: string, draft: unknown): void {
  const key = `${job}/${name}`;
  clearTimeout(waiting.get(key)?.timer);
  waiting.set(key, { job, name, draft, timer: setTimeout(() => send(key), WAIT_MS) });
}

/** Send what waits when the page is left: such a request outlives its page. */
export function sendDraftsOnLeaving(): void {
  addEventListener("pagehide", () => {
    for (const key of [...waiting.keys()]) send(key);
  });
}

function send(key: string): void {
  const unsent = waiting.get(key);
  if (unsent === undefined) return;
  clearTimeout(unsent.timer);
  waiting.delete(key);
  const { job, name, draft } = unsent;
  const options = {
    fetch: (address: string, init: RequestInit) => fetch(address, { ...init, keepalive: true }),
  };
  callApi("saveDraft", { job, name, body: { draft } }, options).catch(announceError);
}
