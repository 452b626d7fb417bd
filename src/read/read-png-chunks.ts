// read: bytes of a PNG file → its header, palette, transparency, texts and compressed picture.
import { ToolError } from "../core/errors.js";
import { crc32 } from "./crc32.js";
import { corruptPng } from "./png-errors.js";

/** What the header chunk says. */
export interface PngHeader {
  readonly width: number;
  readonly height: number;
  /** Bits of a sample. */
  readonly depth: 1 | 2 | 4 | 8 | 16;
  /** 0 grey, 2 colour, 3 palette, 4 grey with alpha, 6 colour with alpha. */
  readonly colourType: 0 | 2 | 3 | 4 | 6;
  readonly interlaced: boolean;
}

/** The chunks of a PNG file that matter to a picture of levels. */
export interface PngChunks {
  readonly header: PngHeader;
  /** Data of PLTE: red, green, blue of each entry. */
  readonly palette: Uint8Array | null;
  /** Data of tRNS. */
  readonly transparency: Uint8Array | null;
  /** Text chunks in the order of the file. */
  readonly texts: readonly { readonly type: "tEXt" | "zTXt" | "iTXt"; readonly data: Uint8Array }[];
  /** Data of the IDAT chunks: together one zlib stream. */
  readonly compressed: readonly Uint8Array[];
}

/** A picture with more pixels is refused before memory is taken for it: 12 times the largest thermal sensors. */
export const MAX_PIXELS = 16 * 1024 * 1024;

const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const DEPTHS: Readonly<Record<number, readonly number[]>> = {
  0: [1, 2, 4, 8, 16],
  2: [8, 16],
  3: [1, 2, 4, 8],
  4: [8, 16],
  6: [8, 16],
};

/** Take a PNG file apart and check its frame: signature, lengths, CRCs, header and the order of chunks.
 *  Method: PNG (Portable Network Graphics) Specification, 3rd edition, W3C 2025, §5 and §11.
 *  Bytes after IEND are passed over, as is every ancillary chunk of no interest here once its CRC is right.
 *  @throws ToolError E_PNG_CORRUPT, or E_FRAME_LARGE beyond `MAX_PIXELS`.
 */
export function readPngChunks(bytes: Uint8Array, file: string): PngChunks {
  if (SIGNATURE.some((byte, i) => bytes[i] !== byte)) {
    throw corruptPng("the first eight bytes are not the signature of a PNG file", file);
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const texts: { type: "tEXt" | "zTXt" | "iTXt"; data: Uint8Array }[] = [];
  const compressed: Uint8Array[] = [];
  let header: PngHeader | null = null;
  let palette: Uint8Array | null = null;
  let transparency: Uint8Array | null = null;
  let previous = "";
  for (let p = 8; ; ) {
    if (p + 12 > bytes.length)
      throw corruptPng(`the file ends at byte ${bytes.length}, before its IEND chunk`, file);
    const length = view.getUint32(p);
    const type = String.fromCharCode(bytes[p + 4]!, bytes[p + 5]!, bytes[p + 6]!, bytes[p + 7]!);
    if (!/^[A-Za-z]{4}$/.test(type))
      throw corruptPng(`no chunk begins at byte ${p + 1} where one must`, file);
    if (p + 12 + length > bytes.length) {
      throw corruptPng(`chunk ${type} says it is ${length} bytes long, but the file ends before that`, file);
    }
    if (crc32(bytes, p + 4, p + 8 + length) !== view.getUint32(p + 8 + length)) {
      throw corruptPng(`the check sum (CRC) of chunk ${type} at byte ${p + 1} is wrong`, file);
    }
    const data = bytes.subarray(p + 8, p + 8 + length);
    if ((type === "IHDR") !== (header === null)) {
      throw corruptPng(
        header === null ? `the first chunk is ${type}, not IHDR` : "there are two IHDR chunks",
        file,
      );
    }
    if (type === "IHDR") header = readHeader(data, file);
    else if (type === "PLTE") {
      if (palette !== null || compressed.length > 0)
        throw corruptPng("the palette stands in a wrong place", file);
      palette = checkPalette(data, header!, file);
    } else if (type === "tRNS") {
      if (transparency !== null || compressed.length > 0)
        throw corruptPng("chunk tRNS stands in a wrong place", file);
      transparency = checkTransparency(data, header!, palette, file);
    } else if (type === "IDAT") {
      if (compressed.length > 0 && previous !== "IDAT")
        throw corruptPng("another chunk parts the IDAT chunks", file);
      compressed.push(data);
    } else if (type === "tEXt" || type === "zTXt" || type === "iTXt") texts.push({ type, data });
    else if (type === "IEND") break;
    else if ((bytes[p + 4]! & 0x20) === 0)
      throw corruptPng(`${type} is no critical chunk of the PNG standard`, file);
    previous = type;
    p += 12 + length;
  }
  if (compressed.length === 0) throw corruptPng("the file holds no picture (no IDAT chunk)", file);
  if (header!.colourType === 3 && palette === null)
    throw corruptPng("a palette picture comes without PLTE", file);
  return { header: header!, palette, transparency, texts, compressed };
}

function readHeader(data: Uint8Array, file: string): PngHeader {
  if (data.length !== 13) throw corruptPng(`the header is ${data.length} bytes long, not 13`, file);
  const view = new DataView(data.buffer, data.byteOffset, 13);
  const width = view.getUint32(0);
  const height = view.getUint32(4);
  const [depth, colourType, compression, filter, interlace] = data.subarray(8) as unknown as number[];
  if (width < 1 || height < 1 || width > 0x7fffffff || height > 0x7fffffff) {
    throw corruptPng(`a picture of ${width}×${height} can't be`, file);
  }
  const depths = DEPTHS[colourType!];
  if (depths === undefined) throw corruptPng(`colour type ${colourType} is none of 0, 2, 3, 4, 6`, file);
  if (!depths.includes(depth!)) {
    throw corruptPng(
      `colour type ${colourType} allows ${depths.join(", ")} bits a sample, not ${depth}`,
      file,
    );
  }
  if (compression !== 0 || filter !== 0 || interlace! > 1) {
    throw corruptPng(
      `compression ${compression}, filter ${filter} or interlace ${interlace} is none of the standard`,
      file,
    );
  }
  if (width * height > MAX_PIXELS) {
    throw new ToolError("E_FRAME_LARGE", {
      problem: `the picture is ${width}×${height}; at most ${MAX_PIXELS} pixels are read`,
      fix: "Export the frame at the resolution of the sensor",
      place: { file },
    });
  }
  return {
    width,
    height,
    depth: depth as PngHeader["depth"],
    colourType: colourType as PngHeader["colourType"],
    interlaced: interlace === 1,
  };
}

function checkPalette(data: Uint8Array, header: PngHeader, file: string): Uint8Array {
  const most = header.colourType === 3 ? 2 ** header.depth : 256;
  const entries = data.length / 3;
  if (header.colourType === 0 || header.colourType === 4)
    throw corruptPng("a grey picture has a palette", file);
  if (!Number.isInteger(entries) || entries < 1 || entries > most) {
    throw corruptPng(`the palette is ${data.length} bytes long, not 3 for each of 1 … ${most} entries`, file);
  }
  return data;
}

function checkTransparency(
  data: Uint8Array,
  header: PngHeader,
  palette: Uint8Array | null,
  file: string,
): Uint8Array {
  const { colourType } = header;
  const fits =
    (colourType === 0 && data.length === 2) ||
    (colourType === 2 && data.length === 6) ||
    (colourType === 3 && palette !== null && data.length >= 1 && data.length <= palette.length / 3);
  if (!fits)
    throw corruptPng(`chunk tRNS of ${data.length} bytes does not fit colour type ${colourType}`, file);
  return data;
}
