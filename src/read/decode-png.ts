// read: bytes of a PNG file → a picture of exact levels.
import { promisify } from "node:util";
import { inflate, inflateSync, type ZlibOptions } from "node:zlib";
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import type { LevelImage } from "../frames/apply-scale.js";
import { pixelText } from "../frames/pixel-text.js";
import { corruptPng } from "./png-errors.js";
import { type PngChunks, readPngChunks } from "./read-png-chunks.js";
import { readPngText } from "./read-png-text.js";
import { channelsOf, inflatedBytes, unpackPng } from "./unpack-png.js";

/** Keyword under which a PNG may carry its own scale, as `LO:HI` or as the JSON of a scale file. */
const SCALE_KEYWORD = "faultglow-scale";

/** A PNG as levels. */
export interface DecodedPng {
  readonly image: LevelImage;
  /** Text under the keyword `faultglow-scale`, if the file has one. */
  readonly scaleText: string | null;
  readonly notes: readonly Note[];
}

/** Decode a greyscale PNG of 1, 2, 4, 8 or 16 bits, interlaced or not, to the levels it holds.
 *  Levels are those of the file: gamma, colour profiles and significant bits are passed over, for they say how a
 *  picture looks, not what was measured. A grey level marked transparent (tRNS) is no reading. Pictures with alpha
 *  are read if all of it is opaque, colour and palette pictures if they are grey throughout (with a note).
 *  Method: PNG specification, 3rd edition, W3C 2025.
 *  @throws ToolError E_PNG_CORRUPT, E_PICTURE_COLOUR, E_PICTURE_ALPHA or E_FRAME_LARGE.
 */
export function decodePng(bytes: Uint8Array, file: string): DecodedPng {
  const chunks = readPngChunks(bytes, file);
  const { stream, options } = streamOf(chunks, file);
  return unpack(
    chunks,
    orRefuse(() => inflateSync(stream, options), options.maxOutputLength, file),
    file,
  );
}

/** From so many bytes on a picture is worth the way to another thread and back. */
const LARGE_BYTES = 1 << 17;

/** Decode like `decodePng`; the bytes of a large picture are inflated by a thread of Node's own, while this one works
 *  on others. */
export async function decodePngAside(bytes: Uint8Array, file: string): Promise<DecodedPng> {
  if (bytes.length < LARGE_BYTES) return decodePng(bytes, file);
  const chunks = readPngChunks(bytes, file);
  const { stream, options } = streamOf(chunks, file);
  const inflated = await promisify<Uint8Array, ZlibOptions, Buffer>(inflate)(stream, options).then(
    (raw) => () => raw,
    (error: unknown) => () => {
      throw error;
    },
  );
  return unpack(chunks, orRefuse(inflated, options.maxOutputLength, file), file);
}

function unpack(chunks: PngChunks, raw: Uint8Array, file: string): DecodedPng {
  const { header } = chunks;
  const samples = unpackPng(raw, header, file);
  const scaleText = readPngText(chunks, SCALE_KEYWORD, file);
  const { width, height, colourType } = header;
  const maxLevel = 2 ** header.depth - 1;
  if (colourType === 0) {
    const noReadingLevel = transparentLevel(chunks);
    return { image: { width, height, levels: samples, maxLevel, noReadingLevel }, scaleText, notes: [] };
  }
  if (colourType === 3) {
    const levels = paletteLevels(samples, chunks, file);
    const image = { width, height, levels, maxLevel: 255, noReadingLevel: null };
    return { image, scaleText, notes: [greyNote("a palette", file)] };
  }
  const channels = channelsOf(header);
  if (colourType === 4 || colourType === 6) refuseAlpha(samples, channels, maxLevel, width, file);
  const levels = firstChannel(samples, channels, colourType !== 4, width, file);
  const image = { width, height, levels, maxLevel, noReadingLevel: transparentLevel(chunks) };
  return { image, scaleText, notes: colourType === 4 ? [] : [greyNote("colour", file)] };
}

/** Deflate packs at most so many bytes into one: a length of 258 in two bits (RFC 1951, 3.2.5; zlib's own technical
 *  details say the same). A picture that would need more is cut short, which shows before memory is taken for its
 *  stated size. */
const MOST_INFLATION = 1032;

/** The compressed picture as one stream, and how it is to be inflated. */
function streamOf(chunks: PngChunks, file: string) {
  const expected = inflatedBytes(chunks.header);
  const parts = chunks.compressed;
  const stream = parts.length === 1 ? parts[0]! : Buffer.concat(parts);
  if (expected > MOST_INFLATION * (stream.length + 1)) {
    const most = MOST_INFLATION * stream.length;
    throw corruptPng(`the picture inflates to at most ${most} bytes where its size needs ${expected}`, file);
  }
  // One chunk for the whole picture saves joining; the limit stops a small file from filling the memory.
  return { stream, options: { maxOutputLength: expected, chunkSize: Math.max(64, expected) } };
}

function orRefuse(inflated: () => Uint8Array, expected: number, file: string): Uint8Array {
  let raw: Uint8Array;
  try {
    raw = inflated();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ERR_BUFFER_TOO_LARGE") {
      throw corruptPng(`the picture inflates to more than the ${expected} bytes its size needs`, file);
    }
    throw corruptPng(`the picture can't be inflated (${(error as Error).message})`, file);
  }
  if (raw.length !== expected) {
    throw corruptPng(`the picture inflates to ${raw.length} bytes where its size needs ${expected}`, file);
  }
  return raw;
}

function transparentLevel(chunks: PngChunks): number | null {
  const data = chunks.transparency;
  if (data === null) return null;
  const mask = 2 ** chunks.header.depth - 1;
  const [red, green, blue] = [0, 2, 4].map((i) => (((data[i] ?? 0) << 8) | (data[i + 1] ?? 0)) & mask);
  if (chunks.header.colourType === 0) return red!;
  // A colour that is not grey marks no pixel of a picture that is.
  return red === green && green === blue ? red! : null;
}

function paletteLevels(samples: Uint8Array | Uint16Array, chunks: PngChunks, file: string): Uint8Array {
  const palette = chunks.palette!;
  const entries = palette.length / 3;
  const levels = new Uint8Array(samples.length);
  for (let i = 0; i < samples.length; i++) {
    const entry = samples[i]!;
    if (entry >= entries) {
      throw corruptPng(
        `pixel ${pixelText(i, chunks.header.width)} names palette entry ${entry} of ${entries}`,
        file,
      );
    }
    const [red, green, blue] = [palette[3 * entry]!, palette[3 * entry + 1]!, palette[3 * entry + 2]!];
    if (red !== green || green !== blue) throw colourError([red, green, blue], i, chunks.header.width, file);
    if ((chunks.transparency?.[entry] ?? 255) !== 255) throw alphaError(i, chunks.header.width, file);
    levels[i] = red;
  }
  return levels;
}

function refuseAlpha(
  samples: Uint8Array | Uint16Array,
  channels: number,
  opaque: number,
  width: number,
  file: string,
): void {
  for (let i = channels - 1; i < samples.length; i += channels) {
    if (samples[i] !== opaque) throw alphaError((i - channels + 1) / channels, width, file);
  }
}

function firstChannel<T extends Uint8Array | Uint16Array>(
  samples: T,
  channels: number,
  colour: boolean,
  width: number,
  file: string,
): T {
  const levels = samples.slice(0, samples.length / channels) as T;
  for (let i = 0, p = 0; i < levels.length; i++, p += channels) {
    levels[i] = samples[p]!;
    if (colour && (samples[p] !== samples[p + 1] || samples[p] !== samples[p + 2])) {
      throw colourError([samples[p]!, samples[p + 1]!, samples[p + 2]!], i, width, file);
    }
  }
  return levels;
}

function greyNote(form: string, file: string): Note {
  return note(
    "N_PICTURE_GREY",
    `${file} is a picture in ${form}, but grey throughout, so its grey levels were read.`,
  );
}

function colourError(rgb: readonly number[], index: number, width: number, file: string): ToolError {
  return new ToolError("E_PICTURE_COLOUR", {
    problem: `the picture is coloured, and colours hold no temperatures: pixel ${pixelText(index, width)} is red ${rgb[0]}, green ${rgb[1]}, blue ${rgb[2]}`,
    fix: "Export the temperatures as CSV or as a grey picture of 16 bits, without a colour palette",
    place: { file },
  });
}

function alphaError(index: number, width: number, file: string): ToolError {
  return new ToolError("E_PICTURE_ALPHA", {
    problem: `pixel ${pixelText(index, width)} of the picture is transparent, so its level is no measured value`,
    fix: "Export the picture without transparency",
    place: { file },
  });
}
