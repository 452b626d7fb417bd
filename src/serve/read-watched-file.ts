// serve: a file of a watched folder → the size of its frames, or its fault in words, which travel between processes.
import { readWatched } from "../watch/read-watched.js";
import { errorWords } from "./error-words.js";
import type { DoWork } from "./works.js";

/** Read a file of a watched folder. */
export const readWatchedFile: DoWork<"readWatched"> = async ({ path, scale, unit }) => {
  const read = await readWatched(path, { scale: scale ?? undefined, unit: unit ?? undefined });
  return "fault" in read ? { sha256: read.sha256, words: errorWords(read.fault) } : read;
};
