// evidence: an attempt and the parts that heat in it by a hypothesis → how likely it shows what it does.
import { raiseTo } from "../core/raise-to.js";
import type { EvidenceFigures } from "./evidence-defaults.js";
import type { FaultHeat, SeenAttempt } from "./seen-attempt.js";
import type { AttemptWeight } from "./temper-attempts.js";
import { triedRatio } from "./tried-likelihood.js";

/** Heat at a place that no region names. */
export const UNNAMED = "\nunnamed";

/** How likely each part heats before anything is seen, by key, `UNNAMED` among them; sums to 1 or less. */
export type Priors = ReadonlyMap<string, number>;

/** Make a function that gives the likelihood of an attempt for the parts that heat.
 *  Each of them makes one hotspot, or is missed; each hotspot that none of them makes is false. Where a hotspot is,
 *  counts by the probability that the attempt gives the part ÷ its prior: the attempt's own posterior without the
 *  prior, which is counted once for the whole job. A share of all attempts is taken to err altogether. What is off the
 *  board is no source: its probability goes to the others in its place.
 *  Of a part that shows nothing counts what the fit would give it (`triedRatio`).
 *  Tempered in two halves: whether there is heat by `weight.presence`, where it is by `weight.place`.
 *  @param isOff whether a part is off the board.
 *  @param expectedW watts that a part at fault is expected to have; null where not known.
 *  @param triedShare how much what the fit would give a part counts here.
 */
export function attemptLikelihood(
  attempt: SeenAttempt,
  weight: AttemptWeight,
  priors: Priors,
  isOff: (key: string) => boolean,
  expectedW: (key: string) => number | null,
  triedShare: (key: string) => number,
  o: EvidenceFigures,
): (heating: readonly string[]) => number {
  const spots = attempt.heat.map((heat) => readSpot(heat, priors, isOff, o));
  const known = new Map<string, number>();
  return (heating) => {
    if (!attempt.placed) return 1;
    const id = [...heating].sort().join("\t");
    const before = known.get(id);
    if (before !== undefined) return before;
    const sources = heating.map((key) => ({
      key,
      missed: missChance(attempt, key, expectedW(key), o),
      seen: seenChance(attempt, key, o),
    }));
    const anywhere = spots.map((spot) => ({ ...spot, ratio: () => 1 }));
    const present = pairUp(sources, anywhere, o.maskedSecond);
    const tried = sources.map((source) => {
      const ratio = triedRatio(attempt, source.key, expectedW(source.key), o);
      return { ...source, missed: source.missed * raiseTo(ratio, triedShare(source.key) / weight.place) };
    });
    const placed = pairUp(tried, spots, o.maskedSecond);
    const where = present > 0 ? placed / present : 0;
    const value = raiseTo(present, weight.presence) * raiseTo(where, weight.place);
    known.set(id, value);
    return value;
  };
}

/** A hotspot as evidence. */
interface Spot {
  /** Of being where it is if this part makes it, ÷ of being there at all. */
  readonly ratio: (key: string) => number;
  /** Likelihood that it is none. */
  readonly false: number;
}

/** A part that heats by a hypothesis. */
interface Source {
  readonly key: string;
  /** Likelihood that it shows nothing, and that it shows a hotspot. They need not sum to 1: heat that is found was
   *  strong enough to be. */
  readonly missed: number;
  readonly seen: number;
}

function readSpot(
  heat: FaultHeat,
  priors: Priors,
  isOff: (key: string) => boolean,
  o: EvidenceFigures,
): Spot {
  let onBoard = heat.rest;
  for (const [key, probability] of heat.named) if (!isOff(key)) onBoard += probability;
  const share = (probability: number) => (onBoard > 0 ? probability / onBoard : 0);
  const rest = onBoard > 0 ? share(heat.rest) : 1;
  return {
    ratio: (key) => {
      const seen = key === UNNAMED ? o.unnamedShare * rest : isOff(key) ? 0 : share(heat.named.get(key) ?? 0);
      return (1 - o.wrongPlace) * (seen / priors.get(key)!) + o.wrongPlace;
    },
    // What is off tells nothing of how surely something heats.
    false: (1 - o.wrongPlace) * (1 - o.unnamedShare) * heat.rest + o.wrongPlace * o.falseHotspot,
  };
}

/** Sum over all ways to pair parts with hotspots.
 *  @param masked how often the strongest of several faults takes the current, so that the others stay cold.
 */
function pairUp(sources: readonly Source[], spots: readonly Spot[], masked: number): number {
  /** All of these make a hotspot, each one of its own. */
  const show = (shown: readonly Source[], left: readonly Spot[]): number => {
    const [first, ...others] = shown;
    if (first === undefined) return left.reduce((product, spot) => product * spot.false, 1);
    return left.reduce((sum, spot) => {
      const ratio = spot.ratio(first.key);
      return ratio === 0
        ? sum
        : sum +
            ratio *
              show(
                others,
                left.filter((one) => one !== spot),
              );
    }, 0);
  };
  let sum = 0;
  for (let chosen = 0; chosen < 1 << sources.length; chosen++) {
    const seen = sources.filter((_, k) => (chosen >> k) & 1);
    const chance = sources.reduce(
      (product, { seen, missed }, k) => product * ((chosen >> k) & 1 ? seen : missed),
      1,
    );
    if (chance === 0) continue;
    if (seen.length < 2) {
      sum += chance * show(seen, spots);
      continue;
    }
    const oneAlone = seen.reduce((total, one) => total + show([one], spots) / seen.length, 0);
    sum += chance * ((1 - masked) * show(seen, spots) + masked * oneAlone);
  }
  return sum;
}

/** How steeply heat is found the less often the fainter it is, below the least watts that are found. */
const STEEP = 4;

/** How often a part that heats would show nothing of its own: nearly never, unless it is fainter than what is found,
 *  shows the heat of a healthy board anyway, or is not on the board that was looked at.
 */
export function missChance(
  attempt: SeenAttempt,
  key: string,
  expectedW: number | null,
  o: Pick<EvidenceFigures, "missedHeat" | "missedHidden">,
): number {
  if (!isOnBoard(attempt, key)) return 1;
  const missed = leastMiss(attempt, key, o);
  if (attempt.warm.has(key)) return 0.5;
  const limitW = attempt.limitsW.get(key);
  if (limitW === null) return 1;
  if (limitW === undefined || expectedW === null) return missed;
  const faint = 1 / (1 + raiseTo(expectedW / limitW, STEEP));
  return missed + (1 - missed) * faint;
}

/** How often a part that heats strongly enough makes a hotspot. */
function seenChance(
  attempt: SeenAttempt,
  key: string,
  o: Pick<EvidenceFigures, "missedHeat" | "missedHidden">,
): number {
  if (!isOnBoard(attempt, key)) return 0;
  return attempt.warm.has(key) ? 0.5 : 1 - leastMiss(attempt, key, o);
}

function leastMiss(
  { hidden }: SeenAttempt,
  key: string,
  { missedHeat, missedHidden }: Pick<EvidenceFigures, "missedHeat" | "missedHidden">,
): number {
  return hidden.has(key) ? missedHidden : missedHeat;
}

function isOnBoard({ board }: SeenAttempt, key: string): boolean {
  return key === UNNAMED || key.startsWith(`${board}\n`);
}
