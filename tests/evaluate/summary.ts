// evaluate: scores of many scenes → shares with their intervals, medians, calibration.
import { calibration } from "./calibration.js";
import type { Call, Score } from "./score.js";
import { inverseOf, present, quantile, robustScatter, type Share, shareOf, Z90 } from "./statistics.js";

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
  readonly positionInside90: Share | null;
  readonly alignMedianPx: number | null;
  readonly align95Px: number | null;
  readonly wattsMedian: number | null;
  readonly wattsInside90: Share | null;
  readonly onsetMedianS: number | null;
  readonly onsetInside90: Share | null;
  readonly calibrationError: number | null;
  readonly brier: number | null;
  /** The same over all suspects that were named, not the first alone. */
  readonly calibrationErrorAll: number | null;
  readonly brierAll: number | null;
  readonly analysisMedianMs: number | null;
}

/** Summarise the scores of one chain. */
export function summarise(scores: readonly Score[]): Summary {
  const z = present(scores.map((score) => score.positionZ)).flat();
  const aligned = scores.map((score) => score.alignErrorPx).filter((value) => Number.isFinite(value));
  const onsets = scores.flatMap((score) => score.onsets);
  const all = calibration(scores.flatMap((score) => score.calls));
  return {
    scenes: scores.length,
    failures: scores.filter((score) => score.error !== null).length,
    rightFirst: shareOf(present(scores.map((score) => score.rightFirst))),
    rightPlace: shareOf(present(scores.map((score) => score.rightPlace))),
    clean: shareOf(scores.map((score) => score.falseAlarms === 0)),
    falseAlarmsPerScene:
      scores.reduce((sum, score) => sum + score.falseAlarms, 0) / Math.max(1, scores.length),
    positionMedianPx: quantile(present(scores.map((score) => score.positionErrorPx)), 0.5),
    positionSigmaRatio: inverseOf(robustScatter(z))?.value ?? null,
    positionInside90: shareOf(z.map((one) => Math.abs(one) <= Z90)),
    alignMedianPx: quantile(aligned, 0.5),
    align95Px: quantile(aligned, 0.95),
    wattsMedian: quantile(present(scores.map((score) => score.wattsError)), 0.5),
    wattsInside90: shareOf(present(scores.map((score) => score.wattsInside90))),
    onsetMedianS: quantile(
      present(onsets.map(({ errorS }) => (errorS === null ? null : Math.abs(errorS)))),
      0.5,
    ),
    onsetInside90: shareOf(
      present(
        onsets.map(({ errorS, sigmaS }) =>
          errorS === null || sigmaS === null ? null : Math.abs(errorS) <= Z90 * sigmaS,
        ),
      ),
    ),
    ...calibration(firstCalls(scores)),
    calibrationErrorAll: all.calibrationError,
    brierAll: all.brier,
    analysisMedianMs: quantile(
      scores.map((score) => score.analysisMs),
      0.5,
    ),
  };
}

/** What was stated for the first suspect, where one fault was to be named. */
export function firstCalls(scores: readonly Score[]): Call[] {
  return scores.flatMap(({ topProbability, rightFirst }): Call[] =>
    topProbability === null || rightFirst === null ? [] : [[topProbability, rightFirst]],
  );
}
