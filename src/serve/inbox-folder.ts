// serve: what is dropped on a job → its inbox: kept, read, told apart, corrected, removed.
import { randomUUID } from "node:crypto";
import { join } from "node:path";
import { isDeepStrictEqual } from "node:util";
import type { ChangeMany, Inbox, InboxFile } from "../api/inbox-schema.js";
import { ToolError } from "../core/errors.js";
import { sidecarNames } from "../frames/choose-scale.js";
import { momentOf } from "../job/moment-of.js";
import { makeInJob } from "../store/make-in-job.js";
import { DISK } from "../store/storage.js";
import { jobWriteError } from "../store/store-error.js";
import { type BenchLimits, noneError } from "./bench-context.js";
import { readBenchSettings, writeLastScale } from "./bench-settings.js";
import {
  type About,
  droppedPath,
  INBOX,
  placeDropped,
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
import { InboxTeller } from "./inbox-teller.js";
import { sortOfJson } from "./json-sort.js";
import { receiveFile } from "./receive-file.js";
import { isUnread, showInbox } from "./show-inbox.js";
import { WorkCancelled, type WorkProcess } from "./work-process.js";
import type { DroppedFile } from "./works.js";

/** JSON up to this size is looked into at once, bytes: scales, views and most maps. */
const SMALL_JSON_BYTES = 256 * 1024;
const NO_FRAME = Object.freeze({ frame: null, notes: [], error: null });

/** The inboxes of all jobs. */
export class InboxFolder {
  readonly #quick: WorkProcess;
  readonly #teller: InboxTeller;
  readonly #toolVersion: string;
  readonly #jobsFolder: string;
  /** Changes of one inbox come one after the other. */
  readonly #turns = new Map<string, Promise<unknown>>();
  readonly #reading = new Set<string>();
  readonly #swept = new Set<string>();
  #closed = false;

  constructor(options: { quick: WorkProcess; events: EventHub; toolVersion: string; jobsFolder: string }) {
    this.#quick = options.quick;
    this.#teller = new InboxTeller(options.events, async (folder) =>
      showInbox(
        await this.#abouts(folder),
        await framesInJob(folder).catch(() => new Map<string, number[]>()),
        this.#toolVersion,
      ),
    );
    this.#toolVersion = options.toolVersion;
    this.#jobsFolder = options.jobsFolder;
  }

  /** All files in the inbox of a job, in natural order of their names. What is not read yet gets read.
   *  @throws ToolError E_JOB_KIND where a newer version of the tool has put files there. */
  async list(job: string, folder: string): Promise<Inbox> {
    if (!this.#swept.has(folder)) {
      this.#swept.add(folder);
      await sweepInbox(folder);
      // Whoever looks at an inbox is about to drop frames: the process that reads them takes a moment to begin.
      this.#quick.run("ready", null).catch(() => {});
    }
    const abouts = await this.#abouts(folder);
    const files = showInbox(abouts, await framesInJob(folder), this.#toolVersion);
    for (const about of abouts.values())
      if (isUnread(about, this.#toolVersion)) this.#read(job, folder, about.sha256);
    return { files, lastScale: (await readBenchSettings(this.#jobsFolder)).lastScale };
  }

  /** Take a file in: when this is done, it is on the disk. The same bytes again only add a name.
   *  @throws ToolError those of `receiveFile`, E_JOB_KIND, E_JOB_WRITE */
  async add(
    job: string,
    folder: string,
    given: string,
    body: ReadableStream<Uint8Array> | null,
    limits: BenchLimits,
  ): Promise<InboxFile> {
    const name = cleanName(given);
    const receiving = await makeInJob(folder, INBOX, RECEIVING).catch((error) => {
      throw jobWriteError(folder, error);
    });
    const received = join(receiving, randomUUID());
    const { sha256, bytes } = await receiveFile(body, received, limits);
    // Small JSON is told at once, so that a scale is there as soon as its file is.
    const json = bytes <= SMALL_JSON_BYTES ? await sortOfJson(received, name) : null;
    const read = json === null ? null : { ...NO_FRAME, sort: json, tool: this.#toolVersion };
    const about = await this.#inTurn(folder, async () => {
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
      await placeDropped(folder, about, received);
      return about;
    }).catch(async (error) => {
      await DISK.remove(received);
      throw error instanceof ToolError ? error : jobWriteError(folder, error);
    });
    if (json === "scale") await this.#readPicturesOf(job, folder, name);
    else this.#read(job, folder, sha256);
    this.#teller.soon(job, folder);
    // What was read already has a role, which depends on the others; hundreds of new files would each ask for all of them.
    const shown = about.read?.frame ? await this.#abouts(folder) : new Map([[sha256, about]]);
    const file = showInbox(shown, await framesInJob(folder), this.#toolVersion).find(
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
    this.#teller.soon(job, folder);
    return this.list(job, folder);
  }

  /** Remove a file. @throws ToolError E_BENCH_NONE */
  async remove(job: string, folder: string, sha256: string): Promise<void> {
    await this.#inTurn(folder, async () => {
      await removeDropped(folder, [(await readAbouts(folder)).get(sha256) ?? missing()]);
    });
    this.#teller.soon(job, folder);
  }

  /** Remove the files of an attempt; what was removed by hand meanwhile is gone already. */
  async removeTaken(job: string, folder: string, taken: readonly string[]): Promise<void> {
    await this.#inTurn(folder, async () => {
      const abouts = await readAbouts(folder);
      await removeDropped(
        folder,
        [...new Set(taken)].flatMap((sha256) => abouts.get(sha256) ?? []),
      );
    });
    this.#teller.soon(job, folder);
  }

  /** A file as work sees it. @throws ToolError E_BENCH_NONE */
  async dropped(folder: string, sha256: string): Promise<DroppedFile> {
    return (await this.droppedAll(folder, [sha256]))[0]!;
  }

  /** Files as work sees them, in the order asked for. @throws ToolError E_BENCH_NONE */
  async droppedAll(folder: string, files: readonly string[]): Promise<DroppedFile[]> {
    const abouts = await this.#abouts(folder);
    const dropped: DroppedFile[] = [];
    for (const sha256 of files) {
      const about = abouts.get(sha256) ?? missing();
      const beside = await scaleOf(folder, about, abouts);
      dropped.push({ path: droppedPath(folder, about), name: about.names[0]!, beside });
    }
    return dropped;
  }

  /** Nothing more is read. */
  close(): void {
    this.#closed = true;
    this.#teller.close();
  }

  /** Read a file beside the server, and keep what came of it. */
  #read(job: string, folder: string, sha256: string): void {
    const key = `${folder} ${sha256}`;
    if (this.#reading.has(key) || this.#closed) return;
    this.#reading.add(key);
    void this.#readNow(job, folder, sha256)
      .catch((error) => {
        // A word for people has been said to whoever looked at the inbox.
        if (!(error instanceof WorkCancelled || error instanceof ToolError))
          process.stderr.write(`${(error as Error).stack}\n`);
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
      this.#teller.soon(job, folder);
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

  /** What is known of all files, while none of it is being written: a folder that is listed during a renaming may seem to
   *  lack the file. */
  #abouts(folder: string): Promise<ReadonlyMap<string, About>> {
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
