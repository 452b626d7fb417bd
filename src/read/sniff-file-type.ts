// read: first bytes and name of a file → what sort of frame it holds.
import { ToolError } from "../core/errors.js";
import { guessUtf16 } from "../frames/decode-text-bytes.js";

/** Sorts of files that hold frames. */
export type FrameFileType = "png" | "tiff" | "text";

/** Starts by which other kinds of files are known, and what they are; from the formats' own specifications. */
const OTHERS: readonly (readonly [string, string])[] = [
  ["FFD8FF", "a JPEG picture: its lossy colours hold no temperatures"],
  ["474946383", "a GIF picture: its colours hold no temperatures"],
  ["424D", "a BMP picture"],
  ["25504446", "a PDF document"],
  ["504B0304", "a ZIP archive or a spreadsheet"],
  ["D0CF11E0", "an office document of the old binary form"],
  ["1F8B", "a gzip archive"],
  ["52494646", "a RIFF file: a WebP picture, a film or sound"],
  ["894844460D0A1A0A", "an HDF5 file"],
  ["1A45DFA3", "a Matroska film"],
];
const PNG_NAME = /\.png$/i;
const TIFF_NAME = /\.tiff?$/i;

/** Tell what a file is by its bytes; its name counts only where the bytes say nothing.
 *  So a damaged PNG is refused as a PNG, and a JPEG called `.png` as a JPEG.
 *  @throws ToolError E_FRAME_TYPE for files of another kind, E_FRAME_EMPTY for a file without bytes.
 */
export function sniffFileType(bytes: Uint8Array, file: string): FrameFileType {
  if (bytes.length === 0) {
    throw new ToolError("E_FRAME_EMPTY", {
      problem: "the file is empty (0 bytes)",
      fix: "Export the frame again",
      place: { file },
    });
  }
  const start = hex(bytes.subarray(0, 16));
  if (start.startsWith("89504E470D0A1A0A")) return "png";
  if (beginsAsTiff(bytes)) return "tiff";
  const other = OTHERS.find(([magic]) => start.startsWith(magic));
  // Two letters at the start of a text may be BM as well.
  if (other !== undefined && !(other[0] === "424D" && !hasZero(bytes))) throw refuse(other[1], file);
  if (/^[0-9A-F]{2}504E47/.test(start) || start.startsWith("89") || PNG_NAME.test(file)) return "png";
  if (TIFF_NAME.test(file)) return "tiff";
  const utf16 = start.startsWith("FFFE") || start.startsWith("FEFF") || guessUtf16(bytes) !== null;
  if (!utf16 && hasZero(bytes)) throw refuse("a binary file of a kind unknown here", file);
  return "text";
}

/** Tell whether a file begins as a TIFF does: 42 or, in big files, 43, in either byte order (TIFF 6.0, section 2;
 *  BigTIFF). */
export function beginsAsTiff(bytes: Uint8Array): boolean {
  return /^(?:49492A00|4D4D002A|49492B00|4D4D002B)/.test(hex(bytes.subarray(0, 4)));
}

function refuse(kind: string, file: string): ToolError {
  return new ToolError("E_FRAME_TYPE", {
    problem: `a frame as text, PNG or TIFF was expected, but this is ${kind}`,
    fix: "Export the temperatures of all pixels as CSV, or as a grey PNG or TIFF of 16 bits",
    place: { file },
  });
}

function hasZero(bytes: Uint8Array): boolean {
  return bytes.subarray(0, 4096).indexOf(0) >= 0;
}

function hex(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString("hex").toUpperCase();
}
