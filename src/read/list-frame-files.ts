// read: files, folders and patterns → the frame files they name, in natural order, and which were named twice.
import { readdirSync, statSync } from "node:fs";
import { resolve } from "node:path";
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import { mergeNotes } from "../frames/merge-notes.js";
import { compareNatural } from "./compare-natural.js";
import { FRAME_EXTENSIONS, isFrameName } from "./frame-extensions.js";
import { hasWildcard, matchGlob } from "./match-glob.js";
import { readReason } from "./read-reason.js";

/** List the files of frames. What exists under the very name is taken as that; else `*`, `?` and `**` are looked up.
 *  A folder gives its frame files, not those of folders in it; names with a dot in front and files of other kinds,
 *  such as scale files, are left out. Each file comes once, however often it is named, and a note says so.
 *  @param patterns as given by the user; `/` or, on Windows, `\` between names.
 *  @returns `files`: names that begin as they were given, in natural order, whatever the order of the patterns: a shell
 *    gives `frame-10` before `frame-2`; `notes`: N_FRAME_TWICE of files that came by two of the patterns.
 *  @throws ToolError E_FRAME_NONE if one of the patterns names no frame, E_FRAME_READ if it can't be looked up.
 */
export async function listFrameFiles(
  patterns: readonly string[],
): Promise<{ readonly files: string[]; readonly notes: Note[] }> {
  if (patterns.length === 0) {
    throw new ToolError("E_FRAME_NONE", {
      problem: "a file, folder or pattern of frames was expected, but none is given",
      fix: "Name the frames, such as baseline/*.csv",
    });
  }
  const byPath = new Map<string, string>();
  const twice = new Set<string>();
  for (const given of patterns) {
    const pattern = process.platform === "win32" ? given.replaceAll("\\", "/") : given;
    for (const file of await expand(pattern)) {
      const path = resolve(file);
      if (byPath.has(path)) twice.add(path);
      else byPath.set(path, file);
    }
  }
  const notes = [...twice].map((path) =>
    note("N_FRAME_TWICE", `${byPath.get(path)!} was named more than once, and counts once.`),
  );
  return { files: [...byPath.values()].sort(compareNatural), notes: mergeNotes(notes) };
}

async function expand(pattern: string): Promise<string[]> {
  const kind = kindOf(pattern);
  if (kind === "file") return [pattern];
  const looked = `files that end with ${FRAME_EXTENSIONS.join(" ")}`;
  if (kind === "folder") {
    const folder = pattern.endsWith("/") ? pattern : `${pattern}/`;
    const { frames, folders } = readFolder(folder);
    if (frames.length > 0) return frames.map((name) => (folder === "./" ? name : folder + name));
    const inside =
      folders.length === 0
        ? ""
        : `, and not in the folders inside it (${folders.slice(0, 3).join(", ")}${folders.length > 3 ? " …" : ""})`;
    throw none(`the folder holds no frame; looked for ${looked}${inside}`, pattern);
  }
  if (!hasWildcard(pattern)) {
    const isEmpty = pattern.trim() === "";
    throw new ToolError("E_FRAME_READ", {
      problem: isEmpty
        ? `an empty name can't be a file or folder: "${pattern}"`
        : "there is no such file or folder",
      fix: "Check the name and the folder you are in",
      place: isEmpty ? {} : { file: pattern },
    });
  }
  const matched = await matchGlob(pattern);
  // A pattern that names its extension means it; one that ends openly means frames.
  const open = !/\.[A-Za-z0-9]+$/.test(pattern);
  const files = matched.filter((file) => isFrameName(file) || !open);
  if (files.length > 0) return files;
  const others = matched.length > 0 ? ` (${matched.length} of other kinds match)` : "";
  throw none(
    `nothing matches the pattern${others}; looked for ${open ? looked : "files of that name"}`,
    pattern,
  );
}

/** Asked at once: the way to another thread and back costs ten times as much, for each of the names that a shell made
 *  of `*`. */
function kindOf(path: string): "file" | "folder" | null {
  try {
    return statSync(path).isDirectory() ? "folder" : "file";
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    // ENAMETOOLONG and EINVAL: a name the system does not even look up is no file either.
    if (code === "ENOENT" || code === "ENOTDIR" || code === "ENAMETOOLONG" || code === "EINVAL") return null;
    throw cannotRead(path, error);
  }
}

/** Names of the frames in a folder, and of the folders in it. Asked at once: the answer of another thread would be held
 *  for as long as the frames are worked on, 90 bytes a frame.
 */
function readFolder(folder: string): { frames: string[]; folders: string[] } {
  try {
    const entries = readdirSync(folder, { withFileTypes: true }).filter(({ name }) => !name.startsWith("."));
    const frames = entries.filter(
      (entry) => (entry.isFile() || entry.isSymbolicLink()) && isFrameName(entry.name),
    );
    const folders = entries.filter((entry) => entry.isDirectory());
    return {
      frames: frames.map(({ name }) => name),
      folders: folders.map(({ name }) => name).sort(compareNatural),
    };
  } catch (error) {
    throw cannotRead(folder, error);
  }
}

function none(problem: string, pattern: string): ToolError {
  return new ToolError("E_FRAME_NONE", {
    problem,
    fix: "Check the name and the folder you are in; put a pattern in quotes if the shell changes it",
    place: { file: pattern },
  });
}

/** The error for a file or folder that the system refuses to open; one that has its words stays. */
export function cannotRead(path: string, error: unknown): ToolError {
  if (error instanceof ToolError) return error;
  return new ToolError("E_FRAME_READ", {
    problem: `the file can't be read: ${readReason(error)}`,
    fix: "Check the name and the permissions of the file",
    place: { file: path },
  });
}
