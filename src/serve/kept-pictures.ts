// serve: the pictures of an attempt's view as a block of bytes ↔ the file in the job's cache that keeps them.
import { createHash } from "node:crypto";
import { mkdir, readFile } from "node:fs/promises";
import { dirname } from "node:path";
import { writeFileAtomic } from "../report/write-file-atomic.js";
import { pathIn } from "../store/job-paths.js";

/** Where the pictures of an attempt's view are kept: they belong to the attempt's very bytes, and to a version of the
 *  tool.
 *  @param sha256 of attempt.json. */
export function picturesFile(folder: string, sha256: string, view: number, toolVersion: string): string {
  return pathIn(folder, `cache/${sha256}-${view}-${toolVersion.replace(/[^\w.-]/g, "_")}.pictures`);
}

/** Bytes of the hash that ends a kept file. */
const HASH_BYTES = 32;

/** Keep a block, followed by its SHA-256. What can't be kept is made again the next time. */
export async function keepPictures(file: string, block: Uint8Array): Promise<void> {
  try {
    await mkdir(dirname(file), { recursive: true });
    await writeFileAtomic(file, Buffer.concat([block, hashOf(block)]));
  } catch {
    return;
  }
}

/** Read a block that was kept; null where none is, or where it is no longer what was kept: it is made anew. */
export async function readKeptPictures(file: string): Promise<Uint8Array | null> {
  const kept = await readFile(file).catch(() => null);
  if (kept === null || kept.length < HASH_BYTES) return null;
  const block = kept.subarray(0, -HASH_BYTES);
  return hashOf(block).equals(kept.subarray(-HASH_BYTES)) ? block : null;
}

function hashOf(block: Uint8Array): Buffer {
  return createHash("sha256").update(block).digest();
}
