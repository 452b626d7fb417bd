// read: files, folders and patterns → frames in °C, checked, with notes.
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import { createRaster, type Raster } from "../core/raster.js";
import { applyScale, type LevelImage } from "../frames/apply-scale.js";
import { checkFrame } from "../frames/check-frame.js";
import { chooseScale, type ScaleSource } from "../frames/choose-scale.js";
import { convertValues } from "../frames/convert-values.js";
import type { DecimalMark, Separator } from "../frames/detect-dialect.js";
import type { Frame } from "../frames/frame.js";
import { mergeNotes } from "../frames/merge-notes.js";
import { parseTextFrames } from "../frames/parse-text-frames.js";
import { isLinear, type RangeScale, type Scale, toRange } from "../frames/scale.js";
import { parseScaleText } from "../frames/scale-schema.js";
import type { TemperatureUnit } from "../frames/temperature-unit.js";
import { decodePng } from "./decode-png.js";
import { decodeTiff } from "./decode-tiff.js";
import { cannotRead, listFrameFiles } from "./list-frame-files.js";
import { readScaleFile } from "./read-scale-file.js";
import { sniffFileType } from "./sniff-file-type.js";

/** What may be said of the files from outside. */
export interface ReadOptions {
  /** For pictures: °C at the ends of the scale, or gain and offset. Gain and offset hold for text as well. */
  readonly scale?: Scale | undefined;
  /** For text and floating-point TIFF. */
  readonly unit?: TemperatureUnit | undefined;
  readonly separator?: Separator | undefined;
  readonly decimal?: DecimalMark | undefined;
  /** Called after each file with the number of files read so far and of all files, for a line of progress. */
  readonly onFile?: ((read: number, total: number) => void) | undefined;
}

/** A frame's file that is kept under another name than the one it is known by. */
export interface FrameSource {
  /** Where its bytes are. */
  readonly path: string;
  /** What it is called in findings, notes and errors. */
  readonly name: string;
  /** The scale of a file beside it; absent: looked for beside `path`. */
  readonly beside?: ScaleSource | null;
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
  const files = await listFrameFiles(patterns);
  return readFrameSources(
    files.map((file) => ({ path: file, name: file })),
    options,
  );
}

/** Read frames whose files are known already, in the order given. Like `readFrames` in all else. */
export async function readFrameSources(
  sources: readonly FrameSource[],
  options: ReadOptions = {},
): Promise<ReadFrames> {
  let done = 0;
  const read = await mapInOrder(sources, async (source) => {
    const one = await readFrameFile(source, options);
    options.onFile?.(++done, sources.length);
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

interface FileFrames {
  readonly frames: Frame[];
  readonly scale: RangeScale | null;
  readonly notes: Note[];
}

async function readFrameFile(source: FrameSource, options: ReadOptions): Promise<FileFrames> {
  const file = source.name;
  let bytes: Buffer;
  try {
    bytes = await readFile(source.path);
  } catch (error) {
    throw cannotRead(file, error);
  }
  const type = sniffFileType(bytes, file);
  const content = await decode(type, bytes, source, options);
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  const frames = content.pages.map((page, index): Frame => ({ ...page, file, sha256, index }));
  return { frames, scale: content.scale, notes: [...content.notes, ...frames.flatMap(checkFrame)] };
}

type Page = Pick<Frame, "raster" | "stepK" | "saturated">;
interface Content {
  readonly pages: readonly Page[];
  readonly scale: RangeScale | null;
  readonly notes: readonly Note[];
}

async function decode(
  type: "png" | "tiff" | "text",
  bytes: Buffer,
  source: FrameSource,
  options: ReadOptions,
) {
  const file = source.name;
  if (type === "png") {
    const png = decodePng(bytes, file);
    const inside: ScaleSource[] =
      png.scaleText === null
        ? []
        : [{ from: "the text in the picture", scale: parseScaleText(png.scaleText, { file }) }];
    return scalePages([png.image], inside, png.notes, source, options);
  }
  if (type === "tiff") {
    const tiff = await decodeTiff(bytes, file);
    if (tiff.sort === "levels") return scalePages(tiff.pages, [], [], source, options);
    const first = tiff.pages[0]!;
    const { convert, notes } = convertValues(first.values, () => null, {
      ...options,
      ...linearOf(options),
      file,
    });
    const pages = tiff.pages.map((page) =>
      valuePage(createRaster("degC", page.width, page.height, convert(page.values))),
    );
    return { pages, scale: null, notes: [...notes, ...unusedScale(file, options)] };
  }
  const { unit, separator, decimal } = options;
  const text = parseTextFrames(bytes, { unit, separator, decimal, ...linearOf(options), file });
  const pages = text.rasters.map((raster) => valuePage(raster, text.stepK));
  return { pages, scale: null, notes: [...text.notes, ...unusedScale(file, options)] };
}

async function scalePages(
  images: readonly LevelImage[],
  inside: readonly ScaleSource[],
  notes: readonly Note[],
  { path, name: file, beside: known }: FrameSource,
  options: ReadOptions,
): Promise<Content> {
  const sources: ScaleSource[] = [];
  if (options.scale !== undefined) sources.push({ from: "the option", scale: options.scale });
  const beside = known === undefined ? await readScaleFile(path) : known;
  if (beside !== null) sources.push(beside);
  sources.push(...inside);
  const maxLevel = images[0]!.maxLevel;
  const chosen = chooseScale(sources, maxLevel, file);
  const pages = images.map((image) => applyScale(image, chosen.scale));
  return { pages, scale: toRange(chosen.scale, maxLevel), notes: [...notes, ...chosen.notes] };
}

function valuePage(raster: Raster<"degC">, stepK: number | null = null): Page {
  return { raster, stepK, saturated: null };
}

function linearOf(options: ReadOptions) {
  return options.scale !== undefined && isLinear(options.scale) ? { linear: options.scale } : {};
}

/** The ends of a scale mean nothing to a file that holds temperatures. */
function unusedScale(file: string, options: ReadOptions): Note[] {
  if (options.scale === undefined || isLinear(options.scale)) return [];
  return [note("N_SCALE_UNUSED", `${file} holds temperatures, so the scale given was not used on it.`)];
}

/** Work on several items at a time; results in the order of the items, and the error of the first bad one. */
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
