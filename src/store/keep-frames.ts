// store: files of frames → copies under their hashes, with what is to be known of each.
import { join } from "node:path";
import type { KeptFrame } from "../job/attempt-schema.js";
import { keptEnding } from "../read/frame-extensions.js";
import { judgeFrame } from "../read/judge-long-file.js";
import type { KnownHash, KnownHashes } from "../read/known-hashes.js";
import { cannotRead } from "../read/list-frame-files.js";
import { readGiven } from "../read/read-given.js";
import { readScaleFile } from "../read/read-scale-file.js";
import { frameName, sha256Of } from "./job-paths.js";
import type { Storage } from "./storage.js";

/** Files looked into at a time: as many as wait for the disk together. */
const AT_ONCE = 4;

/** Copy the files of frames into a folder. Equal files are kept once.
 *  @param files in the order in which they are to be read.
 *  @param names what each is called in the job.
 *  @param folder where `frames/` is.
 *  @param own the files lie in the job's own folder and are never changed: they get a second name in place of a copy,
 *    where the disk can do that, and are not hashed where that has been done; null: they are anybody's.
 *  @throws ToolError E_FRAME_READ if a file can't be read, those of `readScaleFile`; errors of the disk.
 */
export async function keepFrames(
  files: readonly string[],
  names: readonly string[],
  folder: string,
  storage: Storage,
  own: { readonly hashes?: KnownHashes | undefined } | null = null,
): Promise<KeptFrame[]> {
  const kept: KeptFrame[] = [];
  for (let start = 0; start < files.length; start += AT_ONCE) {
    const some = files.slice(start, start + AT_ONCE);
    const looked = await Promise.allSettled(
      some.map(async (file, k) => lookInto(file, names[start + k]!, (await own?.hashes?.find(file)) ?? null)),
    );
    for (const [k, one] of looked.entries()) {
      // Of several that can't be read the first is told.
      if (one.status === "rejected") throw one.reason;
      const { frame, bytes } = one.value;
      kept.push(frame);
      const target = join(folder, frameName(frame));
      if (own !== null && (await hasLinked(some[k]!, target, storage))) continue;
      await storage.create(target, bytes ?? (await bytesOf(some[k]!))).catch((error) => {
        if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
      });
    }
  }
  return kept;
}

/** What is to be known of a file, and its bytes where they had to be read for that. */
async function lookInto(
  file: string,
  name: string,
  known: KnownHash | null,
): Promise<{ frame: KeptFrame; bytes: Buffer | null }> {
  const bytes = known === null ? await bytesOf(file) : null;
  const beside = await readScaleFile(file);
  const frame = {
    sha256: known?.sha256 ?? sha256Of(bytes!),
    ending: keptEnding(file),
    bytes: known?.bytes ?? bytes!.length,
    name,
    scaleBeside: beside === null ? null : { from: besideName(name, beside.from), scale: beside.scale },
  };
  return { frame, bytes };
}

function bytesOf(file: string): Promise<Buffer> {
  return readGiven(file, Number.POSITIVE_INFINITY, judgeFrame(file)).catch((error) => {
    throw cannotRead(file, error);
  });
}

/** Give a file a second name; false where the disk can't, or where there is a file of that name. */
function hasLinked(file: string, target: string, storage: Storage): Promise<boolean> {
  return storage.link(file, target).then(
    () => true,
    () => false,
  );
}

/** A scale file lies in the folder of its picture. */
function besideName(name: string, from: string): string {
  return name.slice(0, name.lastIndexOf("/") + 1) + from.slice(from.lastIndexOf("/") + 1);
}
