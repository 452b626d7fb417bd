// read: filtered rows of a PNG → the samples' bytes, in place.
import { corruptPng } from "./png-errors.js";

/** Undo the filters of one pass of a PNG, in place; each row begins with the byte of its filter.
 *  Method: PNG specification, 3rd edition, §9.
 *  @param start place of the pass in `raw`.
 *  @param rowBytes bytes of a row without its filter byte.
 *  @param step bytes from a sample to its left neighbour, at least 1.
 *  @throws ToolError E_PNG_CORRUPT for a filter other than 0 … 4.
 */
export function unfilterPng(
  raw: Uint8Array,
  start: number,
  rowBytes: number,
  rows: number,
  step: number,
  file: string,
): void {
  const stride = rowBytes + 1;
  for (let y = 0; y < rows; y++) {
    const from = start + y * stride + 1;
    const filter = raw[from - 1]!;
    if (filter === 0) continue;
    if (filter > 4)
      throw corruptPng(`row ${y} of the picture has filter ${filter}, which is none of 0 … 4`, file);
    // Above the first row all bytes count as zero: Up changes nothing, Paeth is Sub.
    if (y === 0) {
      if (filter === 1 || filter === 4) undoSub(raw, from, rowBytes, step);
      else if (filter === 3) undoFirstAverage(raw, from, rowBytes, step);
    } else if (filter === 1) undoSub(raw, from, rowBytes, step);
    else if (filter === 2) undoUp(raw, from, rowBytes, stride);
    else if (filter === 3) undoAverage(raw, from, rowBytes, step, stride);
    else undoPaeth(raw, from, rowBytes, step, stride);
  }
}

/** Predict a byte from its left (a), upper (b) and upper left (c) neighbour; ties go to a, then b (§9.4). */
export function paeth(a: number, b: number, c: number): number {
  const pa = Math.abs(b - c);
  const pb = Math.abs(a - c);
  const pc = Math.abs(a + b - 2 * c);
  if (pa <= pb && pa <= pc) return a;
  return pb <= pc ? b : c;
}

function undoSub(raw: Uint8Array, from: number, bytes: number, step: number): void {
  const end = from + bytes;
  for (let i = from + step; i < end; i++) raw[i] = raw[i]! + raw[i - step]!;
}

function undoUp(raw: Uint8Array, from: number, bytes: number, stride: number): void {
  const end = from + bytes;
  for (let i = from; i < end; i++) raw[i] = raw[i]! + raw[i - stride]!;
}

function undoFirstAverage(raw: Uint8Array, from: number, bytes: number, step: number): void {
  const end = from + bytes;
  for (let i = from + step; i < end; i++) raw[i] = raw[i]! + (raw[i - step]! >> 1);
}

function undoAverage(raw: Uint8Array, from: number, bytes: number, step: number, stride: number): void {
  const end = from + bytes;
  const first = Math.min(from + step, end);
  for (let i = from; i < first; i++) raw[i] = raw[i]! + (raw[i - stride]! >> 1);
  for (let i = first; i < end; i++) raw[i] = raw[i]! + ((raw[i - step]! + raw[i - stride]!) >> 1);
}

function undoPaeth(raw: Uint8Array, from: number, bytes: number, step: number, stride: number): void {
  const end = from + bytes;
  const first = Math.min(from + step, end);
  for (let i = from; i < first; i++) raw[i] = raw[i]! + raw[i - stride]!;
  for (let i = first; i < end; i++) {
    raw[i] = raw[i]! + paeth(raw[i - step]!, raw[i - stride]!, raw[i - stride - step]!);
  }
}
