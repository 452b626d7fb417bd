// fuzz: every reader of files, by name.
import { plain, type TargetEntry } from "../fuzz-target.js";
import { boardDrawings, centroidTables } from "./board-files.js";
import { jsonFiles } from "./json-files.js";
import { packedJob } from "./packed-job.js";
import { pngFrames } from "./png-frames.js";
import { referenceTables } from "./reference-tables.js";
import { textFrames } from "./text-frames.js";
import { tiffFrames } from "./tiff-frames.js";

/** All targets. */
export const TARGETS: readonly TargetEntry[] = [
  plain(textFrames),
  plain(pngFrames),
  plain(tiffFrames),
  plain(centroidTables),
  plain(boardDrawings),
  plain(referenceTables),
  ...jsonFiles,
  packedJob,
];
