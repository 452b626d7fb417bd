// read: a file → its frames in °C, checked, with notes.
import { type Note, note } from "../core/notes.js";
import { createRaster, type Raster } from "../core/raster.js";
import { applyScale, type LevelImage } from "../frames/apply-scale.js";
import { checkFrame } from "../frames/check-frame.js";
import { chooseScale, type ScaleSource } from "../frames/choose-scale.js";
import { convertValues } from "../frames/convert-values.js";
import type { DecimalMark, Separator } from "../frames/detect-dialect.js";
import { flatTop } from "../frames/flat-top.js";
import type { Frame } from "../frames/frame.js";
import { parseTextFrames } from "../frames/parse-text-frames.js";
import { isLinear, type RangeScale, type Scale, toRange } from "../frames/scale.js";
import type { TemperatureUnit } from "../frames/temperature-unit.js";
import { decodePngAside } from "./decode-png.js";
import { decodeTiff } from "./decode-tiff.js";
import { hashBytes } from "./hash-bytes.js";
import { judgeFrame } from "./judge-long-file.js";
import { cannotRead } from "./list-frame-files.js";
import { readBytes } from "./quick-medium.js";
import { readScaleFile } from "./read-scale-file.js";
import { type FrameFileType, sniffFileType } from "./sniff-file-type.js";

/** What may be said of a file from outside. */
export interface FileOptions {
  /** For pictures: °C at the ends of the scale, or gain and offset. Gain and offset hold for text as well. */
  readonly scale?: Scale | undefined;
  /** For text and floating-point TIFF. */
  readonly unit?: TemperatureUnit | undefined;
  readonly separator?: Separator | undefined;
  readonly decimal?: DecimalMark | undefined;
}

/** A frame's file that is kept under another name than the one it is known by. */
export interface FrameSource {
  /** Where its bytes are. */
  readonly path: string;
  /** What it is called in findings, notes and errors. */
  readonly name: string;
  /** The scale of a file beside it; absent: looked for beside `path`. */
  readonly beside?: ScaleSource | null;
  /** SHA-256 of its bytes, hex, where somebody has just looked at them. */
  readonly sha256?: string | undefined;
  /** The same where the bytes are known not to have changed since: they are not hashed again. */
  readonly hashedAs?: string | undefined;
}

/** The frames of one file, in its order. */
export interface FileFrames {
  readonly frames: Frame[];
  /** The scale as its ends; null for temperatures. */
  readonly scale: RangeScale | null;
  readonly notes: Note[];
}

/** Read one file: text, greyscale PNG or greyscale TIFF, told apart by its bytes. */
export async function readFrameFile(source: FrameSource, options: FileOptions): Promise<FileFrames> {
  const file = source.name;
  let bytes: Buffer;
  try {
    bytes = await readBytes(source.path, judgeFrame(file));
  } catch (error) {
    throw cannotRead(file, error);
  }
  const type = sniffFileType(bytes, file);
  // A picture is inflated by another thread, which is to begin first; text is read by this one.
  const hash = (): Promise<string> | string => source.hashedAs ?? hashBytes(bytes);
  const hashing = type === "png" ? null : hash();
  const decoding = decode(type, bytes, source, options);
  const [content, sha256] = await Promise.all([decoding, hashing ?? hash()]);
  const frames = content.pages.map((page, index): Frame => ({ ...page, file, sha256, index }));
  return { frames, scale: content.scale, notes: [...content.notes, ...frames.flatMap(checkFrame)] };
}

type Page = Pick<Frame, "raster" | "stepK" | "saturated">;
interface Content {
  readonly pages: readonly Page[];
  readonly scale: RangeScale | null;
  readonly notes: readonly Note[];
}

async function decode(type: FrameFileType, bytes: Buffer, source: FrameSource, options: FileOptions) {
  const file = source.name;
  if (type === "png") {
    const decoding = decodePngAside(bytes, file);
    const beside = scaleBeside(source);
    // Damage of the picture is told before that of its scale.
    beside.catch(() => {});
    const png = await decoding;
    const inside: ScaleSource[] = [];
    if (png.scaleText !== null) {
      const { parseScaleText } = await import("../frames/scale-schema.js");
      inside.push({ from: "the text in the picture", scale: parseScaleText(png.scaleText, { file }) });
    }
    return scalePages([png.image], inside, png.notes, await beside, file, options);
  }
  if (type === "tiff") {
    const tiff = await decodeTiff(bytes, file);
    if (tiff.sort === "levels") {
      return scalePages(tiff.pages, [], [], await scaleBeside(source), file, options);
    }
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

async function scaleBeside({ path, beside }: FrameSource): Promise<ScaleSource | null> {
  return beside === undefined ? readScaleFile(path) : beside;
}

function scalePages(
  images: readonly LevelImage[],
  inside: readonly ScaleSource[],
  notes: readonly Note[],
  beside: ScaleSource | null,
  file: string,
  options: FileOptions,
): Content {
  const sources: ScaleSource[] = [];
  if (options.scale !== undefined) sources.push({ from: "the option", scale: options.scale });
  if (beside !== null) sources.push(beside);
  sources.push(...inside);
  const maxLevel = images[0]!.maxLevel;
  const chosen = chooseScale(sources, maxLevel, file);
  const pages = images.map((image) => applyScale(image, chosen.scale));
  return { pages, scale: toRange(chosen.scale, maxLevel), notes: [...notes, ...chosen.notes] };
}

function valuePage(raster: Raster<"degC">, stepK: number | null = null): Page {
  return { raster, stepK, saturated: flatTop(raster) };
}

function linearOf(options: FileOptions) {
  return options.scale !== undefined && isLinear(options.scale) ? { linear: options.scale } : {};
}

/** The ends of a scale mean nothing to a file that holds temperatures. */
function unusedScale(file: string, options: FileOptions): Note[] {
  if (options.scale === undefined || isLinear(options.scale)) return [];
  return [note("N_SCALE_UNUSED", `${file} holds temperatures, so the scale given was not used on it.`)];
}
