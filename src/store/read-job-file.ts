// store: the name of a file in a job and the hash that vouches for it → its bytes.
import { ToolError } from "../core/errors.js";
import { readReason } from "../read/read-reason.js";
import { pathIn, sha256Of } from "./job-paths.js";
import type { Storage } from "./storage.js";

/** Read a file of a job and compare it with its hash.
 *  @param name from the job's folder, with `/`.
 *  @throws ToolError E_JOB_HASH if it is missing or something else; the disk's other errors.
 */
export async function readJobFile(
  folder: string,
  name: string,
  sha256: string,
  storage: Storage,
): Promise<Uint8Array> {
  const path = pathIn(folder, name);
  let bytes: Uint8Array;
  try {
    bytes = await storage.read(path);
  } catch (error) {
    const code = String((error as NodeJS.ErrnoException).code);
    if (MISSING.includes(code)) throw hashError("the job refers to this file, but it is missing", path);
    if (NO_JOB_FILE.includes(code))
      throw hashError(`the job refers to this file, but ${readReason(error)}`, path);
    throw error;
  }
  const found = sha256Of(bytes);
  if (found === sha256) return bytes;
  throw hashError(
    `the file was changed: expected SHA-256 ${sha256.slice(0, 12)}…, found ${found.slice(0, 12)}…`,
    path,
  );
}

const MISSING: readonly string[] = ["ENOENT", "ENOTDIR", "EISDIR"];

/** Codes of what may lie where a file of a job should, and can't be one: a device, a pipe, a file of more than 2 GB. */
export const NO_JOB_FILE: readonly string[] = ["NOT_PLAIN", "ERR_FS_FILE_TOO_LARGE"];

function hashError(problem: string, file: string): ToolError {
  return new ToolError("E_JOB_HASH", {
    problem,
    fix: "Take this file from a copy or a pack of the job",
    place: { file },
  });
}
