// numeric: complex numbers of a count with large primes → their discrete Fourier transform.
import type { Fft } from "./fft.js";
import { mixedRadixFft, radicesOf } from "./mixed-radix-fft.js";

/** Prepare a transform of any length through one of a power of two.
 *  Method: Bluestein 1970, IEEE Trans. Audio Electroacoust. 18:451 (citation from memory):
 *  jk = (j² + k² − (k−j)²)/2 turns the transform into a convolution with a chirp.
 */
export function chirpFft(size: number): Fft {
  let padded = 1;
  while (padded < 2 * size - 1) padded *= 2;
  const inner = mixedRadixFft(padded, radicesOf(padded));
  const chirpRe = new Float64Array(size);
  const chirpIm = new Float64Array(size);
  const filterRe = new Float64Array(padded);
  const filterIm = new Float64Array(padded);
  for (let j = 0; j < size; j++) {
    // j² modulo 2·size keeps the angle small and exact.
    const angle = (Math.PI * ((j * j) % (2 * size))) / size;
    chirpRe[j] = Math.cos(angle);
    chirpIm[j] = -Math.sin(angle);
    filterRe[j] = chirpRe[j]! / padded;
    filterIm[j] = -chirpIm[j]! / padded;
    if (j > 0) {
      filterRe[padded - j] = filterRe[j]!;
      filterIm[padded - j] = filterIm[j]!;
    }
  }
  inner.transform(filterRe, filterIm);
  const workRe = new Float64Array(padded);
  const workIm = new Float64Array(padded);
  const transform = (re: Float64Array, im: Float64Array): void => {
    if (re.length !== size || im.length !== size)
      throw new RangeError(`the transform is for ${size} numbers`);
    workRe.fill(0);
    workIm.fill(0);
    for (let j = 0; j < size; j++) {
      workRe[j] = re[j]! * chirpRe[j]! - im[j]! * chirpIm[j]!;
      workIm[j] = re[j]! * chirpIm[j]! + im[j]! * chirpRe[j]!;
    }
    inner.transform(workRe, workIm);
    for (let j = 0; j < padded; j++) {
      const wr = workRe[j]! * filterRe[j]! - workIm[j]! * filterIm[j]!;
      workIm[j] = workRe[j]! * filterIm[j]! + workIm[j]! * filterRe[j]!;
      workRe[j] = wr;
    }
    inner.transform(workIm, workRe);
    for (let j = 0; j < size; j++) {
      re[j] = workRe[j]! * chirpRe[j]! - workIm[j]! * chirpIm[j]!;
      im[j] = workRe[j]! * chirpIm[j]! + workIm[j]! * chirpRe[j]!;
    }
  };
  return { size, transform };
}
