// numeric: picture ↔ its two-dimensional cosine transform, the natural waves of a board with insulated edges.
import { createFft } from "./fft.js";

/** Transform a picture into cosine coefficients (type II, orthonormal): coefficient (kx, ky) stands at ky·width + kx.
 *  Σ of the squares is the same on both sides; coefficient (0, 0) is √(width·height) × the mean.
 *  Method: each pair of lines as one complex Fourier transform of the same length (Makhoul 1980, IEEE Trans. Acoust.
 *  Speech Signal Process. 28:27; citation from memory); O(n log n) for every length, fastest with factors 2, 3, 5.
 *  @param data any unit, row-major, without NaN: one NaN spreads over everything; not modified.
 *  @returns same unit, width×height.
 *  @throws RangeError if the size does not fit (a fault of the caller).
 */
export function cosineTransform(
  data: Float32Array | Float64Array,
  width: number,
  height: number,
): Float64Array {
  return bothWays(data, width, height, forwardLines);
}

/** Turn cosine coefficients back into the picture (type III, orthonormal): the inverse of `cosineTransform`. */
export function inverseCosineTransform(
  coefficients: Float32Array | Float64Array,
  width: number,
  height: number,
): Float64Array {
  return bothWays(coefficients, width, height, inverseLines);
}

/** Transforms two lines at `a` and `b` of the source and writes them to `toA` and `toB`, `step` apart. */
type PairOfLines = (
  source: Float32Array | Float64Array,
  a: number,
  b: number,
  target: Float64Array,
  toA: number,
  toB: number,
  step: number,
) => void;

function bothWays(
  data: Float32Array | Float64Array,
  width: number,
  height: number,
  prepare: (length: number) => PairOfLines,
): Float64Array {
  if (data.length !== width * height)
    throw new RangeError(`${width}×${height} does not fit ${data.length} values`);
  const turned = new Float64Array(width * height);
  const rows = prepare(width);
  // An odd last line is its own partner and is written twice.
  for (let y = 0; y < height; y += 2) {
    const partner = Math.min(y + 1, height - 1);
    rows(data, y * width, partner * width, turned, y, partner, height);
  }
  const out = new Float64Array(width * height);
  const columns = prepare(height);
  for (let x = 0; x < width; x += 2) {
    const partner = Math.min(x + 1, width - 1);
    columns(turned, x * height, partner * height, out, x, partner, width);
  }
  return out;
}

interface LineTables {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly cos: Float64Array;
  readonly sin: Float64Array;
}

/** Quarter-wave factors e^(iπk/2n). */
function lineTables(length: number): LineTables {
  const cos = new Float64Array(length);
  const sin = new Float64Array(length);
  for (let k = 0; k < length; k++) {
    cos[k] = Math.cos((Math.PI * k) / (2 * length));
    sin[k] = Math.sin((Math.PI * k) / (2 * length));
  }
  return { re: new Float64Array(length), im: new Float64Array(length), cos, sin };
}

function forwardLines(length: number): PairOfLines {
  const fft = createFft(length);
  const { re, im, cos, sin } = lineTables(length);
  const last = length - 1;
  const first = Math.sqrt(1 / length);
  const scale = Math.sqrt(2 / length) / 2;
  return (source, a, b, target, toA, toB, step) => {
    for (let i = 0; i < length; i++) {
      // Even places in order, odd ones backwards from the end.
      const to = i % 2 === 0 ? i >> 1 : last - (i >> 1);
      re[to] = source[a + i]!;
      im[to] = source[b + i]!;
    }
    fft.transform(re, im);
    target[toA] = re[0]! * first;
    target[toB] = im[0]! * first;
    for (let k = 1; k < length; k++) {
      const mirror = length - k;
      // Spectra of the two real lines, both × 2.
      const aRe = re[k]! + re[mirror]!;
      const aIm = im[k]! - im[mirror]!;
      const bRe = im[k]! + im[mirror]!;
      const bIm = re[mirror]! - re[k]!;
      target[toA + k * step] = scale * (aRe * cos[k]! + aIm * sin[k]!);
      target[toB + k * step] = scale * (bRe * cos[k]! + bIm * sin[k]!);
    }
  };
}

function inverseLines(length: number): PairOfLines {
  const fft = createFft(length);
  const { re, im, cos, sin } = lineTables(length);
  const last = length - 1;
  const first = Math.sqrt(1 / length);
  const scale = Math.sqrt(1 / (2 * length));
  return (source, a, b, target, toA, toB, step) => {
    re[0] = source[a]! * first;
    im[0] = source[b]! * first;
    for (let k = 1; k < length; k++) {
      // e^(iπk/2n)·(C[k] − i·C[n−k]) is the spectrum of one line; the second is added times i.
      const aEven = source[a + k]!;
      const aOdd = source[a + length - k]!;
      const bEven = source[b + k]!;
      const bOdd = source[b + length - k]!;
      const c = cos[k]!;
      const s = sin[k]!;
      const aRe = aEven * c + aOdd * s;
      const aIm = aEven * s - aOdd * c;
      const bRe = bEven * c + bOdd * s;
      const bIm = bEven * s - bOdd * c;
      re[k] = scale * (aRe - bIm);
      im[k] = scale * (aIm + bRe);
    }
    // Swapped: the inverse transform.
    fft.transform(im, re);
    for (let i = 0; i < length; i++) {
      const from = i % 2 === 0 ? i >> 1 : last - (i >> 1);
      target[toA + i * step] = re[from]!;
      target[toB + i * step] = im[from]!;
    }
  };
}
