// evidence: attempts and readings of a job → a function that says how likely all of it is, given how faults show.
import { raiseTo } from "../core/raise-to.js";
import { sameName } from "../readings/classify-readings.js";
import type { NetVerdict } from "../readings/net-verdicts.js";
import { attemptLikelihood, type Priors, UNNAMED } from "./attempt-likelihood.js";
import type { EvidenceFigures } from "./evidence-defaults.js";
import { type BoardChange, type FaultMode, isOff } from "./fault-modes.js";
import type { SeenAttempt } from "./seen-attempt.js";
import type { AttemptWeight } from "./temper-attempts.js";
import { triedWeight } from "./tried-likelihood.js";

/** Nets that count, and how likely all is for the ways in which the faults show. */
export interface JobLikelihood {
  /** Nets that were read, in the form in which names are compared. */
  readonly readNets: ReadonlySet<string>;
  readonly of: (modes: readonly FaultMode[]) => number;
}

/** Make the likelihood of everything that was seen and read.
 *  @param nets verdicts on nets that parts are on.
 */
export function jobLikelihood(
  attempts: readonly SeenAttempt[],
  weights: readonly AttemptWeight[],
  nets: readonly NetVerdict[],
  changes: readonly BoardChange[],
  priors: Priors,
  o: EvidenceFigures,
): JobLikelihood {
  const expectedW = expectedWatts(attempts);
  const read = temperNets(nets, o);
  const offAt = new Map<string, boolean>();
  const isOffIn = (key: string, state: number): boolean => {
    const id = `${key}\t${state}`;
    const known = offAt.get(id) ?? isOff(key, state, changes);
    offAt.set(id, known);
    return known;
  };
  const seen = attempts.map((attempt, k) =>
    attemptLikelihood(
      attempt,
      weights[k]!,
      priors,
      (key) => isOffIn(key, attempt.state),
      (key) => expectedW(attempt, key),
      (key) => triedWeight(attempts, key, o),
      o,
    ),
  );
  return {
    readNets: new Set(read.map(({ net }) => net)),
    of: (modes) => {
      let product = 1;
      attempts.forEach(({ state }, k) => {
        const heating = new Set<string>();
        for (const { source, driven, curedFrom } of modes) {
          if (source === null || state >= curedFrom) continue;
          // A part whose lifting did not cure leaves the fault at its pads; one that was driven leaves nothing.
          if (!isOffIn(source, state)) heating.add(source);
          else if (!driven) heating.add(UNNAMED);
        }
        product *= seen[k]!([...heating]);
      });
      for (const { net, state, outcome, weight } of read) {
        const active = modes.filter(({ curedFrom }) => state < curedFrom);
        const pulled = active.some((mode) => mode.net === net);
        const mended = active.length === 0 && outcome !== "ordinary" ? o.oddWhenMended : 1;
        product *= raiseTo(mended * o[`${outcome}${pulled ? "On" : "Off"}`], weight);
      }
      return product;
    },
  };
}

/** Verdicts with their weights: a net read again with the same result shares its errors. */
function temperNets(
  nets: readonly NetVerdict[],
  o: EvidenceFigures,
): { net: string; state: number; outcome: NetVerdict["outcome"]; weight: number }[] {
  return nets.map(({ net, state, outcome }) => {
    const alike = nets.filter((other) => sameName(other.net) === sameName(net) && other.outcome === outcome);
    return { net: sameName(net), state, outcome, weight: 1 / (1 + (alike.length - 1) * o.sameNetShare) };
  });
}

/** A hotspot tells the watts of a part to which it gives this probability. */
const TELLS_WATTS = 0.2;

/** Watts that a part at fault is expected to have in an attempt: the median over the hotspots that may be its own, else
 *  over all; less where fewer volts were fed. Amperes don't count, for they fall with the fault.
 */
function expectedWatts(
  attempts: readonly SeenAttempt[],
): (attempt: SeenAttempt, key: string) => number | null {
  const found = attempts.flatMap(({ heat, volts }) =>
    heat.flatMap(({ powerW, named }) => (powerW === null || !(powerW > 0) ? [] : [{ powerW, named, volts }])),
  );
  return ({ volts }, key) => {
    const own = found.filter(({ named }) => (named.get(key) ?? 0) >= TELLS_WATTS);
    const scaled = (own.length > 0 ? own : found)
      .map((one) => {
        const share = volts === null || one.volts === null ? 1 : Math.min(1, volts / one.volts);
        return one.powerW * share * share;
      })
      .sort((a, b) => a - b);
    return scaled[Math.floor((scaled.length - 1) / 2)] ?? null;
  };
}
