// evaluate: stated probabilities and what came true → errors of calibration, and the curve behind them.
import type { Call } from "./score.js";
import { type Estimate, type Share, shareOf, Z95 } from "./statistics.js";

/** Expected calibration error over ten equal bins (Guo et al. 2017, arXiv 1706.04599, §2), and Brier's score (1950). */
export function calibration(calls: readonly Call[]): {
  calibrationError: number | null;
  brier: number | null;
} {
  if (calls.length === 0) return { calibrationError: null, brier: null };
  const bins = Array.from({ length: 10 }, () => ({ said: 0, right: 0 }));
  let brier = 0;
  for (const [probability, right] of calls) {
    const bin = bins[Math.min(9, Math.floor(probability * 10))]!;
    bin.said += probability;
    bin.right += right ? 1 : 0;
    brier += (probability - (right ? 1 : 0)) ** 2;
  }
  const error = bins.reduce((sum, bin) => sum + Math.abs(bin.said - bin.right), 0);
  return { calibrationError: error / calls.length, brier: brier / calls.length };
}

/** Brier's score with its interval, from the scatter of its terms. */
export function brierWithInterval(calls: readonly Call[]): Estimate | null {
  const of = calls.length;
  if (of === 0) return null;
  const terms = calls.map(([p, right]) => (p - (right ? 1 : 0)) ** 2);
  const value = terms.reduce((sum, term) => sum + term, 0) / of;
  const spread = Math.sqrt(terms.reduce((sum, term) => sum + (term - value) ** 2, 0) / of);
  const half = (Z95 * spread) / Math.sqrt(of);
  return { value, low: Math.max(0, value - half), high: value + half, of };
}

/** One bin of the curve. */
export interface ReliabilityBin {
  readonly from: number;
  readonly to: number;
  /** Mean of what was stated; null in an empty bin. */
  readonly said: number | null;
  /** What came true. */
  readonly came: Share | null;
  /** What was said lies in the interval of what came true. */
  readonly honest: boolean | null;
}

/** Finer at both ends, where most statements lie. */
const EDGES = [0, 0.01, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99, 1];

/** Sort statements into bins of probability; a statement on an edge belongs to the bin above, 1 to the last. */
export function reliability(calls: readonly Call[]): ReliabilityBin[] {
  return EDGES.slice(0, -1).map((from, i) => {
    const to = EDGES[i + 1]!;
    const inside = calls.filter(([p]) => p >= from && (p < to || to === 1));
    const came = shareOf(inside.map(([, right]) => right));
    if (came === null) return { from, to, said: null, came, honest: null };
    const said = inside.reduce((sum, [p]) => sum + p, 0) / inside.length;
    return { from, to, said, came, honest: said >= came.low && said <= came.high };
  });
}
