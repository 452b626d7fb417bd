// serve: files of an inbox that nobody has read yet → read beside the server, and what came of it kept beside each.
import { isDeepStrictEqual } from "node:util";
import { ToolError } from "../core/errors.js";
import { sidecarNames } from "../frames/choose-scale.js";
import { type About, droppedPath, readAbouts, writeAbouts } from "./dropped-about.js";
import { type FoundScale, findScale, scaleOf } from "./dropped-scale.js";
import { errorWords } from "./error-words.js";
import { type FolderTurns, GatheredTurns } from "./folder-turns.js";
import { isUnread } from "./show-inbox.js";
import { WorkCancelled, type WorkProcess } from "./work-process.js";
import type { DroppedFile, Works } from "./works.js";

/** What is kept of a file that is no frame. */
export const NO_FRAME = Object.freeze({ frame: null, notes: [], error: null });

/** What reading gave is written for many files at a time: the disk is waited for once. It can be read anew if it is
 *  lost. */
const GATHER = Object.freeze({ waitMs: 30, most: 64 });

/** A file that was read, with the scale by which it was. */
interface ReadFile {
  readonly sha256: string;
  readonly scale: FoundScale;
  readonly read: Works["readDropped"]["output"];
}

interface ReaderOptions {
  readonly quick: WorkProcess;
  readonly turns: FolderTurns;
  readonly toolVersion: string;
  /** Told whenever something was read, and whether it was the last of what there was to read. */
  readonly onRead: (job: string, folder: string, isLast: boolean) => void;
}

/** Reads what lies in inboxes. */
export class InboxReader {
  readonly #options: ReaderOptions;
  readonly #reading = new Set<string>();
  readonly #keeping: GatheredTurns<ReadFile, boolean>;
  #closed = false;

  constructor(options: ReaderOptions) {
    this.#options = options;
    this.#keeping = new GatheredTurns(options.turns, (folder, files) => this.#keep(folder, files), GATHER);
  }

  /** Read a file, unless that is under way; what comes of it is kept.
   *  @param stamp of the file when its bytes were hashed; absent: nobody here has hashed them. */
  read(job: string, folder: string, sha256: string, stamp?: string): void {
    const key = `${folder} ${sha256}`;
    if (this.#reading.has(key) || this.#closed) return;
    this.#reading.add(key);
    void this.#readNow(folder, sha256, stamp)
      .catch((error) => {
        // A word for people has been said to whoever looked at the inbox.
        if (!(error instanceof WorkCancelled || error instanceof ToolError))
          process.stderr.write(`${(error as Error).stack}\n`);
      })
      .finally(() => {
        this.#reading.delete(key);
        this.#options.onRead(job, folder, this.#reading.size === 0);
      });
  }

  /** A scale file has come: the pictures that it belongs to are read again. */
  async readPicturesOf(job: string, folder: string, scaleName: string): Promise<void> {
    const { turns } = this.#options;
    await turns.run(folder, async () => {
      // A scale file would itself be the one beside a picture of its name without an ending.
      const pictures = [...(await readAbouts(folder)).values()].filter(
        ({ ending, names }) =>
          ending !== ".json" && names.some((name) => sidecarNames(name).includes(scaleName)),
      );
      await writeAbouts(
        folder,
        pictures.map((about) => ({ ...about, read: null })),
      );
      for (const { sha256 } of pictures) this.read(job, folder, sha256);
    });
  }

  /** Nothing more is read. */
  close(): void {
    this.#closed = true;
  }

  async #readNow(folder: string, sha256: string, stamp: string | undefined): Promise<void> {
    const { turns, toolVersion } = this.#options;
    let again = true;
    while (again && !this.#closed) {
      const abouts = await turns.run(folder, () => readAbouts(folder));
      const before = abouts.get(sha256);
      if (before === undefined || !isUnread(before, toolVersion)) return;
      const received = stamp === undefined ? undefined : { sha256, stamp };
      const scale = await findScale(folder, before, abouts);
      const read =
        "error" in scale
          ? { ...NO_FRAME, sort: "unreadable" as const, error: scale.error }
          : await this.#readOne({ ...besideIn(folder, before, scale.beside), received });
      again = await this.#keeping.run(folder, { sha256, scale, read });
    }
  }

  /** @returns for each file whether it has to be read again. */
  async #keep(folder: string, files: readonly ReadFile[]): Promise<boolean[]> {
    const abouts = await readAbouts(folder);
    const changed: About[] = [];
    const again: boolean[] = [];
    for (const { sha256, scale, read } of files) {
      const now = abouts.get(sha256);
      // A scale may have come, or have been said, meanwhile.
      const isStale = now !== undefined && !isDeepStrictEqual(await findScale(folder, now, abouts), scale);
      if (now !== undefined && !isStale)
        changed.push({ ...now, read: { ...read, tool: this.#options.toolVersion } });
      again.push(isStale);
    }
    await writeAbouts(folder, changed);
    return again;
  }

  async #readOne(dropped: DroppedFile): Promise<Works["readDropped"]["output"]> {
    try {
      return await this.#options.quick.run("readDropped", dropped);
    } catch (error) {
      if (!(error instanceof ToolError)) throw error;
      return { ...NO_FRAME, sort: "unreadable", error: errorWords(error) };
    }
  }
}

/** A file of the inbox as work sees it. @throws ToolError those of `scaleOf` */
export async function droppedFile(
  folder: string,
  about: About,
  abouts: ReadonlyMap<string, About>,
): Promise<DroppedFile> {
  return besideIn(folder, about, await scaleOf(folder, about, abouts));
}

function besideIn(folder: string, about: About, beside: DroppedFile["beside"]): DroppedFile {
  return { path: droppedPath(folder, about), name: about.names[0]!, beside };
}
