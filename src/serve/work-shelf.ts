// serve: frames that this process has read → one shelf for all its work: what was read to be shown is there to be analysed.
import { openFrameShelf } from "../read/frame-shelf.js";

/** The shelf of this process. */
export const WORK_SHELF = openFrameShelf();
