// serve: folders that frames drop into → attempts of jobs, for as long as the bench runs.

import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { isAbsolute, join, relative, resolve, sep } from "node:path";
import type { StartWatch, WatchState } from "../api/watch-schema.js";
import { countOf } from "../core/count-of.js";
import { dropUndefined } from "../core/drop-undefined.js";
import { ToolError } from "../core/errors.js";
import { momentOf } from "../job/moment-of.js";
import { claimWatch } from "../watch/claim-watch.js";
import { readRecord, setFileAside } from "../watch/job-record.js";
import { listWatched } from "../watch/list-watched.js";
import type { PlannedAttempt } from "../watch/plan-attempts.js";
import { watchFolder } from "../watch/watch-folder.js";
import { WATCH_DEFAULTS, type WatchEvent } from "../watch/watch-ports.js";
import { wordsError } from "./error-words.js";
import type { EventHub } from "./event-hub.js";
import type { WorkProcess } from "./work-process.js";

/** Things said that are kept. */
const KEPT = 30;

interface Watch {
  state: WatchState;
  stopped: boolean;
  wake: () => void;
  ended: Promise<void>;
}

/** The watches of a bench: one for each job at most. */
export class WatchList {
  readonly #watches = new Map<string, Watch>();
  readonly #options: {
    readonly quick: WorkProcess;
    readonly long: WorkProcess;
    readonly events: EventHub;
    readonly toolVersion: string;
  };

  constructor(options: { quick: WorkProcess; long: WorkProcess; events: EventHub; toolVersion: string }) {
    this.#options = options;
  }

  /** How the watch of a job is doing; null where there was none in this run. */
  of(job: string): WatchState | null {
    return this.#watches.get(job)?.state ?? null;
  }

  /** Watch a folder for a job. A watch of this bench for the same job is ended first.
   *  @throws ToolError E_WATCH_FOLDER, E_WATCH_TWICE, those of opening the job. */
  async start(job: string, folder: string, wanted: StartWatch): Promise<WatchState> {
    await this.stop(job);
    refuseFolder(wanted.folder, folder);
    await listWatched(wanted.folder, folder);
    const { toolVersion } = this.#options;
    await readRecord(folder, { toolVersion });
    const release = await claimWatch(folder, { toolVersion });
    const stage = await mkdtemp(join(tmpdir(), "faultglow-watch-"));
    const view = wanted.view === undefined ? undefined : join(stage, `view-${wanted.view.side}.json`);
    if (view !== undefined) await writeFile(view, `${JSON.stringify(wanted.view, null, 2)}\n`);
    const watch: Watch = {
      state: { folder: wanted.folder, running: true, added: 0, said: [] },
      stopped: false,
      wake: () => {},
      ended: Promise.resolve(),
    };
    this.#watches.set(job, watch);
    watch.ended = this.#run(job, folder, wanted, view, watch)
      .catch((error: unknown) =>
        this.#say(job, watch, error instanceof Error ? error.message : String(error)),
      )
      .finally(async () => {
        watch.state = { ...watch.state, running: false };
        await release();
        await rm(stage, { recursive: true, force: true });
        this.#options.events.tell({ type: "job", job });
      });
    return watch.state;
  }

  /** End the watch of a job, if there is one. */
  async stop(job: string): Promise<WatchState | null> {
    const watch = this.#watches.get(job);
    if (watch === undefined) return null;
    watch.stopped = true;
    watch.wake();
    await watch.ended;
    return watch.state;
  }

  /** End all watches. */
  async close(): Promise<void> {
    await Promise.all([...this.#watches.keys()].map((job) => this.stop(job)));
  }

  #run(
    job: string,
    folder: string,
    wanted: StartWatch,
    view: string | undefined,
    watch: Watch,
  ): Promise<void> {
    const { quick, long, toolVersion } = this.#options;
    const { scale, unit } = wanted.options ?? {};
    return watchFolder(
      {
        list: () => listWatched(wanted.folder, folder),
        read: async (file) => {
          const read = await quick.run("readWatched", {
            path: file.path,
            scale: scale ?? null,
            unit: unit ?? null,
          });
          if (!("words" in read)) return read;
          const fault = wordsError(read.words);
          if (!(fault instanceof ToolError)) throw fault;
          return { sha256: read.sha256, fault };
        },
        record: () => readRecord(folder, { toolVersion }),
        add: async (planned) => {
          await long.run("attempt", { folder, request: requestOf(planned, wanted, view) });
          watch.state = { ...watch.state, added: watch.state.added + 1 };
          this.#options.events.tell({ type: "job", job });
        },
        setAside: (file, sha256, fault) => setFileAside(folder, file, sha256, fault, { toolVersion }),
        ask: null,
        say: async (event) => this.#say(job, watch, eventText(event)),
        now: () => performance.now(),
        pause: (ms) =>
          new Promise((done) => {
            if (watch.stopped) return done();
            const timer = setTimeout(() => watch.wake(), ms);
            watch.wake = () => {
              clearTimeout(timer);
              done();
            };
          }),
        isStopped: () => watch.stopped,
      },
      { ...WATCH_DEFAULTS, tell: wanted.tell ?? "name", older: wanted.older ?? false },
    );
  }

  #say(job: string, watch: Watch, text: string): void {
    const said = [{ at: momentOf(new Date()), text }, ...watch.state.said].slice(0, KEPT);
    watch.state = { ...watch.state, said };
    this.#options.events.tell({ type: "job", job });
  }
}

function requestOf({ baseline, powered }: PlannedAttempt, wanted: StartWatch, view: string | undefined) {
  return {
    baseline: baseline.frames.map(({ path }) => path),
    powered: powered.frames.map(({ path }) => path),
    view,
    board: wanted.board,
    options: dropUndefined(wanted.options ?? {}),
    conditions: dropUndefined(wanted.conditions ?? {}),
    at: momentOf(new Date(powered.frames[0]!.mtimeMs)),
  };
}

function eventText(event: WatchEvent): string {
  switch (event.type) {
    case "older":
      return `${countOf(event.files.length, "file")} ${event.files.length === 1 ? "is older than the job and was" : "are older than the job and were"} left alone.`;
    case "setAside":
      return `${event.file.name} was set aside: ${event.fault.parts.problem}.`;
    case "later":
      return `It is tried again later: ${event.fault.parts.problem}.`;
    case "refused":
      return `No attempt was made of ${event.names.join(", ")}: ${event.fault.parts.problem}.`;
    case "waiting": {
      const names = event.waiting.group.frames.map(({ name }) => name).join(", ");
      return `${names}: waiting for ${event.waiting.for}.`;
    }
  }
}

/** A job that watched itself would take its own copies for new frames. */
function refuseFolder(watched: string, job: string): void {
  const way = relative(resolve(job), resolve(watched));
  const isInside = way === "" || (way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way));
  if (isAbsolute(watched) && !isInside) return;
  throw new ToolError("E_WATCH_FOLDER", {
    problem: isInside
      ? "the folder to be watched is the job's own, or lies in it"
      : "expected the whole path of a folder, from the top of the disk",
    fix: "Give the folder that the camera's computer writes to, with its whole path",
    place: { file: watched },
  });
}
