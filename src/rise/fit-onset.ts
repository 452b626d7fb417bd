// rise: height of a spot over time, with its noise → when it began to heat and how fast.
import type { OptionsOf } from "../core/options.js";
import { GROWTH_SHAPES, type GrowthShape, growthAt } from "./growth-shapes.js";
import { shortenCourse } from "./shorten-course.js";
import { type GrowthMatch, matchGrowth, type WhitenedCourse, whitenCourse } from "./whiten-course.js";

/** Defaults of `fitOnset`. */
export const ONSET_DEFAULTS = Object.freeze({
  /** Nothing heats before power-on, which lies between these two, s on the clock of the times. */
  earliestS: 0,
  latestStartS: 0,
  /** Probability, before the course is seen, that a source heats from power-on and not from some moment later: what is
   *  fed directly does, and what a controller switches on does not. */
  startShare: 0.3,
  /** Time scale τ = s²/2α expected before the course is seen, s, and the spread of its logarithm: sources of 0.5–3 mm
   *  on plates of 10⁻⁶–10⁻⁵ m²/s have 0.01–5 s. */
  scaleS: 0.5,
  scaleSpread: 1.5,
  /** The rate is that of so long after the onset, s; never less than two intervals. */
  rateOverS: 1,
  /** Growth must be this many sigma, or an onset can't be told from noise. */
  leastSignificance: 5,
  /** An onset less sure than this share of the burst says nothing. */
  mostSigmaShare: 0.2,
  /** The model's own error, as a share of the rise: uneven copper bends the course of growth. */
  modelShare: 0.01,
  /** The first round of the search tries onsets all over the burst, so its cost grows with the square of the length: of
   *  a longer course it sees this many means of neighbours. What follows sees every frame. */
  mostInFirstRound: 500,
  /** With fewer frames there is no course. */
  leastFrames: 5,
});

/** Result of `fitOnset`. */
export interface OnsetFit {
  /** On the clock of the times, s. */
  readonly onsetS: number;
  readonly onsetSigmaS: number;
  /** Mean growth over the first second after the onset (over two intervals where they are longer), K/s. */
  readonly rateKPerS: number;
  readonly rateSigmaKPerS: number;
  /** √(χ² without growth − χ² with it). */
  readonly significance: number;
}

/** A rectangle of onsets and log time scales. */
interface Box {
  readonly fromS: number;
  readonly toS: number;
  readonly fromLog: number;
  readonly toLog: number;
}

/** How likely an onset (s) and a logarithm of a time scale are before the course is seen. */
interface Prior {
  readonly onset: (onsetS: number) => number;
  readonly scale: (log: number) => number;
}

/** A course, and what of it the first round of narrowing looks at. */
interface Courses {
  readonly course: WhitenedCourse;
  readonly first: WhitenedCourse;
}

/** Weighted sums over a grid of onsets and time scales. */
interface Sums {
  weight: number;
  onset: number;
  onset2: number;
  rate: number;
  rate2: number;
}

/** Points of the grids of onsets and of time scales. */
const ONSET_STEPS = 28;
const SCALE_STEPS = 10;
const COARSE_SCALE_STEPS = 14;
/** Rounds of narrowing a grid to where the probability lies. */
const ROUNDS = 3;
/** Cells of the grid kept around what is likely, and more where the first round saw means. */
const MARGIN = 1;
const WIDE_MARGIN = 3;
/** One point of the grid, used again and again. */
const point: GrowthMatch = { gg: 0, gy: 0 };
/** Grid points this much less likely than the best may be cut off, in units of χ²/2. */
const CUT = 12;

/** Find when a spot began to heat, from the heights of its frames.
 *  Model: height = level + slope·t + A·growth(t − t₀; τ), A ≥ 0, with Gaussian priors on level (the baseline's noise)
 *  and slope (drift). τ and the shape of growth (`GROWTH_SHAPES`) are not known: level, slope and A are integrated in
 *  closed form, τ (log-normal) and t₀ (`startShare` at power-on, the rest even) on a grid that narrows to where the
 *  probability lies. Onset and rate are the mean and standard deviation of what remains, so they include not knowing
 *  the shape. If the best fit leaves more than the noise, the noise is raised to what it leaves (Birge 1932, Phys. Rev.
 *  40:207, from memory).
 *  @param timesS rising, s.
 *  @param riseK height of the spot in each frame, K.
 *  @param sigmaK noise of each height, independent from frame to frame, K.
 *  @param levelSigmaK error that all heights share, K.
 *  @param slopeSigmaKPerS drift that may run through them, K/s.
 *  @returns null where no growth stands out or its onset is too unsure.
 *  @throws RangeError if lengths differ (a fault of the caller).
 */
export function fitOnset(
  timesS: ArrayLike<number>,
  riseK: ArrayLike<number>,
  sigmaK: ArrayLike<number>,
  levelSigmaK: number,
  slopeSigmaKPerS: number,
  options: OptionsOf<typeof ONSET_DEFAULTS> = {},
): OnsetFit | null {
  const o = { ...ONSET_DEFAULTS, ...options };
  const count = timesS.length;
  if (riseK.length !== count || sigmaK.length !== count) throw new RangeError("the course's lengths differ");
  if (count < o.leastFrames) return null;
  const lastS = timesS[count - 1]!;
  const intervalS = (lastS - timesS[0]!) / (count - 1);
  const whole: Box = {
    fromS: Math.min(o.earliestS, timesS[0]!),
    // Two frames after the onset at least: one alone would be an outlier.
    toS: timesS[count - 2]!,
    fromLog: Math.log(0.2 * intervalS),
    toLog: Math.log(4 * (lastS - timesS[0]!)),
  };
  const sigmas = Float64Array.from({ length: count }, (_, k) =>
    Math.hypot(sigmaK[k]!, o.modelShare * riseK[k]!),
  );
  const whitened = (sigmaOf: ArrayLike<number>): Courses => {
    const short = shortenCourse({ timesS, riseK, sigmaK: sigmaOf }, o.mostInFirstRound);
    const course = whitenCourse(timesS, riseK, sigmaOf, levelSigmaK, slopeSigmaKPerS);
    if (short.timesS.length === count) return { course, first: course };
    const first = whitenCourse(short.timesS, short.riseK, short.sigmaK, levelSigmaK, slopeSigmaKPerS);
    return { course, first };
  };
  let courses = whitened(sigmas);
  const boxes = GROWTH_SHAPES.map((shape) => narrow(courses, shape, whole));
  const least = Math.min(...boxes.map((box) => box.leastChi2));
  const grown = courses.course.square - least;
  const excess = Math.max(1, least / Math.max(1, count - 4));
  if (!(grown / excess >= o.leastSignificance ** 2)) return null;
  if (excess > 1) {
    const raised = sigmas.map((sigma) => sigma * Math.sqrt(excess));
    courses = whitened(raised);
  }
  const overS = Math.max(o.rateOverS, 2 * intervalS);
  const prior: Prior = {
    onset: onsetPrior(whole, o.latestStartS, o.startShare),
    scale: (log) => Math.exp(-0.5 * ((log - Math.log(o.scaleS)) / o.scaleSpread) ** 2),
  };
  const reference = excess > 1 ? least / excess : least;
  const sums: Sums = { weight: 0, onset: 0, onset2: 0, rate: 0, rate2: 0 };
  GROWTH_SHAPES.forEach((shape, k) => {
    const box = excess > 1 ? narrow(courses, shape, whole).box : boxes[k]!.box;
    integrate(courses.course, shape, box, prior, reference, overS, sums);
  });
  if (!(sums.weight > 0)) return null;
  const onsetS = sums.onset / sums.weight;
  const onsetSigmaS = Math.sqrt(Math.max(0, sums.onset2 / sums.weight - onsetS * onsetS));
  const rateKPerS = sums.rate / sums.weight;
  if (!(onsetSigmaS <= o.mostSigmaShare * (lastS - whole.fromS))) return null;
  return {
    onsetS,
    onsetSigmaS,
    rateKPerS,
    rateSigmaKPerS: Math.sqrt(Math.max(0, sums.rate2 / sums.weight - rateKPerS * rateKPerS)),
    significance: Math.sqrt(grown / excess),
  };
}

/** Density of onsets before the course is seen: a share of it within the start, the rest even over what follows. */
function onsetPrior(
  { fromS, toS }: Box,
  latestStartS: number,
  startShare: number,
): (onsetS: number) => number {
  const startS = latestStartS - fromS;
  const restS = toS - Math.max(fromS, latestStartS);
  if (!(startS > 0) || !(restS > 0)) return () => 1;
  const within = startShare / startS;
  const after = (1 - startShare) / restS;
  return (onsetS) => (onsetS < latestStartS ? within : after);
}

/** Narrow a box, round by round, to where the probability of one shape lies.
 *  @returns the box, and the least χ² met.
 */
function narrow(
  { course: all, first }: Courses,
  shape: GrowthShape,
  whole: Box,
): { box: Box; leastChi2: number } {
  let box = whole;
  let leastChi2 = all.square;
  // One round more, for means leave a wider box.
  const rounds = first === all ? ROUNDS : ROUNDS + 1;
  for (let round = 0; round < rounds; round++) {
    const course = round === 0 ? first : all;
    const margin = course === all ? MARGIN : WIDE_MARGIN;
    const onsets = round === 0 ? Math.max(ONSET_STEPS, 2 * course.timesS.length) : ONSET_STEPS;
    const scales = round === 0 ? COARSE_SCALE_STEPS : SCALE_STEPS;
    const chi2 = new Float64Array(onsets * scales);
    const dOnset = (box.toS - box.fromS) / onsets;
    const dScale = (box.toLog - box.fromLog) / scales;
    for (let j = 0; j < scales; j++) {
      const scaleS = Math.exp(box.fromLog + (j + 0.5) * dScale);
      for (let i = 0; i < onsets; i++) {
        matchGrowth(course, shape, box.fromS + (i + 0.5) * dOnset, scaleS, point);
        const at = point.gy > 0 ? course.square - (point.gy * point.gy) / point.gg : course.square;
        chi2[j * onsets + i] = at;
        if (course === all && at < leastChi2) leastChi2 = at;
      }
    }
    let best = Number.POSITIVE_INFINITY;
    for (const at of chi2) if (at < best) best = at;
    let [i0, i1, j0, j1] = [onsets, -1, scales, -1];
    for (let k = 0; k < chi2.length; k++) {
      if (chi2[k]! > best + 2 * CUT) continue;
      const i = k % onsets;
      const j = (k - i) / onsets;
      if (i < i0) i0 = i;
      if (i > i1) i1 = i;
      if (j < j0) j0 = j;
      if (j > j1) j1 = j;
    }
    box = {
      fromS: Math.max(whole.fromS, box.fromS + (i0 - margin) * dOnset),
      toS: Math.min(whole.toS, box.fromS + (i1 + 1 + margin) * dOnset),
      fromLog: Math.max(whole.fromLog, box.fromLog + (j0 - margin) * dScale),
      toLog: Math.min(whole.toLog, box.fromLog + (j1 + 1 + margin) * dScale),
    };
  }
  return { box, leastChi2 };
}

/** Add a box's share of the probability, with its moments of onset and rate. */
function integrate(
  course: WhitenedCourse,
  shape: GrowthShape,
  box: Box,
  prior: Prior,
  referenceChi2: number,
  overS: number,
  sums: Sums,
): void {
  const dOnset = (box.toS - box.fromS) / ONSET_STEPS;
  const dScale = (box.toLog - box.fromLog) / SCALE_STEPS;
  const lastS = course.timesS[course.timesS.length - 1]!;
  for (let j = 0; j < SCALE_STEPS; j++) {
    const log = box.fromLog + (j + 0.5) * dScale;
    const scaleS = Math.exp(log);
    const area = prior.scale(log) * dOnset * dScale;
    for (let i = 0; i < ONSET_STEPS; i++) {
      const onsetS = box.fromS + (i + 0.5) * dOnset;
      matchGrowth(course, shape, onsetS, scaleS, point);
      if (!(point.gy > 0)) continue;
      const chi2 = course.square - (point.gy * point.gy) / point.gg;
      const likelihood = Math.exp(-0.5 * (chi2 - referenceChi2)) / Math.sqrt(point.gg);
      const weight = likelihood * prior.onset(onsetS) * area;
      const perHeight = growthAt(shape, overS, scaleS) / growthAt(shape, lastS - onsetS, scaleS) / overS;
      const rate = (point.gy / point.gg) * perHeight;
      sums.weight += weight;
      sums.onset += weight * onsetS;
      sums.onset2 += weight * onsetS * onsetS;
      sums.rate += weight * rate;
      sums.rate2 += weight * (rate * rate + (perHeight * perHeight) / point.gg);
    }
  }
}
