// serve: what is known of a file in an inbox ↔ the small file beside it that says so.
import { readdir, readFile, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import { inboxFileSchema } from "../api/inbox-schema.js";
import { writeFileAtomic } from "../report/write-file-atomic.js";

/** Folder of a job for what was dropped on it. */
export const INBOX = "inbox";
/** Begins of names of what is being received, and of what is being taken into an attempt. */
export const RECEIVING = ".receiving-";
export const TAKING = ".taking-";

/** What is kept of a dropped file beside its bytes. */
export const aboutSchema = z.object({
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

const known = new Map<string, { readonly stamp: string; readonly about: About }>();

/** Read what is known of all files in an inbox. A file without its bytes was never whole, and is left out; what another
 *  program put there is left alone. */
export async function readAbouts(folder: string): Promise<Map<string, About>> {
  const names = await readdir(join(folder, INBOX)).catch(() => []);
  const there = new Set(names);
  const abouts = await Promise.all(
    names.flatMap((name) => (ABOUT.test(name) ? [readAbout(join(folder, INBOX, name))] : [])),
  );
  return new Map(
    abouts.flatMap((about) =>
      about !== null && there.has(`${about.sha256}${about.ending}`) ? [[about.sha256, about] as const] : [],
    ),
  );
}

async function readAbout(path: string): Promise<About | null> {
  try {
    const { mtimeMs, size, ino } = await stat(path);
    const stamp = `${mtimeMs} ${size} ${ino}`;
    const before = known.get(path);
    if (before?.stamp === stamp) return before.about;
    const about = aboutSchema.parse(JSON.parse(await readFile(path, "utf8")));
    known.set(path, { stamp, about });
    return about;
  } catch {
    return null;
  }
}

/** Write what is known of a file, whole and flushed. @throws the system's error */
export function writeAbout(folder: string, about: About): Promise<void> {
  return writeFileAtomic(aboutPath(folder, about.sha256), `${JSON.stringify(about, null, 2)}\n`);
}

/** Remove a dropped file: what is known of it last, so that it can be removed again after a crash. */
export async function removeDropped(folder: string, about: About): Promise<void> {
  await rm(droppedPath(folder, about), { force: true });
  await rm(aboutPath(folder, about.sha256), { force: true });
  known.delete(aboutPath(folder, about.sha256));
}

/** Remove what a run that was killed has left half received or half taken. Other runs are given their time.
 *  @param ageMs of what is removed. */
export async function sweepInbox(folder: string, ageMs = 3_600_000): Promise<void> {
  for (const name of await readdir(join(folder, INBOX)).catch(() => [])) {
    const isHalf = name.startsWith(RECEIVING) || name.startsWith(TAKING) || /^\..*\.tmp$/.test(name);
    if (!isHalf) continue;
    const path = join(folder, INBOX, name);
    const info = await stat(path).catch(() => null);
    if (info !== null && Date.now() - info.mtimeMs > ageMs) await rm(path, { recursive: true, force: true });
  }
}
