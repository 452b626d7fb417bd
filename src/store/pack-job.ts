// store: a job folder → one zip file to hand over, the same bytes for the same job and version.
import { createHash } from "node:crypto";
import { basename, dirname, join } from "node:path";
import { Zip, ZipDeflate, ZipPassThrough } from "fflate";
import { ToolError } from "../core/errors.js";
import { diskReason } from "../report/output-error.js";
import { checkJob } from "./check-job.js";
import { jobFiles } from "./job-files.js";
import { JOURNAL_FILE, pathIn } from "./job-paths.js";
import { packExtras } from "./pack-extras.js";
import { PACK_LIMITS, type PackLimits, packError } from "./pack-limits.js";
import { readJournal } from "./read-journal.js";
import { withStage } from "./stage.js";
import type { Storage } from "./storage.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";

/** A pack that was made. */
export interface Packed {
  readonly file: string;
  /** Files of the job; beside them come the list and, if it could be made, the report. */
  readonly files: number;
  /** Why the pack has no report, and what to do; null where it has one. */
  readonly noReport: string | null;
  readonly bytes: number;
  readonly sha256: string;
  /** Hash of the journal's last line. */
  readonly seal: string;
}

/** Written at a time, bytes. */
const CHUNK = 8 * 1024 * 1024;

/** Pack a job: its files and nothing else that lies in its folder, by name, with one date, under one folder that is
 *  named after the job's id; beside them its report, made anew if it can be, and a list of what is what (`packExtras`).
 *  Frames that are PNG are stored as they are, all else is deflated.
 *  @param file zip to write; one that is there is replaced, whole.
 *  @throws ToolError E_JOB_PACK if the job is not sound or larger than a pack may be; E_JOB_WRITE; those of opening.
 */
export async function packJob(
  folder: string,
  file: string,
  options: Partial<StoreOptions> & { readonly limits?: Partial<PackLimits> } = {},
): Promise<Packed> {
  const { limits: given, ...rest } = options;
  const o = { ...STORE_DEFAULTS, ...rest };
  const limits = { ...PACK_LIMITS, ...given };
  const check = await checkJob(folder, { ...o, recompute: false });
  const bad = check.problems.find(({ severity }) => severity === "error");
  if (bad !== undefined) throw packError(`the job is not sound: ${bad.text}`, folder, UNSOUND);
  return wordErrors(folder, async () => {
    const { header, journal } = await readJournal(folder, o.storage);
    const names = await jobFiles(folder, journal.entries, o.storage);
    const refuseMany = (count: number): void => {
      if (count <= limits.files) return;
      const found = `this job's would have ${count} with its report and the list`;
      throw packError(`a pack holds ${limits.files} files, ${found}`, folder, TOO_LARGE);
    };
    // The list comes in any case; whether the report does is known once it was made.
    refuseMany(names.length + 1);
    const { files: extras, noReport } = await packExtras(folder, names, o);
    const all = [...extras.keys(), ...names].sort();
    refuseMany(all.length);
    // A line that is being written, or was cut short, is no part of the job yet.
    const read = (name: string): Promise<Uint8Array> =>
      wordErrors(folder, async () => {
        const extra = extras.get(name);
        if (extra !== undefined) return extra;
        const bytes = await o.storage.read(pathIn(folder, name));
        return name === JOURNAL_FILE ? bytes.subarray(0, journal.length) : bytes;
      });
    const job = { top: `faultglow-job-${header.id}`, names: all, read, folder };
    const target = join(dirname(file), basename(file));
    return wordWriting(file, () =>
      withStage(dirname(target), o, async (stage) => {
        const ready = join(stage, "pack.zip");
        const zip = await writeZip(ready, job, limits, o.storage);
        await o.storage.rename(ready, target);
        return { file, files: names.length, noReport, ...zip, seal: journal.seal };
      }),
    );
  });
}

/** Write a zip; what the disk refuses is said of the zip, and not of the job that is read. */
async function wordWriting<Out>(file: string, work: () => Promise<Out>): Promise<Out> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof ToolError || (error as NodeJS.ErrnoException).syscall === undefined) throw error;
    throw new ToolError("E_JOB_WRITE", {
      problem: `expected to write the pack, but ${diskReason(error)}`,
      fix: "Give --out a file in a folder that you may write to, on a disk with room",
      place: { file },
    });
  }
}

const UNSOUND = "See all problems with faultglow job check; a damaged job can be handed over as a folder";
const TOO_LARGE = "Hand over the folder as it is";

async function writeZip(
  file: string,
  job: {
    readonly top: string;
    readonly names: readonly string[];
    readonly read: (name: string) => Promise<Uint8Array>;
    readonly folder: string;
  },
  limits: PackLimits,
  storage: Storage,
): Promise<{ bytes: number; sha256: string }> {
  const chunks: Uint8Array[] = [];
  let failure: Error | null = null;
  const zip = new Zip((error, chunk) => {
    if (error !== null) failure = error;
    else chunks.push(chunk);
  });
  const hash = createHash("sha256");
  let bytes = 0;
  const refuse = (what: string, most: number): never => {
    throw packError(`${what} may have ${most} bytes, this job's has more`, job.folder, TOO_LARGE);
  };
  const flush = async (least: number): Promise<void> => {
    if (failure !== null) throw failure;
    if (chunks.reduce((sum, chunk) => sum + chunk.length, 0) < least) return;
    const some = Buffer.concat(chunks.splice(0));
    bytes += some.length;
    if (bytes > limits.zipBytes) refuse("a pack", limits.zipBytes);
    hash.update(some);
    await storage.append(file, some);
  };
  // Of local time, which is what a zip holds: the same everywhere.
  const mtime = new Date(1980, 0, 1);
  let total = 0;
  await storage.create(file, new Uint8Array());
  for (const name of job.names) {
    const contents = await job.read(name);
    total += contents.length;
    if (contents.length > limits.fileBytes) refuse(`${name} in a pack`, limits.fileBytes);
    if (total > limits.bytes) refuse("what is packed", limits.bytes);
    const path = `${job.top}/${name}`;
    const entry = name.endsWith(".png") ? new ZipPassThrough(path) : new ZipDeflate(path, { level: 6 });
    entry.mtime = mtime;
    zip.add(entry);
    entry.push(contents, true);
    await flush(CHUNK);
  }
  zip.end();
  await flush(0);
  return { bytes, sha256: hash.digest("hex") };
}
