// evaluate: scores of many scenes → shares with their intervals, medians, calibration.
import type { Score } from "./score.js";

/** A share with its 95 % interval. */
export interface Share {
  readonly count: number;
  readonly of: number;
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

export interface Summary {
  readonly scenes: number;
  readonly failures: number;
  readonly rightFirst: Share | null;
  readonly rightPlace: Share | null;
  /** Scenes without a hotspot where nothing heats. */
  readonly clean: Share | null;
  readonly falseAlarmsPerScene: number;
  readonly positionMedianPx: number | null;
  /** Stated uncertainty ÷ true scatter; 1 is honest. */
  readonly positionSigmaRatio: number | null;
  readonly alignMedianPx: number | null;
  readonly align95Px: number | null;
  readonly wattsMedianKnown: number | null;
  /** Plate not told, board at rest; and not yet at rest, where the frames of a pair alone can't say it. */
  readonly wattsMedianSettled: number | null;
  readonly wattsMedianRising: number | null;
  readonly wattsInside90: Share | null;
  readonly calibrationError: number | null;
  readonly brier: number | null;
  readonly analysisMedianMs: number | null;
}

/** Summarise the scores of one chain. */
export function summarise(scores: readonly Score[]): Summary {
  const z = scores.flatMap((score) => (score.positionZ === null ? [] : score.positionZ));
  const aligned = scores.map((score) => score.alignErrorPx).filter((value) => Number.isFinite(value));
  const stated = scores.filter((score) => score.topProbability !== null && score.rightFirst !== null);
  const watts = (wanted: (score: Score) => boolean): number | null =>
    quantile(present(scores.filter(wanted).map((score) => score.wattsError)), 0.5);
  return {
    scenes: scores.length,
    failures: scores.filter((score) => score.error !== null).length,
    rightFirst: shareOf(present(scores.map((score) => score.rightFirst))),
    rightPlace: shareOf(present(scores.map((score) => score.rightPlace))),
    clean: shareOf(scores.map((score) => score.falseAlarms === 0)),
    falseAlarmsPerScene:
      scores.reduce((sum, score) => sum + score.falseAlarms, 0) / Math.max(1, scores.length),
    positionMedianPx: quantile(present(scores.map((score) => score.positionErrorPx)), 0.5),
    positionSigmaRatio: sigmaRatio(z),
    alignMedianPx: quantile(aligned, 0.5),
    align95Px: quantile(aligned, 0.95),
    wattsMedianKnown: watts((s) => s.plateKnown),
    wattsMedianSettled: watts((s) => !s.plateKnown && s.settled),
    wattsMedianRising: watts((s) => !s.plateKnown && !s.settled),
    wattsInside90: shareOf(present(scores.map((score) => score.wattsInside90))),
    ...calibration(stated.map((score) => [score.topProbability!, score.rightFirst!])),
    analysisMedianMs: quantile(
      scores.map((score) => score.analysisMs),
      0.5,
    ),
  };
}

function present<T>(values: readonly (T | null)[]): T[] {
  return values.filter((value): value is T => value !== null);
}

/** Wilson's score interval at 95 % (Wilson 1927, doi 10.1080/01621459.1927.10502953). */
export function shareOf(values: readonly boolean[]): Share | null {
  const of = values.length;
  if (of === 0) return null;
  const count = values.filter((value) => value).length;
  const z = 1.959964;
  const share = count / of;
  const middle = (share + (z * z) / (2 * of)) / (1 + (z * z) / of);
  const half = (z / (1 + (z * z) / of)) * Math.sqrt((share * (1 - share)) / of + (z * z) / (4 * of * of));
  return { count, of, share, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

/** Linear between order statistics. */
export function quantile(values: readonly number[], at: number): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const place = at * (sorted.length - 1);
  const low = Math.floor(place);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low]! + (sorted[high]! - sorted[low]!) * (place - low);
}

/** 1 ÷ robust standard deviation about 0 of error ÷ stated uncertainty: the median of |z| is 0.6745 if honest. */
function sigmaRatio(z: readonly number[]): number | null {
  const middle = quantile(z.map(Math.abs), 0.5);
  return middle === null || middle === 0 ? null : 0.6745 / middle;
}

/** Expected calibration error over ten equal bins (Guo et al. 2017, arXiv 1706.04599, §2), and Brier's score (1950). */
export function calibration(stated: readonly (readonly [number, boolean])[]): {
  calibrationError: number | null;
  brier: number | null;
} {
  if (stated.length === 0) return { calibrationError: null, brier: null };
  const bins = Array.from({ length: 10 }, () => ({ n: 0, said: 0, right: 0 }));
  let brier = 0;
  for (const [probability, right] of stated) {
    const bin = bins[Math.min(9, Math.floor(probability * 10))]!;
    bin.n++;
    bin.said += probability;
    bin.right += right ? 1 : 0;
    brier += (probability - (right ? 1 : 0)) ** 2;
  }
  const error = bins.reduce((sum, bin) => sum + Math.abs(bin.said - bin.right), 0);
  return { calibrationError: error / stated.length, brier: brier / stated.length };
}
