// read: bytes of a TIFF file → pictures of exact levels, or matrices of the values it holds.
import type Sharp from "sharp";
import { ToolError } from "../core/errors.js";
import type { LevelImage } from "../frames/apply-scale.js";
import { MOST_FRAMES } from "../frames/cut-matrices.js";
import { MAX_PIXELS } from "./read-png-chunks.js";
import { beginsAsTiff } from "./sniff-file-type.js";

/** A page of a TIFF that holds floating-point values: temperatures, as a text file does. */
interface ValueImage {
  readonly width: number;
  readonly height: number;
  readonly values: Float64Array;
}

/** The pages of a TIFF; all are of one sort. */
export type DecodedTiff =
  | { readonly sort: "levels"; readonly pages: readonly LevelImage[] }
  | { readonly sort: "values"; readonly pages: readonly ValueImage[] };

/** All pages of a file together; a file of so many pixels takes 400 MB. */
const MAX_FILE_PIXELS = 4 * MAX_PIXELS;
/** A file may hold so many pixels a byte: noise never packs closer, a file made to burst does … */
const MAX_PIXELS_PER_BYTE = 8;
/** … beyond what a made-up picture of equal values may have, which packs as closely as it likes. */
const FREE_PIXELS = 2 * 1024 * 1024;

/** Decode a greyscale TIFF of 8 or 16 bits (levels) or of 32-bit floating point (values), in either byte order.
 *  Pictures in which white is zero come out with black as level 0. An orientation tag is not applied.
 *  Several pages are several frames.
 *  Method: libvips through sharp; `grey16` and depth `ushort` are what keeps 16 bits exact.
 *  @throws ToolError E_TIFF if the file is damaged or holds another sort of samples, E_PICTURE_COLOUR if it has more
 *    than one channel, E_FRAME_LARGE beyond 16 megapixels a page, 64 a file, or what its bytes can hold.
 */
export async function decodeTiff(bytes: Uint8Array, file: string): Promise<DecodedTiff> {
  // The library would try its other readers on it, that of drawings among them, and a drawing may ask for hours of
  // work.
  if (!beginsAsTiff(bytes)) throw tiffError("its first bytes are none of a TIFF's", file);
  const sharp = await loadSharp();
  const open = (pages: number) => sharp(bytes, { pages, limitInputPixels: false, failOn: "warning" });
  const meta = await orRefuse(open(1).metadata(), file);
  const { width, height, depth, channels, pages = 1, bitsPerSample } = meta;
  const most = Math.max(FREE_PIXELS, Math.min(MAX_FILE_PIXELS, MAX_PIXELS_PER_BYTE * bytes.length));
  if (width * height > MAX_PIXELS || width * height * pages > most || pages > MOST_FRAMES) {
    throw new ToolError("E_FRAME_LARGE", {
      problem: `the file states ${pages} × ${width}×${height} pixels; at most ${MAX_PIXELS} a page, ${most} in a file of ${bytes.length} bytes and ${MOST_FRAMES} pages are read`,
      fix: "Export the frame at the resolution of the sensor",
      place: { file },
    });
  }
  if (channels !== 1) {
    throw new ToolError("E_PICTURE_COLOUR", {
      problem: `the TIFF has ${channels} channels; a coloured or transparent picture holds no temperatures`,
      fix: "Export the temperatures as CSV or as a grey picture of 16 bits, without a colour palette",
      place: { file },
    });
  }
  const bits = bitsPerSample ?? 0;
  // All pages at a time, one below the other: to find a page, the library goes through all before it.
  const all = open(pages);
  if (depth === "float") {
    const raw = aligned(await orRefuse(all.extractChannel(0).raw({ depth: "float" }).toBuffer(), file));
    const singles = new Float32Array(raw.buffer, raw.byteOffset, raw.length / 4);
    return {
      sort: "values",
      pages: cutPages(singles, pages, width, height, file).map((page) => ({
        width,
        height,
        values: Float64Array.from(page),
      })),
    };
  }
  const wide = depth === "ushort" && bits === 16;
  if (!wide && !(depth === "uchar" && bits === 8)) {
    throw new ToolError("E_TIFF", {
      problem: `unsigned samples of 8 or 16 bits or floating-point ones of 32 were expected, but the file has ${bits} bits (${depth})`,
      fix: "Export the frame as a grey TIFF or PNG of 16 bits, or as CSV",
      place: { file },
    });
  }
  const grey = wide
    ? all.toColourspace("grey16").raw({ depth: "ushort" })
    : all.toColourspace("b-w").raw({ depth: "uchar" });
  const raw = aligned(await orRefuse(grey.toBuffer(), file));
  const levels = wide
    ? new Uint16Array(raw.buffer, raw.byteOffset, raw.length / 2)
    : new Uint8Array(raw.buffer, raw.byteOffset, raw.length);
  return {
    sort: "levels",
    pages: cutPages(levels, pages, width, height, file).map((page) => ({
      width,
      height,
      levels: page,
      maxLevel: wide ? 65535 : 255,
      noReadingLevel: null,
    })),
  };
}

let loading: Promise<typeof Sharp> | null = null;

/** The library, loaded when the first TIFF is read, for it costs 50 ms and most runs read none. */
function loadSharp(): Promise<typeof Sharp> {
  loading ??= import("sharp").then(({ default: sharp }) => {
    // It would keep pictures that nobody asks for again.
    sharp.cache(false);
    return sharp;
  });
  return loading;
}

/** Bytes that numbers of up to four bytes can be read from in place; copied only where they begin in between. */
function aligned(raw: Uint8Array): Uint8Array {
  return raw.byteOffset % 4 === 0 ? raw : Uint8Array.from(raw);
}

/** The pages of a picture of all pages; they share its memory. */
function cutPages<T extends Uint8Array | Uint16Array | Float32Array>(
  all: T,
  pages: number,
  width: number,
  height: number,
  file: string,
): T[] {
  const pixels = width * height;
  if (all.length !== pages * pixels)
    throw tiffError(`it states ${pages} × ${width}×${height} pixels and holds ${all.length}`, file);
  return Array.from({ length: pages }, (_, k) => all.subarray(k * pixels, (k + 1) * pixels) as T);
}

async function orRefuse<T>(work: Promise<T>, file: string): Promise<T> {
  try {
    return await work;
  } catch (error) {
    const reason = shortReason(error as Error);
    // The library's own words for a page of another size or sort than the first.
    if (/page \d+ differs from page/.test(reason)) throw unlikePages(reason, file);
    throw tiffError(reason, file);
  }
}

function unlikePages(reason: string, file: string): ToolError {
  return new ToolError("E_FRAME_SIZE", {
    problem: `expected pages of one size and one sort (${reason})`,
    fix: "Put pages of one size and one sort into a file",
    place: { file },
  });
}

function tiffError(reason: string, file: string): ToolError {
  return new ToolError("E_TIFF", {
    problem: `the file can't be read as a TIFF (${reason})`,
    fix: "The file is damaged or of a rare form: export it again, as a grey PNG of 16 bits or as CSV",
    place: { file },
  });
}

/** The first thing that the library says, for it may go on for pages. */
function shortReason({ message }: Error): string {
  return message.trim().split("\n", 1)[0]!.slice(0, 160);
}
