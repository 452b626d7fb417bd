// read: files, folders and patterns → frames in °C, checked, with notes.
import { ToolError } from "../core/errors.js";
import type { Note } from "../core/notes.js";
import type { Frame } from "../frames/frame.js";
import { mergeNotes } from "../frames/merge-notes.js";
import type { RangeScale } from "../frames/scale.js";
import type { FrameShelf } from "./frame-shelf.js";
import type { FrameSpool } from "./frame-spool.js";
import { listFrameFiles } from "./list-frame-files.js";
import { type FileOptions, type FrameSource, readFrameFile } from "./read-frame-file.js";

/** What may be said of the files from outside. */
export interface ReadOptions extends FileOptions {
  /** Called after each file with the number of files read so far and of all files, for a line of progress. */
  readonly onFile?: ((read: number, total: number) => void) | undefined;
  /** Where frames go that are too many to hold, to be closed by whoever opened it; without one all frames are held. */
  readonly spool?: FrameSpool | undefined;
  /** Where frames of files may be that were read before. */
  readonly shelf?: FrameShelf | undefined;
}

/** The frames of one role. */
export interface ReadFrames {
  /** In natural order of their files, and in the order of the file where one holds several. All of one size. */
  readonly frames: Frame[];
  /** The scale that holds for all of them, as its ends; null for temperatures and where pictures differ. */
  readonly scale: RangeScale | null;
  readonly notes: Note[];
}

/** Files read at a time: as many as the threads that Node reads with, and some to keep them fed. */
const AT_ONCE = 8;

/** Read the frames of one role: text, greyscale PNG and greyscale TIFF, told apart by their bytes.
 *  A scale given here goes before a file beside the picture, and that before a text inside the picture.
 *  @param patterns files, folders and patterns with `*`, `?`, `**`.
 *  @returns frames in °C, NaN = no reading, each with its file's SHA-256; every value checked.
 *  @throws ToolError what the stages throw; where several files are bad, for the first of them. E_FRAME_SIZE if two
 *    frames differ in size.
 */
export async function readFrames(
  patterns: readonly string[],
  options: ReadOptions = {},
): Promise<ReadFrames> {
  const { files, notes } = await listFrameFiles(patterns);
  const read = await readFrameSources(
    files.map((file) => ({ path: file, name: file })),
    options,
  );
  return { ...read, notes: [...notes, ...read.notes] };
}

/** Read frames whose files are known already, in the order given. Like `readFrames` in all else. */
export async function readFrameSources(
  sources: readonly FrameSource[],
  options: ReadOptions = {},
): Promise<ReadFrames> {
  const { onFile, spool, shelf, ...ofFile } = options;
  let done = 0;
  const read = await mapInOrder(sources, async (source) => {
    const known = shelf?.find(source, ofFile) ?? null;
    const one = known ?? (await readFrameFile(source, ofFile));
    done++;
    if (known === null) spool?.keep(one.frames, sources.length - done);
    onFile?.(done, sources.length);
    return one;
  });
  const frames = read.flatMap((one) => one.frames);
  const first = frames[0]!;
  for (const frame of frames) {
    const [a, b] = [first.raster, frame.raster];
    if (a.width === b.width && a.height === b.height) continue;
    throw new ToolError("E_FRAME_SIZE", {
      problem: `${first.file} is ${a.width}×${a.height}, but ${frame.file} is ${b.width}×${b.height}`,
      fix: "Export all frames at the same resolution, and give one recording at a time",
    });
  }
  const scales = read.map((one) => one.scale);
  const same = scales.every((s) => s?.lowC === scales[0]?.lowC && s?.highC === scales[0]?.highC);
  return {
    frames,
    scale: same ? (scales[0] ?? null) : null,
    notes: mergeNotes(read.flatMap((one) => one.notes)),
  };
}

/** Work on `AT_ONCE` items at a time; results in the order of the items, and the error of the first bad one. */
async function mapInOrder<In, Out>(items: readonly In[], work: (item: In) => Promise<Out>): Promise<Out[]> {
  const results: Out[] = [];
  let next = 0;
  let firstBad = items.length;
  let error: unknown;
  async function run(): Promise<void> {
    while (next < firstBad) {
      const at = next++;
      try {
        results[at] = await work(items[at]!);
      } catch (caught) {
        if (at < firstBad) {
          firstBad = at;
          error = caught;
        }
      }
    }
  }
  await Promise.all(Array.from({ length: Math.min(AT_ONCE, items.length) }, run));
  if (firstBad < items.length) throw error;
  return results;
}
