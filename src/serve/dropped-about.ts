// serve: what is known of a file in an inbox ↔ the small file beside it that says so.
import { readdir, readFile, rm, stat, unlink } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import { inboxFileSchema } from "../api/inbox-schema.js";
import { ToolError } from "../core/errors.js";
import { writeFilesAtomic } from "../report/write-files-atomic.js";
import { DISK } from "../store/storage.js";
import { refuseNewer } from "./refuse-newer.js";

/** Folder of a job for what was dropped on it. */
export const INBOX = "inbox";
/** Folder in it for what is being received: the inbox itself changes only when a file is whole. */
export const RECEIVING = ".receiving";
/** Begin of names of what is being taken into an attempt. */
export const TAKING = ".taking-";

/** What is kept of a dropped file beside its bytes. */
const aboutSchema = z.object({
  kind: z.literal("faultglow/dropped"),
  version: z.literal(1),
  ...inboxFileSchema.pick({ sha256: true, names: true, bytes: true, at: true, said: true, scale: true })
    .shape,
  /** Ending of the kept file, with its dot. */
  ending: z.string().regex(/^\.[a-z0-9]{1,8}$/),
  /** What reading it gave, and by which version of the tool; null: not read yet. */
  read: inboxFileSchema
    .pick({ sort: true, frame: true, notes: true, error: true })
    .extend({ tool: z.string() })
    .nullable(),
});
export type About = z.infer<typeof aboutSchema>;

const ABOUT = /^([0-9a-f]{64})\.about\.json$/;

/** Paths of a dropped file. */
export const droppedPath = (folder: string, { sha256, ending }: Pick<About, "sha256" | "ending">): string =>
  join(folder, INBOX, `${sha256}${ending}`);
const aboutPath = (folder: string, sha256: string): string => join(folder, INBOX, `${sha256}.about.json`);

/** What was read of a folder, and the folder's stamp then. When it was, ms, is told by a clock that nobody sets
 *  back. */
interface KnownInbox {
  readonly stamp: string;
  readonly at: number;
  readonly abouts: ReadonlyMap<string, About>;
}
const inboxes = new Map<string, KnownInbox>();
const known = new Map<string, { readonly stamp: string; readonly about: About }>();
/** A folder whose stamp says that nothing changed is looked through again after this long, ms: two changes within one
 *  tick of the disk's clock have one stamp. */
const TRUST_MS = 2000;

/** Read what is known of all files in an inbox. A file without its bytes was never whole, and is left out; what another
 *  program put there is left alone. While hundreds of files come, each is read once: what this process itself changes
 *  is noted on the way.
 *  @throws ToolError E_JOB_KIND where a newer version of the tool has written one: it would be written over. */
export async function readAbouts(folder: string): Promise<ReadonlyMap<string, About>> {
  const stamp = await stampOf(folder);
  const before = inboxes.get(folder);
  if (before !== undefined && before.stamp === stamp && performance.now() - before.at < TRUST_MS)
    return before.abouts;
  const names = await readdir(join(folder, INBOX)).catch(() => []);
  const there = new Set(names);
  const read = await Promise.all(
    names.flatMap((name) => (ABOUT.test(name) ? [readAbout(join(folder, INBOX, name))] : [])),
  );
  const abouts = new Map(
    read.flatMap((about) =>
      about !== null && there.has(`${about.sha256}${about.ending}`) ? [[about.sha256, about] as const] : [],
    ),
  );
  inboxes.set(folder, { stamp, at: performance.now(), abouts });
  return abouts;
}

async function stampOf(folder: string): Promise<string> {
  const info = await stat(join(folder, INBOX), { bigint: true }).catch(() => null);
  return info === null ? "none" : `${info.mtimeNs} ${info.ino}`;
}

/** Change an inbox, and note what became of it if nobody else changed it since it was read. */
async function noting(
  folder: string,
  work: () => Promise<void>,
  change: (abouts: Map<string, About>) => void,
): Promise<void> {
  const before = inboxes.get(folder);
  const isFresh = before !== undefined && before.stamp === (await stampOf(folder));
  inboxes.delete(folder);
  await work();
  if (!isFresh) return;
  const abouts = new Map(before.abouts);
  change(abouts);
  inboxes.set(folder, { stamp: await stampOf(folder), at: before.at, abouts });
}

async function readAbout(path: string): Promise<About | null> {
  try {
    const { mtimeMs, size, ino } = await stat(path);
    const stamp = `${mtimeMs} ${size} ${ino}`;
    const before = known.get(path);
    if (before?.stamp === stamp) return before.about;
    const about = parseAbout(await readFile(path, "utf8"), path);
    if (about !== null) known.set(path, { stamp, about });
    return about;
  } catch (error) {
    if (error instanceof ToolError) throw error;
    return null;
  }
}

/** Read what is known of a dropped file; null for what is none of ours, or was torn.
 *  @throws ToolError E_JOB_KIND where a newer version of the tool has written it. */
export function parseAbout(text: string, file: string): About | null {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return null;
  }
  refuseNewer(value, "faultglow/dropped", file);
  return aboutSchema.safeParse(value).data ?? null;
}

/** Write what is known of files, each whole, all flushed. @throws the system's error */
export function writeAbouts(folder: string, changed: readonly About[]): Promise<void> {
  return noting(
    folder,
    () => putAbouts(folder, changed),
    (abouts) => noteAll(abouts, changed),
  );
}

/** A file that was received, and what is known of it. */
export interface ReceivedFile {
  readonly about: About;
  /** Where its bytes are, on the same disk. */
  readonly path: string;
}

/** Put received files into their places; many at a time, since the disk is waited for once. What is known of them goes
 *  first: bytes without it would have lost their name in a crash.
 *  @throws the system's error */
export function placeDropped(folder: string, received: readonly ReceivedFile[]): Promise<void> {
  const abouts = received.map(({ about }) => about);
  return noting(
    folder,
    async () => {
      await putAbouts(folder, abouts);
      await DISK.renameAll(received.map(({ about, path }) => [path, droppedPath(folder, about)] as const));
    },
    (known) => noteAll(known, abouts),
  );
}

function noteAll(abouts: Map<string, About>, changed: readonly About[]): void {
  for (const about of changed) abouts.set(about.sha256, about);
}

/** Remove dropped files: what is known of each last, so that it can be removed again after a crash. */
export function removeDropped(folder: string, dropped: readonly About[]): Promise<void> {
  return noting(
    folder,
    async () => {
      for (let start = 0; start < dropped.length; start += REMOVED_AT_ONCE)
        await Promise.all(
          dropped.slice(start, start + REMOVED_AT_ONCE).map((about) => removeOne(folder, about)),
        );
    },
    (abouts) => {
      for (const { sha256 } of dropped) abouts.delete(sha256);
    },
  );
}

/** Files of a burst that are removed at a time. */
const REMOVED_AT_ONCE = 16;

async function removeOne(folder: string, about: About): Promise<void> {
  const path = aboutPath(folder, about.sha256);
  await removeFile(droppedPath(folder, about));
  await removeFile(path);
  known.delete(path);
}

/** `rm` asks first what it is, and takes four times as long. */
async function removeFile(path: string): Promise<void> {
  await unlink(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== "ENOENT") throw error;
  });
}

/** Of two that are known of one file the later holds. */
function putAbouts(folder: string, abouts: readonly About[]): Promise<void> {
  const last = new Map(abouts.map((about) => [about.sha256, about]));
  return writeFilesAtomic(
    [...last.values()].map(
      (about) => [aboutPath(folder, about.sha256), `${JSON.stringify(about, null, 2)}\n`] as const,
    ),
  );
}

/** Remove what a run that was killed has left half received or half taken. Other runs are given their time.
 *  @param ageMs of what is removed. */
export async function sweepInbox(folder: string, ageMs = 3_600_000): Promise<void> {
  const inbox = join(folder, INBOX);
  const list = (at: string): Promise<string[]> => readdir(at).catch(() => []);
  const halves = [
    ...(await list(inbox)).filter((name) => name.startsWith(TAKING) || /^\..*\.tmp$/.test(name)),
    ...(await list(join(inbox, RECEIVING))).map((name) => join(RECEIVING, name)),
  ];
  for (const name of halves) {
    const path = join(inbox, name);
    const info = await stat(path).catch(() => null);
    if (info !== null && Date.now() - info.mtimeMs > ageMs) await rm(path, { recursive: true, force: true });
  }
}
