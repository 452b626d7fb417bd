// serve: an inbox that changes → everybody who listens is told which files are other than before.
import type { InboxFile } from "../api/inbox-schema.js";
import type { EventHub } from "./event-hub.js";

/** How long changes are gathered before they are told, ms: a burst drops many files a second … */
const GATHER_MS = 120;
/** … and while hundreds are there, not before it took this many times as long as the last telling. */
const REST_FACTOR = 6;

/** Tells changes of inboxes. */
export class InboxTeller {
  readonly #events: EventHub;
  readonly #show: (folder: string) => Promise<InboxFile[]>;
  readonly #told = new Map<string, Map<string, string>>();
  readonly #timers = new Map<string, NodeJS.Timeout>();
  #lastMs = 0;
  #closed = false;

  /** @param show how the files of a job's folder are shown now. */
  constructor(events: EventHub, show: (folder: string) => Promise<InboxFile[]>) {
    this.#events = events;
    this.#show = show;
  }

  /** Tell soon what changed since it was last told. @param isLast nothing more is under way: it is told now. */
  soon(job: string, folder: string, isLast = false): void {
    if (this.#closed || (this.#timers.has(folder) && !isLast)) return;
    clearTimeout(this.#timers.get(folder));
    const waitMs = isLast ? 0 : Math.max(GATHER_MS, REST_FACTOR * this.#lastMs);
    this.#timers.set(
      folder,
      setTimeout(() => {
        this.#timers.delete(folder);
        // An inbox that can't be read is told of to whoever asks for it.
        this.#tell(job, folder).catch(() => {});
      }, waitMs),
    );
  }

  /** Nothing more is told. */
  close(): void {
    this.#closed = true;
    for (const timer of this.#timers.values()) clearTimeout(timer);
  }

  async #tell(job: string, folder: string): Promise<void> {
    const start = performance.now();
    const files = await this.#show(folder);
    const before = this.#told.get(folder) ?? new Map<string, string>();
    const now = new Map(files.map((file) => [file.sha256, JSON.stringify(file)]));
    this.#told.set(folder, now);
    const changed = files.filter(({ sha256 }) => now.get(sha256) !== before.get(sha256));
    const removed = [...before.keys()].filter((sha256) => !now.has(sha256));
    if (changed.length + removed.length > 0)
      this.#events.tell({ type: "inbox", job, files: changed, removed });
    this.#lastMs = performance.now() - start;
  }
}
