// findings: what was found, volts and amps → the same with its watts held against those fed in.
import { powerSigma } from "../sources/average-powers.js";
import { holdAgainstFeed } from "../sources/hold-against-feed.js";
import type { AnalysisInput } from "./analyse-options.js";
import type { HotspotSeed } from "./measure-hotspot.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Watts fed in, as far as those that the frames show can be held against them: what follows a rhythm is only part of
 *  the heat.
 *  @returns null where not known.
 */
export function comparableFeedW(
  { volts, amps }: Pick<AnalysisInput, "volts" | "amps">,
  { cycle }: Pick<PreparedPair, "cycle">,
): number | null {
  return typeof volts === "number" && typeof amps === "number" && cycle === undefined ? volts * amps : null;
}

/** What was found with the watts that are told: those by the whole board, where they are known. */
export function seedsToTell(seeds: readonly HotspotSeed[]): HotspotSeed[] {
  return seeds.map((seed) => {
    const { source } = seed;
    if (source === null || source.toTell === null) return seed;
    const { powerW, powerLogSigma, powerNoiseW } = source.toTell;
    const powerSigmaW = powerSigma({ powerW, logSigma: powerLogSigma }, powerNoiseW ** 2);
    return { ...seed, source: { ...source, powerW, powerLogSigma, powerNoiseW, powerSigmaW } };
  });
}

/** Hold the watts of all that was found against those fed in: see `holdAgainstFeed`. Where both can't be right each
 *  says so. */
export function seedsWithFeed(seeds: readonly HotspotSeed[], fedW: number | null): HotspotSeed[] {
  const sources = seeds.flatMap(({ source }) => (source === null ? [] : [source]));
  const { sources: held, exclusive } = holdAgainstFeed(sources, fedW);
  return seeds.map((seed) =>
    seed.source === null
      ? seed
      : { ...seed, source: held[sources.indexOf(seed.source)]!, exceedsFeed: exclusive },
  );
}
