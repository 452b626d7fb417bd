// watch: a folder → the files in it that may be frames, with size and time.
import { readdir, stat } from "node:fs/promises";
import { join, resolve } from "node:path";
import { ToolError } from "../core/errors.js";
import { isFrameName } from "../read/frame-extensions.js";
import { readReason } from "../read/read-reason.js";
import type { ListedFile } from "./watched-frame.js";

/** Folders inside each other that are looked into: cameras make one for a day and one for a recording. */
const DEEPEST = 4;

/** List the files of a folder and of those in it whose names end like those of frames. Names that begin with a dot,
 *  links to folders, and the job's own folder are left out; so is what vanishes while it is looked at.
 *  @param without absolute path of a folder that is not entered.
 *  @throws ToolError E_WATCH_FOLDER if the folder itself can't be listed. */
export async function listWatched(folder: string, without: string): Promise<ListedFile[]> {
  const files: ListedFile[] = [];
  await walk(folder, "", 0, resolve(without), files);
  return files;
}

async function walk(
  folder: string,
  inside: string,
  depth: number,
  without: string,
  files: ListedFile[],
): Promise<void> {
  const path = join(folder, inside);
  let entries: Awaited<ReturnType<typeof readNames>>;
  try {
    entries = await readNames(path);
  } catch (error) {
    if (depth > 0) return;
    throw new ToolError("E_WATCH_FOLDER", {
      problem: `the folder to be watched can't be listed: ${listReason(error)}`,
      fix: "Check its name, and that the drive is connected",
      place: { file: folder },
    });
  }
  for (const entry of entries) {
    if (entry.name.startsWith(".")) continue;
    const name = `${inside}${entry.name}`;
    const here = join(folder, name);
    if (entry.isDirectory()) {
      if (depth < DEEPEST && resolve(here) !== without)
        await walk(folder, `${name}/`, depth + 1, without, files);
    } else if (isFrameName(entry.name)) {
      const info = await stat(here).catch(() => null);
      if (info?.isFile()) files.push({ path: here, name, bytes: info.size, mtimeMs: info.mtimeMs });
    }
  }
}

/** Why a folder can't be listed, in words. */
function listReason(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === "ENOENT") return "there is no such folder";
  return code === "ENOTDIR" ? "it is a file, not a folder" : readReason(error);
}

function readNames(path: string) {
  return readdir(path, { withFileTypes: true });
}
