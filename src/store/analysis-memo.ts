// store: the last analysis that was made → the same one again for whoever asks for an analysis of the very same things.
import type { Analysis } from "../findings/analysis.js";
import type { AttemptPlan } from "./analyse-attempt.js";

/** An analysis, and its pictures, which take longest of all that is written of it. */
export interface Analysed {
  readonly analysis: Analysis;
  readonly overlayPng: Uint8Array;
  /** Of the second view, where there is one. */
  readonly otherOverlayPng: Uint8Array | undefined;
}

/** Keeps one analysis for as long as the process lives: what was analysed ahead is there when an attempt is made of
 *  it. */
export interface AnalysisMemo {
  /** The analysis of a plan; null where the last one was of anything else. */
  find(plan: AttemptPlan, toolVersion: string): Analysed | null;
  keep(plan: AttemptPlan, toolVersion: string, analysed: Analysed): void;
  clear(): void;
}

/** Make a place for an analysis. */
export function openAnalysisMemo(): AnalysisMemo {
  let kept: { readonly key: string; readonly analysed: Analysed } | null = null;
  return {
    find: (plan, toolVersion) => (kept?.key === keyOf(plan, toolVersion) ? kept.analysed : null),
    keep(plan, toolVersion, analysed) {
      kept = { key: keyOf(plan, toolVersion), analysed };
    },
    clear() {
      kept = null;
    },
  };
}

/** All that `analyseAttempt` looks at: files by their hashes and by the names that they have in the findings, and of
 *  what was said the options and the watts. A remark changes nothing. */
function keyOf({ board, views, options, conditions }: AttemptPlan, toolVersion: string): string {
  const { volts, amps } = conditions;
  return JSON.stringify([board, views, options, volts, amps, toolVersion]);
}
