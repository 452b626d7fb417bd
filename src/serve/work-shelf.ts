// serve: what this process has read and analysed → kept for all its work: what was read to be shown is there to be
// analysed, and what was analysed ahead is there when an attempt is made of it.
import { openFrameShelf } from "../read/frame-shelf.js";
import { openKnownHashes } from "../read/known-hashes.js";
import { openAnalysisMemo } from "../store/analysis-memo.js";

/** Frames that this process has read. */
export const WORK_SHELF = openFrameShelf();

/** Hashes of the files that they are from. */
export const WORK_HASHES = openKnownHashes();

/** The last analysis of this process. */
export const WORK_MEMO = openAnalysisMemo();
