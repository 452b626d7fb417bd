// findings: pair of a burst and the place of a hotspot → when it began to warm, how fast, and its course.
import type { FramePoint } from "../core/units.js";
import { burstTimeSigma, FIRST_FRAME_SHARE } from "../rise/burst-times.js";
import { fitOnset } from "../rise/fit-onset.js";
import { orderOnsets } from "../rise/order-onsets.js";
import { timeCourse } from "../rise/time-course.js";
import type { Hotspot } from "./findings-schema.js";
import { nearestPixel } from "./nearest-pixel.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Width of a spot that has none of its own, px. */
const USUAL_WIDTH_PX = 2;
/** A contrast at a spot's own size passes this share of its peak, as in `spotKernel`. */
const PEAK_SHARE = 0.3;
/** In a few seconds a camera's pattern drifts by this share of what it may have drifted since the baseline. */
const DRIFT_SHARE = 0.2;

/** What a burst says of a hotspot; all null without one. */
export type MeasuredOnset = Required<
  Pick<Hotspot, "onsetS" | "onsetSigmaS" | "rateKPerS" | "rateSigmaKPerS" | "course">
>;

const UNKNOWN: MeasuredOnset = Object.freeze({
  onsetS: null,
  onsetSigmaS: null,
  rateKPerS: null,
  rateSigmaKPerS: null,
  course: null,
});

/** Follow a hotspot through the burst and find its onset.
 *  The uncertainty of the onset includes that of the moment of power-on, which all hotspots of a burst share.
 */
export function measureOnset(pair: PreparedPair, at: FramePoint, widthPx: number | null): MeasuredOnset {
  const { burst } = pair;
  if (burst === undefined) return UNKNOWN;
  const size = widthPx ?? USUAL_WIDTH_PX;
  const course = timeCourse(burst, pair.rise, at, size, pair.alignment.transform);
  if (course === null) return UNKNOWN;
  const { timesS, riseK, sigmaK } = course;
  const listed = Array.from(timesS, (timeS, k) => ({ timeS, riseK: riseK[k]!, sigmaK: sigmaK[k]! }));
  const levelSigmaK = Math.max(sigmaK[0]! / Math.sqrt(burst.baselineFrames), staticNoise(pair, at, size));
  const lastS = timesS[timesS.length - 1]!;
  const fit = fitOnset(timesS, riseK, sigmaK, levelSigmaK, (DRIFT_SHARE * levelSigmaK) / lastS, {
    earliestS: -FIRST_FRAME_SHARE / burst.rateHz,
    latestStartS: (1 - FIRST_FRAME_SHARE) / burst.rateHz,
  });
  if (fit === null) return { ...UNKNOWN, course: listed };
  return {
    onsetS: Math.max(0, fit.onsetS),
    onsetSigmaS: Math.hypot(fit.onsetSigmaS, burstTimeSigma(burst.rateHz)),
    rateKPerS: fit.rateKPerS,
    rateSigmaKPerS: fit.rateSigmaKPerS,
    course: listed,
  };
}

/** Tell of each hotspot how surely it began to warm before, or after, the others. */
export function compareOnsets(hotspots: readonly Hotspot[], rateHz: number | null): Hotspot[] {
  if (rateHz === null) return [...hotspots];
  const shared = burstTimeSigma(rateHz);
  const leads = orderOnsets(
    hotspots.map(({ onsetS, onsetSigmaS }) =>
      typeof onsetS === "number" && typeof onsetSigmaS === "number"
        ? { onsetS, sigmaS: Math.sqrt(Math.max(0, onsetSigmaS ** 2 - shared ** 2)) }
        : null,
    ),
  );
  return hotspots.map((hotspot, k) => ({ ...hotspot, onsetLeadSigma: leads[k]! }));
}

/** What edges that a nudge left may do to the height of a spot, K: the noise of the contrast at the size nearest to
 *  it. */
function staticNoise(pair: PreparedPair, at: FramePoint, sizePx: number): number {
  const { width, height } = pair.shape;
  const nearest = [...pair.layers].sort(
    (a, b) => Math.abs(Math.log(a.sigmaPx / sizePx)) - Math.abs(Math.log(b.sigmaPx / sizePx)),
  )[0]!;
  return nearest.noise.data[nearestPixel(at, width, height)]! / PEAK_SHARE;
}
