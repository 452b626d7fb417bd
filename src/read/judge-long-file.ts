// read: length and first bytes of a long file → refused where it can be no frame, before it is read.
import { ToolError } from "../core/errors.js";
import type { LongJudge } from "./read-given.js";
import { type FrameFileType, sniffFileType } from "./sniff-file-type.js";

/** Bytes of a file, for each sort. A PNG of 16 megapixels has 134 MB before it is packed, if it is a photo. */
const MOST: Readonly<Record<FrameFileType, number>> = Object.freeze({
  png: 256 * 1024 * 1024,
  tiff: 512 * 1024 * 1024,
  text: 512 * 1024 * 1024,
});

/** The judge of a frame's file: what holds no frame, or more than is read, is refused by its start and its length.
 *  @param file name for messages.
 *  @returns throws ToolError E_FRAME_TYPE or E_FRAME_LARGE. */
export function judgeFrame(file: string): LongJudge {
  return (bytes, start) => {
    const type = sniffFileType(start, file);
    if (bytes <= MOST[type]) return;
    throw new ToolError("E_FRAME_LARGE", {
      problem: `expected a file of at most ${MOST[type]} bytes, found ${bytes}`,
      fix: "Export long recordings in several files, and name all of them",
      place: { file },
    });
  };
}
