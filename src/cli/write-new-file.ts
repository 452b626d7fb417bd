// cli: a path and a text → a new file, or an error if one is there already.
import type { Stats } from "node:fs";
import { stat } from "node:fs/promises";
import { ToolError } from "../core/errors.js";
import { writeFileAtomic } from "../report/write-file-atomic.js";

/** Write a file whole. One that is there already may be a day's work and is replaced only on request.
 *  @throws ToolError E_OUTPUT if it is there and may not be replaced, is no file, or can't be written. */
export async function writeNewFile(path: string, text: string, replace: boolean): Promise<void> {
  try {
    const there = await refuseIfThere(path, replace);
    // A new file takes the place of what it is renamed over: of a device for the whole machine, of a pipe for its
    // reader.
    if (there !== null && !there.isFile())
      throw outputError(
        "expected the name of a file, found a folder, a device or a pipe",
        "Choose another name",
        path,
      );
    await writeFileAtomic(path, text);
  } catch (error) {
    if (error instanceof ToolError) throw error;
    throw outputError(
      `the file can't be written: ${(error as Error).message}`,
      "Check the folder and its permissions",
      path,
    );
  }
}

/** Refuse a file that is there already unless it may be replaced.
 *  @returns what is there; null for nothing.
 *  @throws ToolError E_OUTPUT if it may not be replaced. */
export async function refuseIfThere(path: string, replace: boolean): Promise<Stats | null> {
  const there = await stat(path).catch(() => null);
  if (there !== null && !replace)
    throw outputError("the file is there already", "Choose another name, or add --replace", path);
  return there;
}

function outputError(problem: string, fix: string, file: string): ToolError {
  return new ToolError("E_OUTPUT", { problem, fix, place: { file } });
}
