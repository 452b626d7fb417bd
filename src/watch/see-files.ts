// watch: two listings of a folder → which files have stopped changing.
import type { ListedFile } from "./watched-frame.js";

/** A file, and since when it has been as it is. */
export interface SeenFile extends ListedFile {
  /** By the clock of the watcher: that of a network drive may be off by hours. */
  readonly sinceMs: number;
}

/** Compare a listing with what was seen before. Files that are gone are forgotten; one whose size or time differs
 *  counts as new, and so does one that was renamed into place.
 *  @param nowMs the watcher's clock. */
export function seeFiles(
  before: ReadonlyMap<string, SeenFile>,
  listing: readonly ListedFile[],
  nowMs: number,
): Map<string, SeenFile> {
  const seen = new Map<string, SeenFile>();
  for (const file of listing) {
    const known = before.get(file.path);
    const same = known !== undefined && known.bytes === file.bytes && known.mtimeMs === file.mtimeMs;
    seen.set(file.path, { ...file, sinceMs: same ? known.sinceMs : nowMs });
  }
  return seen;
}

/** True if a file has been the same for long enough to be whole. An empty one never is: it was only just made. */
export function isSettled(file: SeenFile, nowMs: number, settleMs: number): boolean {
  return file.bytes > 0 && nowMs - file.sinceMs >= settleMs;
}
