// read: frames as they are read → held while they are few; when they are many, kept in a file that only this process
// sees.
import { randomUUID } from "node:crypto";
import { closeSync, openSync, readSync, unlinkSync, writeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ToolError } from "../core/errors.js";
import type { Raster } from "../core/raster.js";
import type { Frame } from "../frames/frame.js";
import { type FrameStore, storedRaster } from "../frames/frame-series.js";
import { clearGarbage } from "./clear-garbage.js";

/** Defaults of `openFrameSpool`. */
const SPOOL_DEFAULTS = Object.freeze({
  /** Frames up to this many bytes are held: 320 of 256×192, at four bytes a pixel. */
  heldBytes: 60 * 1024 * 1024,
});

/** After so many frames that went into the file the engine's memory is cleared of what was made last, and after so many
 *  of all that they left behind; and after so many that were read from it. */
const YOUNG_CLEARED_EVERY = 16;
const CLEARED_EVERY = 1024;
const READ_CLEARED_EVERY = 8192;

/** Keeps the frames of a run in bounded memory. */
export interface FrameSpool {
  /** Take the frames of a file. While all that were taken and are still expected fit in `heldBytes` they stay as they
   *  are; from then on the frames of this list, and of those taken before, are replaced by frames whose readings are in
   *  the file.
   *  @param filesToCome taken to be like this one: a long burst is never held in part.
   *  @throws ToolError E_FRAME_SPOOL if the file can't be made or written.
   */
  keep(frames: Frame[], filesToCome?: number): void;
  /** True once frames are in the file. */
  readonly isFull: boolean;
  /** Give the file back. No frame that was replaced can be read afterwards. */
  close(): void;
}

/** Make a place for frames. Its file has no name once it is open: the system takes it back when the process ends,
 *  however that comes. Readings are kept as they are, four bytes each, so nothing that is computed from them changes.
 *  @param options.folder where the file goes; the system's temporary folder, unless a test says otherwise.
 */
export function openFrameSpool(
  options: { readonly heldBytes?: number; readonly folder?: string } = {},
): FrameSpool {
  const { heldBytes, folder } = { ...SPOOL_DEFAULTS, folder: tmpdir(), ...options };
  let held: Frame[][] = [];
  let bytes = 0;
  let isFull = false;
  let file: number | null = null;
  let places = 0;
  const positions: number[] = [];
  let end = 0;
  let reads = 0;
  let ends: Frame["saturated"] = null;
  // A long burst's records are what grows with it: frames with the same ends share them.
  const slimFrame = ({ file, sha256, index, stepK, saturated }: Frame, raster: Raster<"degC">): Frame => {
    if (saturated?.low !== ends?.low || saturated?.high !== ends?.high) ends = saturated;
    return { raster, file, sha256, index, stepK, saturated: ends };
  };
  const store: FrameStore = {
    read(place, start, into) {
      const at = positions[place]! + start * into.BYTES_PER_ELEMENT;
      for (let done = 0; done < into.byteLength; ) {
        const got = readSync(file!, into, done, into.byteLength - done, at + done);
        if (got === 0) throw new RangeError(`place ${place} of the spool ends before ${at + done}`);
        done += got;
      }
      if (++reads % READ_CLEARED_EVERY === 0) clearGarbage();
    },
  };
  const spool = ({ width, height, data }: Raster<"degC">): Raster<"degC"> => {
    try {
      file ??= openUnnamed(folder);
      for (let done = 0; done < data.byteLength; ) {
        done += writeSync(file, data, done, data.byteLength - done, end + done);
      }
    } catch (error) {
      throw cannotSpool(folder, end + data.byteLength, error);
    }
    positions.push(end);
    end += data.byteLength;
    if (positions.length % CLEARED_EVERY === 0) clearGarbage();
    else if (positions.length % YOUNG_CLEARED_EVERY === 0) clearGarbage("young");
    return storedRaster(store, places++, width, height);
  };
  return {
    keep(frames, filesToCome = 0) {
      held.push(frames);
      const own = frames.reduce((sum, { raster }) => sum + 4 * raster.width * raster.height, 0);
      bytes += own;
      isFull ||= bytes + filesToCome * own > heldBytes;
      if (!isFull) return;
      for (const list of held) {
        list.forEach((frame, k) => {
          list[k] = slimFrame(frame, spool(frame.raster));
        });
      }
      held = [];
    },
    get isFull() {
      return isFull;
    },
    close() {
      if (file !== null) closeSync(file);
      file = null;
    },
  };
}

function openUnnamed(folder: string): number {
  const path = join(folder, `faultglow-${randomUUID()}`);
  const file = openSync(path, "wx+", 0o600);
  unlinkSync(path);
  return file;
}

function cannotSpool(folder: string, bytes: number, cause: unknown): ToolError {
  const why = cause instanceof Error ? cause.message : String(cause);
  return new ToolError("E_FRAME_SPOOL", {
    problem: `the frames are too many to hold, and ${(bytes / 1e6).toFixed(0)} MB of them could not be kept in ${folder}: ${why}`,
    fix: "Make room there, name a folder with room by TMPDIR (on Windows TEMP), or give fewer frames",
  });
}
