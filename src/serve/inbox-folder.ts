// serve: what is dropped on a job → its inbox: kept, read, told apart, corrected, removed.
import { randomUUID } from "node:crypto";
import { join } from "node:path";
import type { ChangeMany, Inbox, InboxFile } from "../api/inbox-schema.js";
import { ToolError } from "../core/errors.js";
import { makeInJob } from "../store/make-in-job.js";
import { DISK } from "../store/storage.js";
import { jobWriteError } from "../store/store-error.js";
import { type BenchLimits, noneError } from "./bench-context.js";
import { readBenchSettings, writeLastScale } from "./bench-settings.js";
import {
  type About,
  INBOX,
  RECEIVING,
  readAbouts,
  removeDropped,
  sweepInbox,
  writeAbouts,
} from "./dropped-about.js";
import { cleanName } from "./dropped-name.js";
import type { EventHub } from "./event-hub.js";
import { FolderTurns, GatheredTurns } from "./folder-turns.js";
import { framesInJob } from "./frames-in-job.js";
import { droppedFile, InboxReader, NO_FRAME } from "./inbox-reader.js";
import { InboxTeller } from "./inbox-teller.js";
import { sortOfJson } from "./json-sort.js";
import { type Arrived, placeArrived } from "./place-arrived.js";
import { receiveFile } from "./receive-file.js";
import { type Received, receiveMany } from "./receive-many.js";
import { isUnread, showInbox } from "./show-inbox.js";
import type { WorkProcess } from "./work-process.js";
import type { DroppedFile } from "./works.js";

/** JSON up to this size is looked into at once, bytes: scales, views and most maps. */
const SMALL_JSON_BYTES = 256 * 1024;
/** Files that came while others were being placed are placed in one go: the disk is waited for once. */
const PLACE_AT_ONCE = Object.freeze({ waitMs: 0, most: 64 });

/** Whoever looks at an inbox waits for the removal of no more files than this. */
const REMOVED_IN_A_TURN = 32;

/** The inboxes of all jobs. */
export class InboxFolder {
  readonly #quick: WorkProcess;
  readonly #teller: InboxTeller;
  readonly #toolVersion: string;
  readonly #jobsFolder: string;
  /** Changes of one inbox come one after the other; what comes at one time is placed together. */
  readonly #turns = new FolderTurns();
  readonly #placing: GatheredTurns<Arrived, About>;
  readonly #reader: InboxReader;
  readonly #swept = new Set<string>();
  readonly #removing = new Set<Promise<void>>();

  constructor(options: { quick: WorkProcess; events: EventHub; toolVersion: string; jobsFolder: string }) {
    this.#quick = options.quick;
    this.#teller = new InboxTeller(options.events, async (folder) =>
      showInbox(
        await this.#abouts(folder),
        await framesInJob(folder).catch(() => new Map<string, number[]>()),
        this.#toolVersion,
      ),
    );
    this.#reader = new InboxReader({
      ...options,
      turns: this.#turns,
      onRead: (job, folder, isLast) => this.#teller.soon(job, folder, isLast),
    });
    this.#placing = new GatheredTurns(this.#turns, placeArrived, PLACE_AT_ONCE);
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
      if (isUnread(about, this.#toolVersion)) this.#reader.read(job, folder, about.sha256);
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
    const receiving = await receivingIn(folder);
    const path = join(receiving, randomUUID());
    const received = { name: given, path, ...(await receiveFile(body, path, limits)) };
    const [about] = await this.#take(job, folder, [received]);
    const { sha256 } = received;
    // What was read already has a role, which depends on the others; hundreds of new files would each ask for all of
    // them.
    const shown = about!.read?.frame ? await this.#abouts(folder) : new Map([[sha256, about!]]);
    const file = showInbox(shown, await framesInJob(folder), this.#toolVersion).find(
      (one) => one.sha256 === sha256,
    );
    if (file === undefined) throw noneError("the file was removed while it came");
    return file;
  }

  /** Take several small files in: when this is done, all of them are on the disk, or none.
   *  @throws ToolError those of `receiveMany`, E_JOB_KIND, E_JOB_WRITE */
  async addMany(
    job: string,
    folder: string,
    body: ReadableStream<Uint8Array> | null,
    limits: BenchLimits,
  ): Promise<void> {
    await this.#take(job, folder, await receiveMany(body, await receivingIn(folder), limits));
  }

  /** Put received files into their places, and have them read. */
  async #take(job: string, folder: string, received: readonly Received[]): Promise<About[]> {
    const arrived = await Promise.all(received.map((one) => this.#look(one)));
    const abouts = await Promise.all(arrived.map((one) => this.#placing.run(folder, one))).catch(
      async (error) => {
        for (const { path } of received) await DISK.remove(path);
        throw error instanceof ToolError ? error : jobWriteError(folder, error);
      },
    );
    for (const [i, { name, sha256, read }] of arrived.entries()) {
      if (read?.sort === "scale") await this.#reader.readPicturesOf(job, folder, name);
      else this.#reader.read(job, folder, sha256, received[i]!.stamp);
    }
    this.#teller.soon(job, folder);
    return abouts;
  }

  /** Small JSON is told at once, so that a scale is there as soon as its file is. */
  async #look({ name: given, path, sha256, bytes }: Received): Promise<Arrived> {
    const name = cleanName(given);
    const json = bytes <= SMALL_JSON_BYTES ? await sortOfJson(path, name) : null;
    const read = json === null ? null : { ...NO_FRAME, sort: json, tool: this.#toolVersion };
    return { sha256, bytes, name, path, read };
  }

  /** Say roles or scales of files. @throws ToolError E_BENCH_NONE if one of them is not there */
  async change(job: string, folder: string, { files, role, scale }: ChangeMany): Promise<Inbox> {
    await this.#turns.run(folder, async () => {
      const abouts = await readAbouts(folder);
      const chosen = files.map((sha256) => abouts.get(sha256) ?? missing());
      await writeAbouts(
        folder,
        chosen.map((about) => ({
          ...about,
          ...(role === undefined ? {} : { said: role }),
          ...(scale === undefined ? {} : { scale, read: null }),
        })),
      );
    });
    if (scale !== undefined && scale !== null) await writeLastScale(this.#jobsFolder, scale);
    this.#teller.soon(job, folder);
    return this.list(job, folder);
  }

  /** Remove a file. @throws ToolError E_BENCH_NONE */
  async remove(job: string, folder: string, sha256: string): Promise<void> {
    await this.#turns.run(folder, async () => {
      await removeDropped(folder, [(await readAbouts(folder)).get(sha256) ?? missing()]);
    });
    this.#teller.soon(job, folder);
  }

  /** Remove the files of an attempt; what was removed by hand meanwhile is gone already. Others get their turn in
   *  between. */
  removeTaken(job: string, folder: string, taken: readonly string[]): Promise<void> {
    const removing = this.#removeSome(folder, [...new Set(taken)]).finally(() => {
      this.#removing.delete(removing);
      this.#teller.soon(job, folder);
    });
    this.#removing.add(removing);
    return removing;
  }

  async #removeSome(folder: string, files: readonly string[]): Promise<void> {
    for (let start = 0; start < files.length; start += REMOVED_IN_A_TURN)
      await this.#turns.run(folder, async () => {
        const abouts = await readAbouts(folder);
        const some = files.slice(start, start + REMOVED_IN_A_TURN);
        await removeDropped(
          folder,
          some.flatMap((sha256) => abouts.get(sha256) ?? []),
        );
      });
  }

  /** A file as work sees it. @throws ToolError E_BENCH_NONE */
  async dropped(folder: string, sha256: string): Promise<DroppedFile> {
    return (await this.droppedAll(folder, [sha256]))[0]!;
  }

  /** Files as work sees them, in the order asked for. @throws ToolError E_BENCH_NONE */
  async droppedAll(folder: string, files: readonly string[]): Promise<DroppedFile[]> {
    const abouts = await this.#abouts(folder);
    return Promise.all(files.map((sha256) => droppedFile(folder, abouts.get(sha256) ?? missing(), abouts)));
  }

  /** Nothing more is read; what is being removed is removed first. */
  async close(): Promise<void> {
    this.#reader.close();
    this.#teller.close();
    await Promise.allSettled(this.#removing);
  }

  /** What is known of all files, while none of it is being written: a folder that is listed during a renaming may seem
   *  to lack the file. */
  #abouts(folder: string): Promise<ReadonlyMap<string, About>> {
    return this.#turns.run(folder, () => readAbouts(folder));
  }
}

/** Folder for what is being received. @throws ToolError E_JOB_WRITE */
async function receivingIn(folder: string): Promise<string> {
  return makeInJob(folder, INBOX, RECEIVING).catch((error) => {
    throw jobWriteError(folder, error);
  });
}

function missing(): never {
  throw noneError("there is no such file in the inbox");
}
