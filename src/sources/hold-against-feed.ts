// sources: sources as the frames tell them, and the watts fed in → their watts by both, or that both can't be right.
import { normalTail } from "../numeric/normal-distribution.js";
import { powerSigma } from "./average-powers.js";
import { powerOverStates } from "./power-over-states.js";
import type { FittedSource } from "./source-fit.js";

/** A bench supply's volts and amps together are good to this share: 1 % and two digits of each where two or three
 *  digits are shown (common practice, no source). */
export const METER_SHARE = 0.02;
/** Where less than this of what the frames leave open lies within the feed, one of the two is wrong. */
const LEAST_AGREEMENT = 0.01;
/** Points of the common factor's logarithm, to so many of its standard deviations. */
const POINTS = 161;
const REACH = 4;

/** Watts by frames and feed. */
export interface HeldPowers {
  /** The same sources, in their order; as the frames alone tell them where the two can't both be right, and where a
   *  strong source that is less sure than a weak one takes too much: then the factor that all share can't bring them
   *  together, and each alone isn't moved. */
  readonly sources: readonly FittedSource[];
  /** True where the frames show so much more than was fed in that one of the two is wrong. */
  readonly exclusive: boolean;
}

/** Hold watts found by the frames against those fed in. What the plate's constants do wrong they do to all sources
 *  alike: one factor for all, log-normal by the frames, of which the smallest uncertainty of any source is taken, or
 *  that of all together where it is known: how heat is divided between parts beside each other is less sure than
 *  either. The share of the feed that the sources then have is at most all of it, for energy is conserved; leads,
 *  tracks and hidden parts take the rest, and every share is as likely as any other.
 *  @param fedW W; null where not known.
 */
export function holdAgainstFeed(sources: readonly FittedSource[], fedW: number | null): HeldPowers {
  const byState = heldByState(sources, fedW);
  if (byState !== null) return { sources: byState, exclusive: false };
  const common = Math.min(
    ...sources.flatMap(({ powerLogSigma, toTell }) => [
      powerLogSigma,
      toTell?.totalLogSigma ?? powerLogSigma,
    ]),
  );
  const totalW = sources.reduce((sum, { powerW }) => sum + powerW, 0);
  if (fedW === null || !(fedW > 0) || !(totalW > 0)) return { sources, exclusive: false };
  if (!(common > 0) || chanceBelow(fedW, totalW, common) < LEAST_AGREEMENT) {
    return { sources, exclusive: chanceWithin(sources, common, fedW) < LEAST_AGREEMENT };
  }
  const both = commonFactor(totalW / fedW, common);
  const factor = Math.exp(both.mean);
  const held = sources.map((source) => {
    const powerW = factor * source.powerW;
    const own = Math.max(0, source.powerLogSigma ** 2 - common ** 2);
    const powerLogSigma = Math.sqrt(own + both.variance);
    const powerNoiseW = factor * source.powerNoiseW;
    const powerSigmaW = powerSigma({ powerW, logSigma: powerLogSigma }, powerNoiseW ** 2);
    return { ...source, powerW, powerLogSigma, powerNoiseW, powerSigmaW };
  });
  return { sources: held, exclusive: false };
}

/** Chance by the frames alone that all sources together take no more than was fed in. The strongest may be less sure
 *  than the one that the common factor is taken from: what each has of its own counts by its share.
 */
function chanceWithin(sources: readonly FittedSource[], common: number, fedW: number): number {
  const totalW = sources.reduce((sum, { powerW }) => sum + powerW, 0);
  const own2 = sources.reduce(
    (sum, { powerW, powerLogSigma }) => sum + (powerW / totalW) ** 2 * (powerLogSigma ** 2 - common ** 2),
    0,
  );
  return chanceBelow(fedW, totalW, Math.sqrt(common ** 2 + own2));
}

/** Chance that watts known to a factor are no more than those fed in, as far as the meters know these. */
function chanceBelow(fedW: number, powerW: number, logSigma: number): number {
  return normalTail(Math.log(powerW / fedW) / Math.hypot(logSigma, METER_SHARE));
}

/** The same where the watts of all are known in each state of the plate: a state that means more heat than was fed is
 *  none.
 *  @returns null where they are not, or feed and frames can't both be true.
 */
function heldByState(sources: readonly FittedSource[], fedW: number | null): FittedSource[] | null {
  const states = sources.map(({ toTell }) => toTell?.byState);
  if (fedW === null || !(fedW > 0) || sources.length === 0) return null;
  const totalsW = (states[0] ?? []).map((_, k) =>
    states.reduce((sum, one) => sum + (one?.[k]?.powerW ?? 0), 0),
  );
  const common = totalsW.map((_, k) => Math.min(...states.map((one) => one?.[k]?.logSigma ?? Infinity)));
  const held = sources.map((source, c): FittedSource | null => {
    const own = states[c];
    if (own === undefined) return null;
    // What one source has of its own, noise above all, is no factor of the others.
    const shared = own.map((one, k) => ({ ...one, logSigma: common[k]! }));
    const shareOf = (k: number, factor: number) => (factor * totalsW[k]!) / fedW;
    const within = powerOverStates(shared, (k, factor) => chanceOfShare(Math.max(1, shareOf(k, factor))));
    const both = powerOverStates(shared, (k, factor) => chanceOfShare(shareOf(k, factor)));
    if (within === null || both === null || within.chance < LEAST_AGREEMENT) return null;
    const { powerW } = both;
    const rest2 = own.reduce((sum, one, k) => sum + one.chance * (one.logSigma ** 2 - common[k]! ** 2), 0);
    const powerLogSigma = Math.sqrt(both.powerLogSigma ** 2 + rest2);
    const { powerNoiseW } = source;
    const powerSigmaW = powerSigma({ powerW, logSigma: powerLogSigma }, powerNoiseW ** 2);
    return { ...source, powerW, powerLogSigma, powerSigmaW };
  });
  return held.every((one) => one !== null) ? held : null;
}

/** How much better watts agree with the feed than any others would, all magnitudes being equally probable before: the
 *  mean density over the logarithm of the share, of the watts as the frames tell them.
 *  @param share of the feed that a source has by the frames alone. @param logSigma of that, by the frames.
 */
export function agreesWithFeed(share: number, logSigma: number): number {
  const { all, weights } = overFactor(share, logSigma);
  return weights / all;
}

/** Mean and variance of the factor's logarithm, where frames and feed agree.
 *  @param share of the feed that the sources have by the frames alone. @param logSigma of that, by the frames.
 */
function commonFactor(share: number, logSigma: number): { mean: number; variance: number } {
  const { weights, sum, squares } = overFactor(share, logSigma);
  const mean = sum / weights;
  return { mean, variance: Math.max(0, squares / weights - mean * mean) };
}

/** Sums over the common factor: of its density by the frames, by both, and of its logarithm and the square of that by
 *  both. */
function overFactor(
  share: number,
  logSigma: number,
): { readonly all: number; readonly weights: number; readonly sum: number; readonly squares: number } {
  let [all, weights, sum, squares] = [0, 0, 0, 0];
  for (let k = 0; k < POINTS; k++) {
    const z = REACH * ((2 * k) / (POINTS - 1) - 1);
    const byFrames = Math.exp(-0.5 * z * z);
    const log = z * logSigma;
    const weight = byFrames * chanceOfShare(share * Math.exp(log));
    all += byFrames;
    weights += weight;
    sum += weight * log;
    squares += weight * log * log;
  }
  return { all, weights, sum, squares };
}

/** Density over the logarithm of the share of the feed that the sources have, up to a constant: level over the share
 *  itself, which is as high as the share over its logarithm, to all of the feed, as far as the meters know that. */
function chanceOfShare(share: number): number {
  return share <= 1 ? share : Math.exp(-0.5 * ((share - 1) / METER_SHARE) ** 2);
}
