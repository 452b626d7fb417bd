// frames: the bytes of a text file in UTF-8 or UTF-16 → bytes that read as UTF-8, without byte order mark.
import { ToolError } from "../core/errors.js";

/** Where a file of another kind shows itself by a zero byte. */
const START_BYTES = 4096;

/** Bring the bytes of a text file to one encoding, so that the number scanner can read bytes.
 *  UTF-8 (and any encoding that shares ASCII's digits) is passed on without a copy. UTF-16 is known by its
 *  byte order mark, or, without one, by every second byte of its start being zero.
 *  @param file name for messages.
 *  @throws ToolError E_TEXT_ENCODING for UTF-32, a UTF-16 text of odd length, and zero bytes in a text.
 */
export function decodeTextBytes(bytes: Uint8Array, file?: string): Uint8Array {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf)
    return refuseZeros(bytes.subarray(3), file);
  if (bytes[0] === 0xff && bytes[1] === 0xfe && bytes[2] === 0 && bytes[3] === 0) {
    throw encodingError("the text is in UTF-32", file);
  }
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return decodeUtf16(bytes.subarray(2), "utf-16le", file);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return decodeUtf16(bytes.subarray(2), "utf-16be", file);
  const guess = guessUtf16(bytes);
  return guess === null ? refuseZeros(bytes, file) : decodeUtf16(bytes, guess, file);
}

/** The order of UTF-16 bytes without a mark, or null if the text is none: digits and separators are ASCII. */
export function guessUtf16(bytes: Uint8Array): "utf-16le" | "utf-16be" | null {
  const pairs = Math.min(64, bytes.length >> 1);
  if (pairs === 0) return null;
  let zeroFirst = 0;
  let zeroSecond = 0;
  for (let i = 0; i < pairs; i++) {
    if (bytes[2 * i] === 0) zeroFirst++;
    if (bytes[2 * i + 1] === 0) zeroSecond++;
  }
  // A degree sign or a Chinese title may break the row of zeros, so not every pair is asked to have one.
  if (zeroFirst === 0 && zeroSecond > pairs / 2) return "utf-16le";
  if (zeroSecond === 0 && zeroFirst > pairs / 2) return "utf-16be";
  return null;
}

function decodeUtf16(bytes: Uint8Array, encoding: "utf-16le" | "utf-16be", file?: string): Uint8Array {
  if (bytes.length % 2 !== 0) throw encodingError("the text is UTF-16 but ends in half a character", file);
  return refuseZeros(new TextEncoder().encode(new TextDecoder(encoding).decode(bytes)), file);
}

function refuseZeros(bytes: Uint8Array, file?: string): Uint8Array {
  // Further on a zero byte is no part of a number, so the scanner refuses it with its line and column.
  const zero = bytes.subarray(0, START_BYTES).indexOf(0);
  if (zero < 0) return bytes;
  throw encodingError(
    `a text in UTF-8 or UTF-16 was expected, but a zero byte stands at byte ${zero + 1}`,
    file,
  );
}

function encodingError(problem: string, file?: string): ToolError {
  return new ToolError("E_TEXT_ENCODING", {
    problem,
    fix: "Export the frame as text in UTF-8, or as a 16-bit grey PNG",
    place: { file },
  });
}
