// page: something half done → kept in the job's folder, so that neither a reload nor a restart of the server loses it.
import { callApi } from "../../api/call-api.js";
import { announceError } from "./announce.js";

/** Keep a change this long before it is sent, ms: a word typed is one draft, not seven. */
const WAIT_MS = 400;
/** A request that outlives its page may have 64 KiB, headers and others like it included (Fetch Standard, 5.7). */
const OUTLIVING_LENGTH = 40_000;
/** Where what was not sent waits for the next page of this window. */
const LEFT_KEY = "faultglow-unsent-drafts";

/** A draft that the server may not have yet. */
interface Unsent {
  readonly job: string;
  readonly name: string;
  /** Makes what is sent. */
  draft: () => unknown;
  readonly call: typeof callApi;
  timer: ReturnType<typeof setTimeout> | undefined;
  isSending: boolean;
}
const unsent = new Map<string, Unsent>();

/** Fetch a draft. One that is on its way to the server is known here already.
 *  @returns what was kept under that name; null where nothing was.
 */
export async function loadDraft(job: string, name: string, call = callApi): Promise<unknown> {
  const known = (): Unsent | undefined => unsent.get(`${job}/${name}`);
  const before = known();
  if (before !== undefined) return before.draft();
  const { draft } = await call("draft", { job, name });
  // What was done while it came is worth more.
  const since = known();
  return since === undefined ? (draft ?? null) : since.draft();
}

/** Keep a draft soon; of changes that follow each other quickly only the last is sent, and one after the other.
 *  @param draft makes it when it is sent. */
export function saveDraftSoon(job: string, name: string, draft: () => unknown, call = callApi): void {
  const key = `${job}/${name}`;
  const one = unsent.get(key) ?? { job, name, draft, call, timer: undefined, isSending: false };
  one.draft = draft;
  unsent.set(key, one);
  clearTimeout(one.timer);
  one.timer = setTimeout(() => send(one), WAIT_MS);
}

/** Send at once all that waits: when the server is there again, and when somebody turns to something else. */
export function sendDrafts(): void {
  for (const one of unsent.values()) void send(one);
}

/** Send what waits when the page is left, and leave it for the page that comes next in this window: that one may ask
 *  for it before it has arrived, and no request outlives a page with a large drawing. */
export function sendDraftsOnLeaving(): void {
  addEventListener("pagehide", () => {
    const left = [...unsent.values()].map(({ job, name, draft }) => ({ job, name, draft: draft() }));
    if (left.length === 0) return;
    try {
      sessionStorage.setItem(LEFT_KEY, JSON.stringify(left));
    } catch {
      // A browser that keeps nothing still sends them.
    }
    for (const { job, name, draft } of left) {
      const keepalive = JSON.stringify(draft).length < OUTLIVING_LENGTH;
      const outliving = (address: string, init: RequestInit) => fetch(address, { ...init, keepalive });
      callApi("saveDraft", { job, name, body: { draft } }, { fetch: outliving }).catch(() => {});
    }
  });
  for (const { job, name, draft } of takeLeft()) saveDraftSoon(job, name, () => draft);
  sendDrafts();
}

function takeLeft(): readonly { readonly job: string; readonly name: string; readonly draft: unknown }[] {
  try {
    const text = sessionStorage.getItem(LEFT_KEY) ?? "[]";
    sessionStorage.removeItem(LEFT_KEY);
    return JSON.parse(text);
  } catch {
    return [];
  }
}

async function send(one: Unsent): Promise<void> {
  clearTimeout(one.timer);
  one.timer = undefined;
  if (one.isSending) return;
  one.isSending = true;
  const { job, name, call } = one;
  try {
    let sent: () => unknown;
    do {
      sent = one.draft;
      await call("saveDraft", { job, name, body: { draft: sent() } });
      // What has changed meanwhile and waits no longer goes now.
    } while (one.draft !== sent && one.timer === undefined);
    if (one.draft === sent) unsent.delete(`${job}/${name}`);
  } catch (error) {
    // It stays here, and goes with the next change, or when the server is there again.
    announceError(error);
  } finally {
    one.isSending = false;
  }
}
