// rise: courses of cells → their power at every frequency, in units of the noise there.
import { createFft } from "../numeric/fft.js";
import { median } from "../numeric/median.js";

/** Grid points in a step of 1/(frames): between two of them a line loses at most 3 % of its power. */
const OVERSAMPLING = 4;
/** What the noise of all cells has beyond white and slow drift is the middle of those within so many steps of
 *  1/(frames): wider than a line. */
const SMOOTH_STEPS = 10;
/** A power beyond so many times its noise is cut there when the noise is measured: a line; of noise that is 0.2 %. */
const CUT = 6;
/** Rounds of the fit of white noise and slow drift: each brings their shares nearer by a third or so. */
const ROUNDS = 25;
/** A cell's own noise counts as much as what all cells have if it rests on so many frequencies: cells are alike. */
const ALIKE_FREQUENCIES = 40;
/** The median of an exponential distribution ÷ its mean. */
const MEDIAN_SHARE = Math.LN2;

/** Power of all cells over frequency. */
export interface CycleSpectrum {
  /** Cycles a frame, rising. */
  readonly frequencies: Float64Array;
  /** Cell by cell, power ÷ its mean where there is only noise: exponential with mean 1. */
  readonly powers: readonly Float32Array[];
  /** Noise of white kind of each cell, K²: what the powers were divided by at frequencies where there is no drift. */
  readonly cellNoise: Float64Array;
}

/** Compute the periodogram of each cell and its noise.
 *  The noise of a cell is white noise, drawn towards that of all cells, and slow drift as of a random walk, its own;
 *  what all cells have beyond that over frequency is taken along, smoothed so that a line does not enter it. Method:
 *  Schuster 1898, Terr. Magn. 3:13; Scargle 1982, Astrophys. J. 263:835; noise by the likelihood of Whittle 1953, Ark.
 *  Mat. 2:423 (all from memory).
 *  @param lowest, highest cycles a frame.
 */
export function cycleSpectrum(
  series: readonly Float64Array[],
  lowest: number,
  highest: number,
): CycleSpectrum {
  const count = series[0]?.length ?? 0;
  let size = 2;
  while (size < OVERSAMPLING * count) size *= 2;
  const first = Math.ceil(lowest * size - 1e-9);
  const last = Math.floor(highest * size + 1e-9);
  const frequencies = Float64Array.from(
    { length: Math.max(0, last - first + 1) },
    (_, k) => (first + k) / size,
  );
  const powers = rawPowers(series, size, first, frequencies.length);
  const walk = frequencies.map((frequency) => 1 / (2 * Math.sin(Math.PI * frequency)) ** 2);
  const fits = powers.map((power) => fitNoise(power, walk));
  const typical = median(fits.map(({ white }) => white));
  const independent = Math.max(1, (highest - lowest) * count);
  powers.forEach((power, c) => {
    const fit = fits[c]!;
    fit.white = (independent * fit.white + ALIKE_FREQUENCIES * typical) / (independent + ALIKE_FREQUENCIES);
    for (let k = 0; k < power.length; k++) power[k]! /= fit.white + fit.drift * walk[k]!;
  });
  const column = new Float64Array(powers.length);
  const middle = frequencies.map((_, k) => {
    for (let c = 0; c < powers.length; c++) column[c] = powers[c]![k]!;
    return median(column) / MEDIAN_SHARE;
  });
  const reach = Math.round((SMOOTH_STEPS * size) / count);
  const shape = middle.map((_, k) => median(middle.subarray(Math.max(0, k - reach), k + reach + 1)));
  for (const power of powers) for (let k = 0; k < power.length; k++) power[k]! /= shape[k]!;
  return { frequencies, powers, cellNoise: Float64Array.from(fits, ({ white }) => white) };
}

/** White noise and drift of one cell, by multiplicative steps that each make the powers more likely. */
function fitNoise(power: Float32Array, walk: Float64Array): { white: number; drift: number } {
  let white = median(power) / MEDIAN_SHARE;
  let drift = white / walk[0]!;
  for (let round = 0; round < ROUNDS; round++) {
    let [whiteUp, whiteDown, driftUp, driftDown] = [0, 0, 0, 0];
    // The grid is finer than the steps between independent frequencies.
    for (let k = 0; k < power.length; k += OVERSAMPLING) {
      const noise = white + drift * walk[k]!;
      const ratio = Math.min(CUT, power[k]! / noise);
      whiteUp += ratio / noise;
      whiteDown += 1 / noise;
      driftUp += (ratio * walk[k]!) / noise;
      driftDown += walk[k]! / noise;
    }
    white *= whiteUp / whiteDown;
    drift *= driftUp / driftDown;
  }
  return { white, drift };
}

/** |Σ x·e^(−2πi·f·n)|² ÷ count, two cells in one transform. */
function rawPowers(
  series: readonly Float64Array[],
  size: number,
  first: number,
  length: number,
): Float32Array[] {
  const fft = createFft(size);
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  const out = series.map(() => new Float32Array(length));
  for (let c = 0; c < series.length; c += 2) {
    const a = series[c]!;
    const b = series[c + 1];
    re.fill(0);
    im.fill(0);
    re.set(a);
    if (b !== undefined) im.set(b);
    fft.transform(re, im);
    for (let k = 0; k < length; k++) {
      const at = first + k;
      const back = (size - at) % size;
      // The transform of a + i·b: a's is the part that mirrors with its conjugate, b's the rest.
      const aRe = 0.5 * (re[at]! + re[back]!);
      const aIm = 0.5 * (im[at]! - im[back]!);
      out[c]![k] = (aRe * aRe + aIm * aIm) / a.length;
      if (b === undefined) continue;
      const bRe = 0.5 * (im[at]! + im[back]!);
      const bIm = 0.5 * (re[back]! - re[at]!);
      out[c + 1]![k] = (bRe * bRe + bIm * bIm) / a.length;
    }
  }
  return out;
}
