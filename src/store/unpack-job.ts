// store: a pack → the job folder that it was made of, the same bytes; nothing is trusted that stands in the zip.
import { stat } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { type UnzipFileInfo, unzipSync } from "fflate";
import { ToolError } from "../core/errors.js";
import { crc32 } from "../read/crc32.js";
import { readGiven } from "../read/read-given.js";
import { readReason } from "../read/read-reason.js";
import { checkJob } from "./check-job.js";
import { JOB_FILE, PACK_CONTENTS, PACK_REPORT, pathIn } from "./job-paths.js";
import { type OpenJob, openJob } from "./open-job.js";
import { PACK_LIMITS, type PackLimits, packError } from "./pack-limits.js";
import { sweepStages, withStage } from "./stage.js";
import type { Storage } from "./storage.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";
import { zipChecksums } from "./zip-checksums.js";

/** Names that a job has. Everything else in a zip is left where it is. */
const NAME =
  /^(?:job\.json|journal\.jsonl|boards\/[0-9a-f]{64}\.json|views\/[0-9a-f]{64}\.json|frames\/[0-9a-f]{64}\.[a-z0-9]{1,8}|attempts\/\d{3,9}\/[a-z-]+\.[a-z]+)$/;

/** A file of a zip that is wanted. */
interface Wanted extends UnzipFileInfo {
  /** CRC-32 by the zip's directory. */
  readonly checksum: number;
}

/** Unzipped at a time, bytes: so much of it is in memory beside the zip. */
const BATCH = 256 * 1024 * 1024;

/** What came of opening a pack. */
export interface Unpacked {
  readonly job: OpenJob;
  /** Files that were taken. */
  readonly files: number;
  /** Names in the zip that neither a job nor a pack has. */
  readonly leftOut: readonly string[];
}

/** Open a pack into a folder. The job appears under its name only when all of it is there and sound.
 *  @param folder does not exist yet, or is empty.
 *  @throws ToolError E_JOB_PACK if the file is no zip, holds no job, holds names that lead elsewhere, is larger than
 *    the limits, or its job is not sound; E_JOB_EXISTS; E_JOB_WRITE.
 */
export async function unpackJob(
  file: string,
  folder: string,
  options: Partial<StoreOptions> & { readonly limits?: Partial<PackLimits> } = {},
): Promise<Unpacked> {
  const zip = await readZip(file, options.limits?.zipBytes ?? PACK_LIMITS.zipBytes);
  return unpackBytes(zip, file, folder, options);
}

/** Open the bytes of a pack into a folder, as `unpackJob` does with its file.
 *  @param file its name, for errors.
 */
export async function unpackBytes(
  zip: Uint8Array,
  file: string,
  folder: string,
  options: Parameters<typeof unpackJob>[2] = {},
): Promise<Unpacked> {
  const { limits: given, ...rest } = options;
  const o = { ...STORE_DEFAULTS, ...rest };
  const limits = { ...PACK_LIMITS, ...given };
  const { wanted, leftOut } = listEntries(zip, file, limits);
  const target = resolve(folder);
  return wordErrors(folder, async () => {
    await refuseTaken(folder, o.storage);
    const parent = dirname(target);
    await o.storage.makeFolder(parent);
    await sweepStages(parent, o.storage);
    await withStage(parent, o, async (stage) => {
      const inside = join(stage, "job");
      await o.storage.makeFolder(inside);
      await extract(zip, wanted, inside, file, o.storage);
      const { problems } = await checkJob(inside, { ...o, recompute: false });
      const bad = problems.find(({ severity }) => severity === "error");
      // Its own path is of no use to anyone: it is gone in a moment.
      if (bad !== undefined)
        throw packError(
          `the job in it is not sound: ${bad.text.replaceAll(`${inside}/`, "")}`,
          file,
          DAMAGED,
        );
      await refuseTaken(folder, o.storage);
      await o.storage.rename(inside, target);
    });
    return { job: await openJob(folder, o), files: wanted.size, leftOut };
  });
}

const DAMAGED = "Ask for the pack again: it was damaged or changed on its way";
const WRONG = "Give a zip that faultglow job pack has made";

async function readZip(file: string, most: number): Promise<Uint8Array> {
  try {
    const { size } = await stat(file);
    if (size > most) throw packError(`expected at most ${most} bytes, found ${size}`, file, WRONG);
    return await readGiven(file, most, (_, start) => refuseOther(start, file));
  } catch (error) {
    if (error instanceof ToolError) throw error;
    throw packError(
      `the pack can't be read: ${readReason(error)}`,
      file,
      "Check the name and the permissions of the file",
    );
  }
}

/** A zip begins with its first file, an empty one with its directory (PKWARE APPNOTE 4.3.7, 4.3.16). */
const ZIP_STARTS: readonly string[] = ["504b0304", "504b0506"];

function refuseOther(start: Buffer, file: string): void {
  if (!ZIP_STARTS.includes(start.toString("hex", 0, 4)))
    throw packError("expected a zip, but its first bytes are none of a zip's", file, WRONG);
}

/** Read the directory of a zip: names in the zip by name in the job.
 *  Names are judged before anything is unzipped; of sizes, those that the zip states: no more than that is unzipped. */
function listEntries(
  zip: Uint8Array,
  file: string,
  limits: PackLimits,
): { wanted: Map<string, Wanted>; leftOut: string[] } {
  const all: UnzipFileInfo[] = [];
  unzip(zip, file, (info) => {
    all.push(info);
    return false;
  });
  if (all.length > limits.files)
    throw packError(`expected at most ${limits.files} files in it, found ${all.length}`, file, WRONG);
  const checksums = zipChecksums(zip);
  if (checksums?.length !== all.length) throw packError("the directory of the zip is damaged", file, DAMAGED);
  for (const { name } of all) refuseName(name, file);
  const head = all.find(({ name }) => /^(?:[^/]+\/)?job\.json$/.test(name));
  if (head === undefined) throw packError(`it holds no ${JOB_FILE}`, file, WRONG);
  const top = head.name.slice(0, -JOB_FILE.length);
  const wanted = new Map<string, Wanted>();
  const leftOut: string[] = [];
  let total = 0;
  let packed = 0;
  for (const [i, info] of all.entries()) {
    const name = info.name.startsWith(top) ? info.name.slice(top.length) : "";
    if (!NAME.test(name)) {
      if (!info.name.endsWith("/") && name !== PACK_CONTENTS && name !== PACK_REPORT) leftOut.push(info.name);
      continue;
    }
    if (wanted.has(name)) throw packError(`it holds "${name}" twice`, file, WRONG);
    total += info.originalSize;
    packed += info.size;
    const bursts = total > limits.timesFrom && total > limits.times * packed;
    if (info.originalSize > limits.fileBytes || total > limits.bytes || bursts) {
      throw packError(`unzipped, it would be larger than a job is: "${name}"`, file, WRONG);
    }
    wanted.set(name, { ...info, checksum: checksums[i]! });
  }
  return { wanted, leftOut };
}

/** A name that leads out of the folder is no slip: the whole zip is refused. */
function refuseName(name: string, file: string): void {
  const steps = name.split("/");
  const bad =
    name.startsWith("/") ||
    name.includes("\\") ||
    name.includes("\0") ||
    /^[A-Za-z]:/.test(name) ||
    steps.includes("..") ||
    steps.includes("__proto__");
  if (bad) throw packError(`it holds the name "${name}", which leads out of the job's folder`, file, WRONG);
}

async function extract(
  zip: Uint8Array,
  wanted: ReadonlyMap<string, Wanted>,
  folder: string,
  file: string,
  storage: Storage,
): Promise<void> {
  const rest = [...wanted];
  while (rest.length > 0) {
    const batch = new Map<string, { readonly name: string; readonly checksum: number }>();
    for (let bytes = 0; rest.length > 0 && (batch.size === 0 || bytes < BATCH); ) {
      const [name, info] = rest.shift()!;
      batch.set(info.name, { name, checksum: info.checksum });
      bytes += info.originalSize;
    }
    const contents = unzip(zip, file, (info) => batch.has(info.name));
    for (const [inZip, { name, checksum }] of batch) {
      const bytes = contents[inZip];
      if (bytes === undefined || crc32(bytes, 0, bytes.length) !== checksum) {
        throw packError(`the check sum of "${name}" in it is wrong`, file, DAMAGED);
      }
      const path = pathIn(folder, name);
      await storage.makeFolder(dirname(path));
      await storage.create(path, bytes);
    }
  }
}

function unzip(
  zip: Uint8Array,
  file: string,
  filter: (info: UnzipFileInfo) => boolean,
): Record<string, Uint8Array> {
  try {
    return unzipSync(zip, { filter });
  } catch (error) {
    throw packError(`expected a zip, but it can't be unzipped: ${(error as Error).message}`, file, WRONG);
  }
}

async function refuseTaken(folder: string, storage: Storage): Promise<void> {
  const there = await storage.list(folder).catch((error) => {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return [];
    throw error;
  });
  if (there.length === 0) return;
  throw new ToolError("E_JOB_EXISTS", {
    problem: `expected a new or an empty folder, but this one holds "${there[0]!.name}"`,
    fix: "Give a folder that does not exist yet",
    place: { file: folder },
  });
}
