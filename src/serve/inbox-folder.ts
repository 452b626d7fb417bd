// serve: what is dropped on a job → its inbox: kept, read, told apart, corrected, removed.
import { randomUUID } from "node:crypto";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { isDeepStrictEqual } from "node:util";
import type { ChangeMany, Inbox, InboxFile } from "../api/inbox-schema.js";
import { ToolError } from "../core/errors.js";
import { sidecarNames } from "../frames/choose-scale.js";
import { momentOf } from "../job/moment-of.js";
import { DISK } from "../store/storage.js";
import { type BenchLimits, noneError } from "./bench-context.js";
import { readBenchSettings, writeLastScale } from "./bench-settings.js";
import {
  type About,
  droppedPath,
  INBOX,
  RECEIVING,
  readAbouts,
  removeDropped,
  sweepInbox,
  writeAbout,
} from "./dropped-about.js";
import { cleanName, endingOf } from "./dropped-name.js";
import { scaleOf } from "./dropped-scale.js";
import { errorWords } from "./error-words.js";
import type { EventHub } from "./event-hub.js";
import { framesInJob } from "./frames-in-job.js";
import { sortOfJson } from "./json-sort.js";
import { receiveFile } from "./receive-file.js";
import { isUnread, showInbox } from "./show-inbox.js";
import { WorkCancelled, type WorkProcess } from "./work-process.js";
import type { DroppedFile } from "./works.js";

/** How long changes are gathered before they are told, ms: a burst drops many files a second. */
const GATHER_MS = 120;
/** JSON up to this size is looked into at once, bytes: scales, views and most maps. */
const SMALL_JSON_BYTES = 256 * 1024;
const NO_FRAME = Object.freeze({ frame: null, notes: [], error: null });

/** The inboxes of all jobs. */
export class InboxFolder {
  readonly #quick: WorkProcess;
  readonly #events: EventHub;
  readonly #toolVersion: string;
  readonly #jobsFolder: string;
  /** Changes of one inbox come one after the other. */
  readonly #turns = new Map<string, Promise<unknown>>();
  readonly #reading = new Set<string>();
  readonly #told = new Map<string, Map<string, string>>();
  readonly #timers = new Map<string, NodeJS.Timeout>();
  readonly #swept = new Set<string>();
  #closed = false;

  constructor(options: { quick: WorkProcess; events: EventHub; toolVersion: string; jobsFolder: string }) {
    this.#quick = options.quick;
    this.#events = options.events;
    this.#toolVersion = options.toolVersion;
    this.#jobsFolder = options.jobsFolder;
  }

  /** All files in the inbox of a job, in natural order of their names. What is not read yet gets read. */
  async list(job: string, folder: string): Promise<Inbox> {
    if (!this.#swept.has(folder)) {
      this.#swept.add(folder);
      await sweepInbox(folder);
    }
    const abouts = await this.#abouts(folder);
    const files = showInbox(abouts, await framesInJob(folder), this.#toolVersion);
    for (const about of abouts.values())
      if (isUnread(about, this.#toolVersion)) this.#read(job, folder, about.sha256);
    return { files, lastScale: (await readBenchSettings(this.#jobsFolder)).lastScale };
  }

  /** Take a file in: when this is done, it is on the disk. The same bytes again only add a name.
   *  @throws ToolError those of `receiveFile`, E_JOB_WRITE */
  async add(
    job: string,
    folder: string,
    given: string,
    body: ReadableStream<Uint8Array> | null,
    limits: BenchLimits,
  ): Promise<InboxFile> {
    const name = cleanName(given);
    await mkdir(join(folder, INBOX), { recursive: true }).catch((error) => {
      throw writeError(error, folder);
    });
    const received = join(folder, INBOX, `${RECEIVING}${randomUUID()}`);
    const { sha256, bytes } = await receiveFile(body, received, limits);
    // Small JSON is told at once, so that a scale is there as soon as its file is.
    const json = bytes <= SMALL_JSON_BYTES ? await sortOfJson(received, name) : null;
    const read = json === null ? null : { ...NO_FRAME, sort: json, tool: this.#toolVersion };
    await this.#inTurn(folder, async () => {
      const before = (await readAbouts(folder)).get(sha256);
      const about: About =
        before === undefined
          ? {
              kind: "faultglow/dropped",
              version: 1,
              sha256,
              names: [name],
              bytes,
              at: momentOf(new Date()),
              said: null,
              scale: null,
              ending: endingOf(name),
              read,
            }
          : { ...before, names: [...new Set([...before.names, name])], read: before.read ?? read };
      // What is known of it goes first: bytes without it would have lost their name in a crash.
      await writeAbout(folder, about);
      await DISK.rename(received, droppedPath(folder, about));
    }).catch(async (error) => {
      await DISK.remove(received);
      throw error instanceof ToolError ? error : writeError(error, folder);
    });
    if (json === "scale") await this.#readPicturesOf(job, folder, name);
    else this.#read(job, folder, sha256);
    this.#tellSoon(job, folder);
    const file = showInbox(await this.#abouts(folder), await framesInJob(folder), this.#toolVersion).find(
      (one) => one.sha256 === sha256,
    );
    if (file === undefined) throw noneError("the file was removed while it came");
    return file;
  }

  /** Say roles or scales of files. @throws ToolError E_BENCH_NONE if one of them is not there */
  async change(job: string, folder: string, { files, role, scale }: ChangeMany): Promise<Inbox> {
    await this.#inTurn(folder, async () => {
      const abouts = await readAbouts(folder);
      const chosen = files.map((sha256) => abouts.get(sha256) ?? missing());
      for (const about of chosen) {
        await writeAbout(folder, {
          ...about,
          ...(role === undefined ? {} : { said: role }),
          ...(scale === undefined ? {} : { scale, read: null }),
        });
      }
    });
    if (scale !== undefined && scale !== null) await writeLastScale(this.#jobsFolder, scale);
    this.#tellSoon(job, folder);
    return this.list(job, folder);
  }

  /** Remove a file. @throws ToolError E_BENCH_NONE */
  async remove(job: string, folder: string, sha256: string): Promise<void> {
    await this.#inTurn(folder, async () => {
      await removeDropped(folder, (await readAbouts(folder)).get(sha256) ?? missing());
    });
    this.#tellSoon(job, folder);
  }

  /** A file as work sees it. @throws ToolError E_BENCH_NONE */
  async dropped(folder: string, sha256: string): Promise<DroppedFile> {
    const abouts = await this.#abouts(folder);
    const about = abouts.get(sha256) ?? missing();
    return {
      path: droppedPath(folder, about),
      name: about.names[0]!,
      beside: await scaleOf(folder, about, abouts),
    };
  }

  /** Nothing more is read. */
  close(): void {
    this.#closed = true;
    for (const timer of this.#timers.values()) clearTimeout(timer);
  }

  /** Read a file beside the server, and keep what came of it. */
  #read(job: string, folder: string, sha256: string): void {
    const key = `${folder} ${sha256}`;
    if (this.#reading.has(key) || this.#closed) return;
    this.#reading.add(key);
    void this.#readNow(job, folder, sha256)
      .catch((error) => {
        if (!(error instanceof WorkCancelled)) process.stderr.write(`${(error as Error).stack}\n`);
      })
      .finally(() => this.#reading.delete(key));
  }

  async #readNow(job: string, folder: string, sha256: string): Promise<void> {
    let again = true;
    while (again && !this.#closed) {
      const before = (await this.#abouts(folder)).get(sha256);
      if (before === undefined || !isUnread(before, this.#toolVersion)) return;
      const dropped = await this.dropped(folder, sha256);
      const read = await this.#readOne(dropped);
      again = await this.#inTurn(folder, async () => {
        const abouts = await readAbouts(folder);
        const now = abouts.get(sha256);
        if (now === undefined) return false;
        // A scale may have come, or have been said, meanwhile.
        if (!isDeepStrictEqual(await scaleOf(folder, now, abouts), dropped.beside)) return true;
        await writeAbout(folder, { ...now, read: { ...read, tool: this.#toolVersion } });
        return false;
      });
      this.#tellSoon(job, folder);
    }
  }

  async #readOne(dropped: DroppedFile) {
    try {
      return await this.#quick.run("readDropped", dropped);
    } catch (error) {
      if (!(error instanceof ToolError)) throw error;
      return { ...NO_FRAME, sort: "unreadable" as const, error: errorWords(error) };
    }
  }

  /** A scale file has come: the pictures that it belongs to are read again. */
  async #readPicturesOf(job: string, folder: string, scaleName: string): Promise<void> {
    await this.#inTurn(folder, async () => {
      for (const about of (await readAbouts(folder)).values()) {
        // A scale file would itself be the one beside a picture of its name without an ending.
        if (about.ending === ".json") continue;
        if (!about.names.some((name) => sidecarNames(name).includes(scaleName))) continue;
        await writeAbout(folder, { ...about, read: null });
        this.#read(job, folder, about.sha256);
      }
    });
  }

  /** Tell what changed since it was last told. */
  #tellSoon(job: string, folder: string): void {
    if (this.#timers.has(folder) || this.#closed) return;
    this.#timers.set(
      folder,
      setTimeout(async () => {
        this.#timers.delete(folder);
        const attempts = await framesInJob(folder).catch(() => new Map<string, number[]>());
        const files = showInbox(await this.#abouts(folder), attempts, this.#toolVersion);
        const before = this.#told.get(folder) ?? new Map<string, string>();
        const now = new Map(files.map((file) => [file.sha256, JSON.stringify(file)]));
        this.#told.set(folder, now);
        const changed = files.filter(({ sha256 }) => now.get(sha256) !== before.get(sha256));
        const removed = [...before.keys()].filter((sha256) => !now.has(sha256));
        if (changed.length + removed.length > 0)
          this.#events.tell({ type: "inbox", job, files: changed, removed });
      }, GATHER_MS),
    );
  }

  /** What is known of all files, while none of it is being written: a folder that is listed during a renaming may seem to
   *  lack the file. */
  #abouts(folder: string): Promise<Map<string, About>> {
    return this.#inTurn(folder, () => readAbouts(folder));
  }

  #inTurn<Out>(folder: string, work: () => Promise<Out>): Promise<Out> {
    const turn = (this.#turns.get(folder) ?? Promise.resolve()).then(work, work);
    this.#turns.set(
      folder,
      turn.catch(() => {}),
    );
    return turn;
  }
}

function missing(): never {
  throw noneError("there is no such file in the inbox");
}

function writeError(error: unknown, file: string): ToolError {
  return new ToolError("E_JOB_WRITE", {
    problem: `the job's folder can't be written to: ${(error as Error).message}`,
    fix: "Free some space, or check the folder's permissions",
    place: { file },
  });
}
