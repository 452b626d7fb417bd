// watch: a file → the size of its frames and its SHA-256, or what is wrong with it.
import { readFile } from "node:fs/promises";
import { ToolError } from "../core/errors.js";
import { type ReadOptions, readFrames } from "../read/read-frames.js";
import { sha256Of } from "../store/job-paths.js";
import type { ReadOutcome } from "./watch-ports.js";

/** Read a file of frames as `addAttempt` will, so that what is found bad here is what would stop it there. */
export async function readWatched(path: string, reading: ReadOptions): Promise<ReadOutcome> {
  try {
    const { frames } = await readFrames([path], reading);
    const { sha256, raster } = frames[0]!;
    return { sha256: sha256 ?? (await hashOf(path)) ?? "", width: raster.width, height: raster.height };
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    return { sha256: await hashOf(path), fault: error };
  }
}

/** Null for a file that is gone or may not be read. */
async function hashOf(path: string): Promise<string | null> {
  return readFile(path).then(sha256Of, () => null);
}
