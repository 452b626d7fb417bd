// rise: number of frames and period → the courses in time that cycled power, its harmonics, drift and noise are told
// by.
import { raiseTo } from "../core/raise-to.js";

/** Orders of the harmonics fitted beside the fundamental where the frame rate can show them: with a period that is no
 *  whole share of the sequence they would leak into it, and higher ones are weak (a square wave's fall off as 1/order
 *  and heat lags them away). */
const FITTED_HARMONICS = [2, 3];
/** Highest harmonic that neighbours must keep clear of, and the one where frames are few. */
const CLEAR_OF_HARMONIC = 9;
const LEAST_CLEAR_OF_HARMONIC = 3;
/** … by this many steps of 1/(frames). */
const CLEARANCE = 0.75;
/** Neighbours wanted: their 24 quadratures give the noise of a pixel to 14 %, and its surroundings to 5 %. */
const MOST_NEIGHBOURS = 12;
/** With fewer than this the worst harmonics are no hindrance. */
const LEAST_NEIGHBOURS = 3;
/** A course that lost all but this share of its square to earlier ones tells nothing of its own. */
const LEAST_LEFT = 0.3;

/** Courses in time, each one number a frame. */
export interface CycleBasis {
  /** Orthonormal: constant, slope and bend of slow drift, harmonics, fundamental. Their sum over a pixel's readings
   *  times the course is its amount. */
  readonly fitted: readonly Float64Array[];
  /** The readings' sum with these is the amplitude of the cosine and of the sine, least squares with all of
   *  `fitted`. */
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
  /** Standard deviation of an amplitude for white noise of 1 a reading: √(2/N) for whole periods. */
  readonly gain: number;
  /** Two quadratures each of frequencies beside that of the supply, orthogonal to all of `fitted` and to each other, so
   *  scaled that their sum with the readings has the noise of an amplitude and nothing of the supply's rhythm. */
  readonly neighbours: readonly (readonly [Float64Array, Float64Array])[];
}

/** Make the courses for a supply that is switched in a rhythm.
 *  Method: least-squares spectrum (Lomb 1976, Astrophys. Space Sci. 39:447; Scargle 1982, Astrophys. J. 263:835, both
 *  from memory). Differs: drift and harmonics are fitted along; the noise is measured at neighbouring frequencies.
 *  @param frameCount frames at even intervals. @param periodFrames frames in one period, above 2; need not be whole.
 */
export function cycleBasis(frameCount: number, periodFrames: number): CycleBasis {
  const frequency = 1 / periodFrames;
  const half = (frameCount - 1) / 2;
  const fitted: Float64Array[] = [];
  const add = (course: Float64Array): void => {
    const own = orthogonal(course, fitted);
    if (own !== null) fitted.push(own);
  };
  for (const power of [0, 1, 2]) {
    add(Float64Array.from({ length: frameCount }, (_, n) => raiseTo((n - half) / Math.max(1, half), power)));
  }
  for (const order of FITTED_HARMONICS) {
    if (order * frequency > 0.5 - 0.5 / frameCount) continue;
    add(wave(frameCount, order * frequency, Math.cos));
    add(wave(frameCount, order * frequency, Math.sin));
  }
  const cos = wave(frameCount, frequency, Math.cos);
  const sin = wave(frameCount, frequency, Math.sin);
  const cosOnly = leftOver(cos, fitted);
  const sinOnly = leftOver(sin, fitted);
  // The two are nearly orthogonal: their dual courses are each without the other's share.
  const [cc, ss, cs] = [dot(cosOnly, cosOnly), dot(sinOnly, sinOnly), dot(cosOnly, sinOnly)];
  const determinant = cc * ss - cs * cs;
  const cosine = cosOnly.map((c, n) => (ss * c - cs * sinOnly[n]!) / determinant);
  const sine = sinOnly.map((s, n) => (cc * s - cs * cosOnly[n]!) / determinant);
  const gain = Math.sqrt((dot(cosine, cosine) + dot(sine, sine)) / 2);
  add(cos);
  add(sin);
  return { fitted, cosine, sine, gain, neighbours: neighbourCourses(frameCount, frequency, fitted, gain) };
}

function neighbourCourses(
  frameCount: number,
  frequency: number,
  fitted: readonly Float64Array[],
  gain: number,
): [Float64Array, Float64Array][] {
  const used = [...fitted];
  const out: [Float64Array, Float64Array][] = [];
  for (const { places, most } of neighbourGroups(frameCount, frequency)) {
    for (const place of places) {
      if (out.length >= most) break;
      const cos = orthogonal(wave(frameCount, place, Math.cos), used);
      if (cos === null) continue;
      const sin = orthogonal(wave(frameCount, place, Math.sin), [...used, cos]);
      if (sin === null) continue;
      used.push(cos, sin);
      out.push([cos.map((value) => gain * value), sin.map((value) => gain * value)]);
    }
  }
  return out;
}

/** Frequencies beside that of the supply, cycles a frame, nearest first: whole steps of 1/(frames) away and clear of
 *  slow drift. First those clear of all harmonics and their images beyond the frame rate; where these are few, those
 *  clear of the strong ones, with the next step on either side, where a slightly wrong period leaks; where there are
 *  hardly any, all that are not the supply's own (harmonics that are fitted do not enter).
 */
function neighbourGroups(
  frameCount: number,
  frequency: number,
): { readonly places: readonly number[]; readonly most: number }[] {
  const step = 1 / frameCount;
  const clearOf = (place: number, highest: number): boolean => {
    for (let order = 2; order <= highest; order++) {
      const folded = Math.abs(order * frequency - Math.round(order * frequency));
      if (Math.abs(place - folded) < CLEARANCE * step) return false;
    }
    return true;
  };
  const around = (away: number): number[] =>
    [frequency - away * step, frequency + away * step].filter(
      (place) => place >= 1.5 * step && place <= 0.5 - 0.5 * step,
    );
  const far = Array.from({ length: frameCount }, (_, k) => k + 2).flatMap(around);
  const all = [...far, ...around(1)];
  return [
    { places: far.filter((place) => clearOf(place, CLEAR_OF_HARMONIC)), most: MOST_NEIGHBOURS },
    { places: all.filter((place) => clearOf(place, LEAST_CLEAR_OF_HARMONIC)), most: MOST_NEIGHBOURS / 2 },
    { places: all, most: LEAST_NEIGHBOURS },
  ];
}

function wave(count: number, frequency: number, shape: (angle: number) => number): Float64Array {
  return Float64Array.from({ length: count }, (_, n) => shape(2 * Math.PI * frequency * n));
}

/** What is left of a course beside orthonormal ones. Twice, for rounding. */
function leftOver(course: Float64Array, others: readonly Float64Array[]): Float64Array {
  const left = Float64Array.from(course);
  for (let pass = 0; pass < 2; pass++) {
    for (const other of others) {
      const share = dot(left, other);
      for (let n = 0; n < left.length; n++) left[n]! -= share * other[n]!;
    }
  }
  return left;
}

/** The same, of length 1; null where hardly anything is left. */
function orthogonal(course: Float64Array, others: readonly Float64Array[]): Float64Array | null {
  const left = leftOver(course, others);
  const square = dot(left, left);
  if (!(square > LEAST_LEFT * dot(course, course))) return null;
  const length = Math.sqrt(square);
  return left.map((value) => value / length);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += a[n]! * b[n]!;
  return sum;
}
