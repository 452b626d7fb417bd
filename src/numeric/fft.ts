// numeric: complex numbers of any count → their discrete Fourier transform.
import { chirpFft } from "./chirp-fft.js";
import { mixedRadixFft, radicesOf } from "./mixed-radix-fft.js";

/** A transform of fixed length with its tables and working memory; not to be used from two places at once. */
export interface Fft {
  readonly size: number;
  /** Transform in place: X[k] = Σ x[j]·e^(−2πi·jk/size), not scaled. With `re` and `im` swapped: the inverse × size. */
  readonly transform: (re: Float64Array, im: Float64Array) => void;
}

/** The largest prime that is done by its direct sum; above it the chirp transform is cheaper. */
const LARGEST_DIRECT_PRIME = 31;

/** Prepare a fast Fourier transform of any length: mixed radix, or a chirp where the length has a large prime.
 *  @throws RangeError if size is not a positive whole number (a fault of the caller).
 */
export function createFft(size: number): Fft {
  if (!Number.isInteger(size) || size < 1)
    throw new RangeError(`a transform needs a positive whole size, not ${size}`);
  const radices = radicesOf(size);
  return radices.some((p) => p > LARGEST_DIRECT_PRIME) ? chirpFft(size) : mixedRadixFft(size, radices);
}
