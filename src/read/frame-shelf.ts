// read: frames of a file that was read → the same frames again for whoever asks for a file of the same bytes.

import { freemem } from "node:os";
import { openFrameSpool } from "./frame-spool.js";
import type { FileFrames, FileOptions, FrameSource } from "./read-frame-file.js";

/** Defaults of `openFrameShelf`. */
const SHELF_DEFAULTS = Object.freeze({
  /** A thousand frames of 640×512. */
  mostBytes: 1.4e9,
  /** Of these so many in memory: 400 frames of 640×512 … */
  heldBytes: 525e6,
  /** … but no more than this share of the memory that is free when the shelf begins to fill. */
  heldShare: 1 / 8,
});

/** Keeps what reading files gave, for as long as the process lives: in memory where there is plenty, and else in a file
 *  that only it sees. */
export interface FrameShelf {
  /** Keep what reading a file gave. Nothing is kept where there is no room, where something is to be said of the file
   *  by its name, or where the scale was looked for on the disk. */
  put(source: FrameSource, options: FileOptions, file: FileFrames): void;
  /** Frames of a file of known bytes, called by its name: number for number what `readFrameFile` would give; null where
   *  it has to be read. */
  find(source: FrameSource, options: FileOptions): FileFrames | null;
  /** Forget all. Frames that were found can't be read any more. */
  clear(): void;
}

/** Make a place for frames that were read.
 *  @param options.folder where its file goes; the system's temporary folder, unless a test says otherwise.
 */
export function openFrameShelf(
  options: { readonly mostBytes?: number; readonly heldBytes?: number; readonly folder?: string } = {},
): FrameShelf {
  const { mostBytes, heldBytes, heldShare, ...ofSpool } = { ...SHELF_DEFAULTS, ...options };
  const open = () => openFrameSpool({ ...ofSpool, heldBytes: 0 });
  const kept = new Map<string, FileFrames>();
  let spool = open();
  let bytes = 0;
  let mostHeld = 0;
  let isLent = false;
  const clear = (): void => {
    spool.close();
    spool = open();
    kept.clear();
    bytes = 0;
    isLent = false;
  };
  return {
    put(source, fileOptions, { frames, scale, notes }) {
      const key = keyOf({ ...source, sha256: frames[0]?.sha256 ?? undefined }, fileOptions);
      if (key === null || notes.length > 0 || kept.has(key)) return;
      const own = frames.reduce((sum, { raster }) => sum + 4 * raster.width * raster.height, 0);
      if (own > mostBytes) return;
      // What lies there longest was dropped and not analysed; frames that somebody works on stay.
      if (bytes + own > mostBytes && isLent) return;
      if (bytes + own > mostBytes) clear();
      if (bytes === 0) mostHeld = Math.min(heldBytes, heldShare * freemem());
      const stored = [...frames];
      try {
        if (bytes + own > mostHeld) spool.keep(stored);
      } catch {
        // Without room on the disk the file is read again.
        return;
      }
      bytes += own;
      kept.set(key, { frames: stored, scale, notes });
    },
    find(source, fileOptions) {
      const key = keyOf(source, fileOptions);
      const found = key === null ? undefined : kept.get(key);
      if (found === undefined) return null;
      isLent = true;
      return { ...found, frames: found.frames.map((frame) => ({ ...frame, file: source.name })) };
    },
    clear,
  };
}

/** All that reading a file depends on: its bytes, the ending of its name (which tells what odd bytes are), the scale
 *  beside it, and what was said from outside. Null where some of that is not known. */
function keyOf({ sha256, name, beside }: FrameSource, options: FileOptions): string | null {
  if (sha256 === undefined || beside === undefined) return null;
  const ending = /\.[^./\\]*$/.exec(name)?.[0].toLowerCase() ?? "";
  const { scale, unit, separator, decimal } = options;
  return JSON.stringify([sha256, ending, beside?.scale ?? null, scale, unit, separator, decimal]);
}
