// frames: bytes of a text → where each line begins and ends.
import { ToolError } from "../core/errors.js";

/** Lines of a text; `bytes.subarray(starts[i], ends[i])` is line i without its line end. */
export interface Lines {
  readonly starts: readonly number[];
  readonly ends: readonly number[];
  /** Line number in the file, from 1; a quoted field may span several. */
  readonly numbers: readonly number[];
  /** Whether the text holds a quote. */
  readonly quoted: boolean;
}

/** Bounds that keep a hostile file from filling the memory. */
const TEXT_LIMITS = Object.freeze({
  /** Bytes of a line: 65,536 values of 16 characters, where the widest thermal sensors have 2,000 columns. */
  lineBytes: 1024 * 1024,
  /** More than an hour of a burst of 480 rows at one frame a second. */
  lines: 2 * 1024 * 1024,
});

const LF = 10;
const CR = 13;
const QUOTE = 34;

/** Find the lines of a text that ends them by LF, CR LF, CR CR LF or (if it holds no LF) CR.
 *  A line end inside a quoted field does not end the line (RFC 4180 §2.6); a quote opens a field only at its
 *  start, so that an inch sign in a title opens nothing.
 *  @throws ToolError E_TEXT_QUOTE if a quoted field never closes, E_FRAME_LARGE beyond `TEXT_LIMITS`.
 */
export function findLines(bytes: Uint8Array, file?: string): Lines {
  const endByte = bytes.indexOf(LF) >= 0 ? LF : CR;
  const quoted = bytes.indexOf(QUOTE) >= 0;
  const lines = { starts: [] as number[], ends: [] as number[], numbers: [] as number[], quoted };
  let number = 1;
  for (let start = 0; start < bytes.length; ) {
    let end = bytes.indexOf(endByte, start);
    if (end < 0) end = bytes.length;
    let spanned = 1;
    if (quoted) {
      const whole = endOfQuotedLine(bytes, start, endByte, number, file);
      end = whole.end;
      spanned = whole.spanned;
    }
    let textEnd = end;
    while (textEnd > start && bytes[textEnd - 1] === CR) textEnd--;
    if (textEnd - start > TEXT_LIMITS.lineBytes) {
      throw tooLarge(
        `a line of ${textEnd - start} bytes was found; at most ${TEXT_LIMITS.lineBytes} are read`,
        number,
        file,
      );
    }
    if (lines.starts.length === TEXT_LIMITS.lines) {
      throw tooLarge(`the text has more than ${TEXT_LIMITS.lines} lines`, number, file);
    }
    lines.starts.push(start);
    lines.ends.push(textEnd);
    lines.numbers.push(number);
    number += spanned;
    start = end + 1;
  }
  return lines;
}

function tooLarge(problem: string, line: number, file?: string): ToolError {
  return new ToolError("E_FRAME_LARGE", {
    problem,
    fix: "Export one row of pixels on each line, at the resolution of the sensor, and long recordings in parts",
    place: { file, line },
  });
}

function endOfQuotedLine(bytes: Uint8Array, start: number, endByte: number, line: number, file?: string) {
  let spanned = 1;
  let atFieldStart = true;
  let p = start;
  while (p < bytes.length && bytes[p] !== endByte) {
    const c = bytes[p]!;
    if (c === QUOTE && atFieldStart) {
      const close = closingQuote(bytes, p, bytes.length);
      if (close < 0) {
        throw new ToolError("E_TEXT_QUOTE", {
          problem: "a quoted field opens here and never closes",
          fix: "Close it by a second quote, or remove the quote",
          place: { file, line: line + spanned - 1, column: p - start + 1 },
        });
      }
      for (let i = p; i < close; i++) if (bytes[i] === endByte) spanned++;
      p = close + 1;
      atFieldStart = false;
      continue;
    }
    if (c === 44 || c === 59 || c === 9) atFieldStart = true;
    else if (c !== 32) atFieldStart = false;
    p++;
  }
  return { end: p, spanned };
}

/** Place of the quote that closes the field opened at `open`; doubled quotes are text. −1 if there is none. */
export function closingQuote(bytes: Uint8Array, open: number, end: number): number {
  for (let p = open + 1; p < end; p++) {
    if (bytes[p] !== QUOTE) continue;
    if (bytes[p + 1] !== QUOTE || p + 1 >= end) return p;
    p++;
  }
  return -1;
}
