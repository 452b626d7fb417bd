// compare: how warm the place of every part is in two attempts → the places that lost or gained warmth by themselves.
import type { PartFindings } from "../findings/parts-schema.js";
import { median } from "../numeric/median.js";
import { placeKey } from "./part-place.js";

/** Fewer places tell no common change. */
const LEAST_PLACES = 5;
/** Places with less than this share of the largest warmth say nothing of what is common: far from all heat the time
 *  since power-on decides. */
const LEAST_LEVEL = 0.2;
/** Scatter of the logarithm of warmth at cold parts about the common one where nothing else changed: 0.01 to 0.08 in
 *  fourteen simulated jobs, with other times since power-on and other places of the camera. */
const WARMTH_SCATTER = 0.05;
/** A place lost warmth of its own by so many sigma of that and of noise, with at least this share of the largest
 *  warmth, and of the largest loss: heat warms what lies around it too, but its own place most. */
const LEAST_SIGMAS = 2;
const LEAST_SHARE = 0.04;
const LEAST_OF_LARGEST = 0.5;

/** Warmth that one attempt alone has at a place. */
export interface PlaceChange {
  /** The attempt that has it: 0 the earlier one. */
  readonly attempt: 0 | 1;
  /** K of that attempt, and in sigmas of the scatter. */
  readonly ownK: number;
  readonly sigmas: number;
}

/** A part that both attempts show heat of. */
interface Kept {
  readonly before: PartFindings | null;
  readonly after: PartFindings | null;
}

/** Find the places that are warmer in one attempt than heat that both show makes them. The plate spreads the heat of
 *  each source alike in both attempts, so that with the same heat all warmth differs by one factor, which power and
 *  time make; what left or came is missing at its own place. Uneven copper and errors of the plate's model are the same
 *  in both, and drop out.
 *  @param kept heat that is as strong in both, whose own places tell the factor as well.
 *  @param sought the attempts in which heat is sought that the other one does not have; where such heat is listed, what
 *  lies around it changed for its sake.
 *  @returns by `placeKey`; empty where nothing tells the factor.
 */
export function warmthChange(
  before: readonly PartFindings[],
  after: readonly PartFindings[],
  kept: readonly Kept[],
  sought: readonly [boolean, boolean],
): ReadonlyMap<string, PlaceChange> {
  const places = placesOf(before, after);
  const factors = commonLogs(places, kept);
  const found = new Map<string, PlaceChange>();
  if (factors === null) return found;
  for (const attempt of [0, 1] as const) {
    if (!sought[attempt]) continue;
    // Of two factors the one by which less is lost.
    const factor = Math.exp(attempt === 0 ? -Math.min(...factors) : Math.max(...factors));
    const changes = places.map(({ key, risesK, noise }) => {
      const [here, expected] = [risesK[attempt], factor * risesK[1 - attempt]!];
      const sigmas = Math.log(here / expected) / Math.hypot(WARMTH_SCATTER, noise);
      return { key, here, ownK: here - expected, sigmas };
    });
    const level = changes.reduce((most, { here }) => Math.max(most, here), 0);
    const largest = changes.reduce((most, { ownK }) => Math.max(most, ownK), 0);
    for (const { key, ownK, sigmas } of changes) {
      if (sigmas < LEAST_SIGMAS || ownK < Math.max(LEAST_SHARE * level, LEAST_OF_LARGEST * largest)) continue;
      found.set(key, { attempt, ownK, sigmas });
    }
  }
  return found;
}

interface Place {
  readonly key: string;
  readonly risesK: readonly [number, number];
  /** What noise makes of the logarithm of their ratio. */
  readonly noise: number;
}

function placesOf(before: readonly PartFindings[], after: readonly PartFindings[]): Place[] {
  const earlier = new Map(before.map((part) => [placeKey(part), part]));
  return after.flatMap((part): Place[] => {
    const there = earlier.get(placeKey(part));
    const risesK = risesOf(there?.riseK ?? null, part.riseK);
    if (there === undefined || risesK === null) return [];
    const noise = Math.hypot((there.riseSigmaK ?? 0) / risesK[0], (part.riseSigmaK ?? 0) / risesK[1]);
    return [{ key: placeKey(part), risesK, noise }];
  });
}

/** Both, where there is warmth in both. */
function risesOf(before: number | null, after: number | null): [number, number] | null {
  return before !== null && after !== null && before > 0 && after > 0 ? [before, after] : null;
}

/** Logarithms of later ÷ earlier warmth, by all warm places and by those of heat that both attempts show. */
function commonLogs(places: readonly Place[], kept: readonly Kept[]): [number, number] | null {
  const logOf = ([a, b]: readonly [number, number]) => Math.log(b / a);
  const own = kept.flatMap(({ before, after }) => {
    const rises = risesOf(before?.riseK ?? null, after?.riseK ?? null);
    return rises === null ? [] : [logOf(rises)];
  });
  const most = [0, 1].map((k) => places.reduce((max, { risesK }) => Math.max(max, risesK[k]!), 0));
  const warm = places.filter(({ risesK }) => risesK.some((riseK, k) => riseK >= LEAST_LEVEL * most[k]!));
  if (own.length === 0 || warm.length < LEAST_PLACES) return null;
  const mean = own.reduce((sum, log) => sum + log, 0) / own.length;
  return [median(warm.map(({ risesK }) => logOf(risesK))), mean];
}
