// api: the names of the calls → how each is asked for. Plain words, so that the page carries no more of the server than
// these.

/** How a call is asked for. `:words` of the path are given with the request; so is what goes into the query. */
export interface Endpoint {
  readonly method: "GET" | "POST" | "PUT" | "PATCH" | "DELETE";
  readonly path: string;
  /** Names of the query. */
  readonly query: readonly string[];
  /** What is sent: `json` in `body`, `bytes` in `bytes`. */
  readonly sends: "nothing" | "json" | "bytes";
  readonly gives: "json" | "bytes";
}

const get = (path: string, query: readonly string[] = []): Endpoint => ({
  method: "GET",
  path,
  query,
  sends: "nothing",
  gives: "json",
});
const bytes = (path: string, query: readonly string[] = []): Endpoint => ({
  ...get(path, query),
  gives: "bytes",
});
const send = (method: Endpoint["method"], path: string, sends: Endpoint["sends"] = "json"): Endpoint => ({
  method,
  path,
  query: [],
  sends,
  gives: "json",
});

/** All calls. */
export const ENDPOINTS = Object.freeze({
  listJobs: get("/api/jobs"),
  makeJob: send("POST", "/api/jobs"),
  makeSample: send("POST", "/api/sample", "nothing"),
  jobState: get("/api/jobs/:job"),
  say: send("POST", "/api/jobs/:job/said"),
  compare: get("/api/jobs/:job/comparison", ["before", "after", "healthy"]),

  inbox: get("/api/jobs/:job/inbox"),
  addToInbox: { ...send("POST", "/api/jobs/:job/inbox", "bytes"), query: ["name"] },
  addManyToInbox: send("POST", "/api/jobs/:job/inbox/many", "bytes"),
  changeInbox: send("PATCH", "/api/jobs/:job/inbox"),
  removeFromInbox: send("DELETE", "/api/jobs/:job/inbox/:sha256", "nothing"),
  inboxFrame: bytes("/api/jobs/:job/inbox/:sha256/frame"),
  inboxFile: bytes("/api/jobs/:job/inbox/:sha256/file"),
  inboxPhoto: bytes("/api/jobs/:job/inbox/:sha256/photo"),

  place: send("POST", "/api/jobs/:job/place"),
  analyseAhead: send("POST", "/api/jobs/:job/attempts/ahead"),
  makeAttempt: send("POST", "/api/jobs/:job/attempts"),
  pictures: bytes("/api/jobs/:job/attempts/:number/pictures", ["view"]),
  course: get("/api/jobs/:job/attempts/:number/course", ["view", "x", "y", "radius"]),
  attemptFile: bytes("/api/jobs/:job/attempts/:number/files/:file"),

  library: get("/api/boards"),
  board: get("/api/jobs/:job/boards/:sha256"),
  saveBoard: send("POST", "/api/jobs/:job/boards"),
  draft: get("/api/jobs/:job/drafts/:name"),
  saveDraft: send("PUT", "/api/jobs/:job/drafts/:name"),
  removeDraft: send("DELETE", "/api/jobs/:job/drafts/:name", "nothing"),

  makeReport: send("POST", "/api/jobs/:job/report"),
  makePack: send("POST", "/api/jobs/:job/pack", "nothing"),
  jobFile: bytes("/api/jobs/:job/files/:file"),

  task: get("/api/tasks/:task"),
  cancelTask: send("DELETE", "/api/tasks/:task", "nothing"),
  startWatch: send("POST", "/api/jobs/:job/watch"),
  stopWatch: send("DELETE", "/api/jobs/:job/watch", "nothing"),
} as const satisfies Record<string, Endpoint>);

/** Name of a call. */
export type CallName = keyof typeof ENDPOINTS;

/** Stream of events: `new EventSource(EVENTS_PATH)`. */
export const EVENTS_PATH = "/api/events";

/** Address of a call: for `<img src>` and download links, whose calls send nothing.
 *  @param words values for the path and the query; missing ones of the query are left out.
 *  @throws RangeError if a word of the path is missing (a fault of the caller).
 */
export function addressOf(
  name: CallName,
  words: Readonly<Record<string, string | number | undefined>>,
): string {
  const { path, query } = ENDPOINTS[name] as Endpoint;
  const filled = path.replace(/:(\w+)/g, (_, word: string) => {
    const value = words[word];
    if (value === undefined) throw new RangeError(`${name} needs ${word}`);
    return encodeURIComponent(value);
  });
  const asked = query.flatMap((word) => {
    const value = words[word];
    return value === undefined ? [] : [`${word}=${encodeURIComponent(value)}`];
  });
  return asked.length === 0 ? filled : `${filled}?${asked.join("&")}`;
}
