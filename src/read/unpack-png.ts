// read: the inflated bytes of a PNG → its samples, pixel by pixel.
import { type Kernels, kernelsFor } from "../numeric/kernels.js";
import type { PngHeader } from "./read-png-chunks.js";
import { unfilterPng } from "./unfilter-png.js";

/** One of the reduced pictures an interlaced PNG is made of, or the whole of one that is not. */
interface Pass {
  readonly x0: number;
  readonly y0: number;
  readonly dx: number;
  readonly dy: number;
  readonly width: number;
  readonly height: number;
  readonly rowBytes: number;
}

const CHANNELS: Readonly<Record<PngHeader["colourType"], number>> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 };
/** First column, first row, step right, step down of the seven passes (Adam7, PNG 3rd edition, §8.1). */
const ADAM7 = [
  [0, 0, 8, 8],
  [4, 0, 8, 8],
  [0, 4, 4, 8],
  [2, 0, 4, 4],
  [0, 2, 2, 4],
  [1, 0, 2, 2],
  [0, 1, 1, 2],
] as const;

/** Samples of a pixel. */
export function channelsOf(header: PngHeader): number {
  return CHANNELS[header.colourType];
}

/** How many bytes the picture of a PNG must inflate to. */
export function inflatedBytes(header: PngHeader): number {
  return passesOf(header).reduce((sum, pass) => sum + (pass.rowBytes + 1) * pass.height, 0);
}

/** Undo filters and interlacing.
 *  @param raw exactly `inflatedBytes(header)` bytes; changed.
 *  @returns samples as whole numbers of `header.depth` bits, row-major, the channels of a pixel side by side.
 *  @throws ToolError E_PNG_CORRUPT for an unknown filter.
 */
export function unpackPng(raw: Uint8Array, header: PngHeader, file: string): Uint8Array | Uint16Array {
  const channels = channelsOf(header);
  const length = header.width * header.height * channels;
  const kernels = header.depth === 16 && !header.interlaced ? kernelsFor(length) : null;
  const unpacked = kernels === null ? null : unpackByKernel(kernels, raw, header);
  if (unpacked !== null) return unpacked;
  const samples = header.depth === 16 ? new Uint16Array(length) : new Uint8Array(length);
  const step = Math.max(1, (channels * header.depth) >> 3);
  let start = 0;
  for (const pass of passesOf(header)) {
    unfilterPng(raw, start, pass.rowBytes, pass.height, step, file);
    for (let y = 0; y < pass.height; y++) {
      const from = start + y * (pass.rowBytes + 1) + 1;
      const to = ((pass.y0 + y * pass.dy) * header.width + pass.x0) * channels;
      copyRow(raw, from, samples, to, pass, channels, header.depth);
    }
    start += (pass.rowBytes + 1) * pass.height;
  }
  return samples;
}

/** The same by the compiled kernels, for 16 bits and no interlacing; null if a filter is unknown, which the plain code
 *  names. */
function unpackByKernel(kernels: Kernels, raw: Uint8Array, header: PngHeader): Uint16Array | null {
  const { width, height } = header;
  const samples = width * channelsOf(header);
  const at = kernels.put(raw);
  const out = kernels.take(2 * samples * height);
  if (kernels.run.unfilter(at, 2 * samples, height, 2 * channelsOf(header)) === 0) return null;
  kernels.run.joinBytes(at, samples, height, out);
  return kernels.shorts(out, samples * height).slice();
}

function copyRow(
  raw: Uint8Array,
  from: number,
  samples: Uint8Array | Uint16Array,
  to: number,
  pass: Pass,
  channels: number,
  depth: number,
): void {
  const count = pass.width * channels;
  if (pass.dx === 1 && depth === 8) {
    samples.set(raw.subarray(from, from + count), to);
  } else if (pass.dx === 1 && depth === 16) {
    for (let i = 0, p = from; i < count; i++, p += 2) samples[to + i] = (raw[p]! << 8) | raw[p + 1]!;
  } else {
    const jump = pass.dx * channels;
    for (let x = 0; x < pass.width; x++) {
      for (let c = 0; c < channels; c++)
        samples[to + x * jump + c] = sampleAt(raw, from, x * channels + c, depth);
    }
  }
}

function sampleAt(raw: Uint8Array, from: number, index: number, depth: number): number {
  if (depth === 8) return raw[from + index]!;
  if (depth === 16) return (raw[from + 2 * index]! << 8) | raw[from + 2 * index + 1]!;
  const bit = index * depth;
  // The leftmost sample stands in the highest bits of a byte.
  return (raw[from + (bit >> 3)]! >> (8 - depth - (bit & 7))) & ((1 << depth) - 1);
}

function passesOf(header: PngHeader): Pass[] {
  const bits = CHANNELS[header.colourType] * header.depth;
  const steps = header.interlaced ? ADAM7 : ([[0, 0, 1, 1]] as const);
  const passes: Pass[] = [];
  for (const [x0, y0, dx, dy] of steps) {
    const width = Math.ceil((header.width - x0) / dx);
    const height = Math.ceil((header.height - y0) / dy);
    // A pass without pixels is left out of the file, its filter bytes included.
    if (width > 0 && height > 0)
      passes.push({ x0, y0, dx, dy, width, height, rowBytes: Math.ceil((width * bits) / 8) });
  }
  return passes;
}
