// numeric: complex numbers whose count has small factors → their discrete Fourier transform.
import type { Fft } from "./fft.js";

/** Split a length into 4s, then 2, 3s, 5s and larger primes in rising order. */
export function radicesOf(size: number): number[] {
  const radices: number[] = [];
  let rest = size;
  for (const p of [4, 2, 3, 5]) {
    for (; rest % p === 0; rest /= p) radices.push(p);
  }
  for (let p = 7; rest > 1; p += 2) {
    if (p * p > rest) p = rest;
    for (; rest % p === 0; rest /= p) radices.push(p);
  }
  return radices;
}

/** Prepare a transform of a length that is the product of `radices`.
 *  Method: self-sorting passes from one array to another (Stockham; Temperton 1983, J. Comput. Phys. 52:1; citation
 *  from memory). A radix p costs p² per group, so large primes are for `chirpFft`.
 */
export function mixedRadixFft(size: number, radices: readonly number[]): Fft {
  const cos = new Float64Array(size);
  const sin = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    cos[i] = Math.cos((2 * Math.PI * i) / size);
    sin[i] = -Math.sin((2 * Math.PI * i) / size);
  }
  const otherRe = new Float64Array(size);
  const otherIm = new Float64Array(size);
  const transform = (re: Float64Array, im: Float64Array): void => {
    if (re.length !== size || im.length !== size)
      throw new RangeError(`the transform is for ${size} numbers`);
    let length = size;
    let stride = 1;
    let inPlace = true;
    for (const radix of radices) {
      const pass: Pass = {
        length,
        stride,
        cos,
        sin,
        sourceRe: inPlace ? re : otherRe,
        sourceIm: inPlace ? im : otherIm,
        targetRe: inPlace ? otherRe : re,
        targetIm: inPlace ? otherIm : im,
      };
      if (radix === 4) pass4(pass);
      else if (radix === 2) pass2(pass);
      else passOdd(pass, radix);
      length /= radix;
      stride *= radix;
      inPlace = !inPlace;
    }
    if (!inPlace) {
      re.set(otherRe);
      im.set(otherIm);
    }
  };
  return { size, transform };
}

interface Pass {
  /** Length of the sub-transforms still to be split, and the number of them. */
  readonly length: number;
  readonly stride: number;
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  readonly sourceRe: Float64Array;
  readonly sourceIm: Float64Array;
  readonly targetRe: Float64Array;
  readonly targetIm: Float64Array;
}

/** In every pass: source index r + stride·(q + m·j), target index r + stride·(radix·q + k), times w^(q·k·stride). */
function pass2(pass: Pass): void {
  const { stride, cos, sin, sourceRe, sourceIm, targetRe, targetIm } = pass;
  const m = pass.length / 2;
  for (let q = 0; q < m; q++) {
    const wr = cos[q * stride]!;
    const wi = sin[q * stride]!;
    for (let r = 0; r < stride; r++) {
      const a = r + stride * q;
      const b = a + stride * m;
      const to = r + stride * 2 * q;
      const dr = sourceRe[a]! - sourceRe[b]!;
      const di = sourceIm[a]! - sourceIm[b]!;
      targetRe[to] = sourceRe[a]! + sourceRe[b]!;
      targetIm[to] = sourceIm[a]! + sourceIm[b]!;
      targetRe[to + stride] = dr * wr - di * wi;
      targetIm[to + stride] = dr * wi + di * wr;
    }
  }
}

function pass4(pass: Pass): void {
  const { stride, cos, sin, sourceRe, sourceIm, targetRe, targetIm } = pass;
  const m = pass.length / 4;
  const step = stride * m;
  for (let q = 0; q < m; q++) {
    const w1r = cos[q * stride]!;
    const w1i = sin[q * stride]!;
    const w2r = cos[2 * q * stride]!;
    const w2i = sin[2 * q * stride]!;
    const w3r = cos[3 * q * stride]!;
    const w3i = sin[3 * q * stride]!;
    for (let r = 0; r < stride; r++) {
      const a = r + stride * q;
      const b = a + step;
      const c = b + step;
      const d = c + step;
      const to = r + stride * 4 * q;
      const sumAcR = sourceRe[a]! + sourceRe[c]!;
      const sumAcI = sourceIm[a]! + sourceIm[c]!;
      const difAcR = sourceRe[a]! - sourceRe[c]!;
      const difAcI = sourceIm[a]! - sourceIm[c]!;
      const sumBdR = sourceRe[b]! + sourceRe[d]!;
      const sumBdI = sourceIm[b]! + sourceIm[d]!;
      const difBdR = sourceRe[b]! - sourceRe[d]!;
      const difBdI = sourceIm[b]! - sourceIm[d]!;
      targetRe[to] = sumAcR + sumBdR;
      targetIm[to] = sumAcI + sumBdI;
      const x1r = difAcR + difBdI;
      const x1i = difAcI - difBdR;
      targetRe[to + stride] = x1r * w1r - x1i * w1i;
      targetIm[to + stride] = x1r * w1i + x1i * w1r;
      const x2r = sumAcR - sumBdR;
      const x2i = sumAcI - sumBdI;
      targetRe[to + 2 * stride] = x2r * w2r - x2i * w2i;
      targetIm[to + 2 * stride] = x2r * w2i + x2i * w2r;
      const x3r = difAcR - difBdI;
      const x3i = difAcI + difBdR;
      targetRe[to + 3 * stride] = x3r * w3r - x3i * w3i;
      targetIm[to + 3 * stride] = x3r * w3i + x3i * w3r;
    }
  }
}

/** Direct sum over an odd radix, using that outputs k and radix − k share their sums and differences. */
function passOdd(pass: Pass, radix: number): void {
  const { stride, cos, sin, sourceRe, sourceIm, targetRe, targetIm } = pass;
  const m = pass.length / radix;
  const step = stride * m;
  const half = (radix - 1) >> 1;
  const root = cos.length / radix;
  const sumR = new Float64Array(half + 1);
  const sumI = new Float64Array(half + 1);
  const difR = new Float64Array(half + 1);
  const difI = new Float64Array(half + 1);
  for (let q = 0; q < m; q++) {
    for (let r = 0; r < stride; r++) {
      const from = r + stride * q;
      const to = r + stride * radix * q;
      const r0 = sourceRe[from]!;
      const i0 = sourceIm[from]!;
      let totalR = r0;
      let totalI = i0;
      for (let j = 1; j <= half; j++) {
        const a = from + j * step;
        const b = from + (radix - j) * step;
        sumR[j] = sourceRe[a]! + sourceRe[b]!;
        sumI[j] = sourceIm[a]! + sourceIm[b]!;
        difR[j] = sourceRe[a]! - sourceRe[b]!;
        difI[j] = sourceIm[a]! - sourceIm[b]!;
        totalR += sumR[j]!;
        totalI += sumI[j]!;
      }
      targetRe[to] = totalR;
      targetIm[to] = totalI;
      for (let k = 1; k <= half; k++) {
        let evenR = r0;
        let evenI = i0;
        let oddR = 0;
        let oddI = 0;
        for (let j = 1, jk = k; j <= half; j++, jk += k) {
          if (jk >= radix) jk -= radix;
          const c = cos[jk * root]!;
          const s = sin[jk * root]!;
          evenR += c * sumR[j]!;
          evenI += c * sumI[j]!;
          oddR -= s * difI[j]!;
          oddI += s * difR[j]!;
        }
        rotate(pass, to + k * stride, evenR + oddR, evenI + oddI, q * k * stride);
        rotate(pass, to + (radix - k) * stride, evenR - oddR, evenI - oddI, q * (radix - k) * stride);
      }
    }
  }
}

function rotate(pass: Pass, to: number, re: number, im: number, angle: number): void {
  const wr = pass.cos[angle]!;
  const wi = pass.sin[angle]!;
  pass.targetRe[to] = re * wr - im * wi;
  pass.targetIm[to] = re * wi + im * wr;
}
