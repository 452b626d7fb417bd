// store: a job folder → one zip file to hand over, the same bytes for the same job.
import { basename, dirname, join } from "node:path";
import { Zip, ZipDeflate, ZipPassThrough } from "fflate";
import { ToolError } from "../core/errors.js";
import { checkJob } from "./check-job.js";
import { jobFiles } from "./job-files.js";
import { JOURNAL_FILE, pathIn, sha256Of } from "./job-paths.js";
import { readJournal } from "./read-journal.js";
import { withStage } from "./stage.js";
import type { Storage } from "./storage.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";

/** A pack that was made. */
export interface Packed {
  readonly file: string;
  readonly files: number;
  readonly bytes: number;
  readonly sha256: string;
  /** Hash of the journal's last line. */
  readonly seal: string;
}

/** What a zip without its 64-bit extension can hold: PKWARE APPNOTE 4.4.8, 4.4.21. */
const MOST_BYTES = 0xffffffff;
const MOST_FILES = 0xffff;
/** Written at a time, bytes. */
const CHUNK = 8 * 1024 * 1024;

/** Pack a job: its files and nothing else that lies in its folder, by name, with one date, under one folder that is named
 *  after the job's id. Frames that are PNG are stored as they are, all else is deflated.
 *  @param file zip to write; one that is there is replaced, whole.
 *  @throws ToolError E_JOB_PACK if the job is not sound or too large for a zip; E_JOB_WRITE; those of opening.
 */
export async function packJob(
  folder: string,
  file: string,
  options: Partial<StoreOptions> = {},
): Promise<Packed> {
  const o = { ...STORE_DEFAULTS, ...options };
  const check = await checkJob(folder, { ...o, recompute: false });
  const bad = check.problems.find(({ severity }) => severity === "error");
  if (bad !== undefined) throw packError(`the job is not sound: ${bad.text}`, folder, UNSOUND);
  return wordErrors(folder, async () => {
    const { header, journal } = await readJournal(folder, o.storage);
    const names = await jobFiles(folder, journal.entries, o.storage);
    if (names.length > MOST_FILES)
      throw packError(`a zip holds ${MOST_FILES} files, this job has ${names.length}`, folder, TOO_LARGE);
    const target = join(dirname(file), basename(file));
    return withStage(dirname(target), o, async (stage) => {
      const ready = join(stage, "pack.zip");
      const read = async (name: string): Promise<Uint8Array> => {
        const bytes = await o.storage.read(pathIn(folder, name));
        // A line that is being written, or was cut short, is no part of the job yet.
        return name === JOURNAL_FILE ? bytes.subarray(0, journal.length) : bytes;
      };
      await writeZip(ready, `faultglow-job-${header.id}`, names, read, o.storage, folder);
      const whole = await o.storage.read(ready);
      await o.storage.rename(ready, target);
      const { length: bytes } = whole;
      return { file, files: names.length, bytes, sha256: sha256Of(whole), seal: journal.seal };
    });
  });
}

const UNSOUND = "See all problems with faultglow job check; a damaged job can be handed over as a folder";
const TOO_LARGE = "Hand over the folder as it is";

async function writeZip(
  file: string,
  top: string,
  names: readonly string[],
  read: (name: string) => Promise<Uint8Array>,
  storage: Storage,
  folder: string,
): Promise<void> {
  const chunks: Uint8Array[] = [];
  let failure: Error | null = null;
  const zip = new Zip((error, chunk) => {
    if (error !== null) failure = error;
    else chunks.push(chunk);
  });
  const flush = async (least: number): Promise<void> => {
    if (failure !== null) throw failure;
    if (chunks.reduce((sum, chunk) => sum + chunk.length, 0) < least) return;
    await storage.append(file, Buffer.concat(chunks.splice(0)));
  };
  // Of local time, which is what a zip holds: the same everywhere.
  const mtime = new Date(1980, 0, 1);
  let total = 0;
  await storage.create(file, new Uint8Array());
  for (const name of names) {
    const bytes = await read(name);
    total += bytes.length;
    if (total > MOST_BYTES)
      throw packError(`a zip holds ${MOST_BYTES} bytes, this job has more`, folder, TOO_LARGE);
    const path = `${top}/${name}`;
    const entry = name.endsWith(".png") ? new ZipPassThrough(path) : new ZipDeflate(path, { level: 6 });
    entry.mtime = mtime;
    zip.add(entry);
    entry.push(bytes, true);
    await flush(CHUNK);
  }
  zip.end();
  await flush(0);
}

/** Word an error of packs. */
export function packError(problem: string, file: string, fix: string): ToolError {
  return new ToolError("E_JOB_PACK", { problem, fix, place: { file } });
}
