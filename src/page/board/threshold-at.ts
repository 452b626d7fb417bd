// page: a rate of false alarms → the threshold that goes with it, from the one that the findings have.
import type { Findings } from "../../findings/findings-schema.js";
import { expectedExcursions, falseAlarmThreshold } from "../../rise/false-alarm-threshold.js";

/** From where on something counts. */
export interface Threshold {
  readonly falseAlarmsPerFrame: number;
  /** Significance that a place must reach. */
  readonly sigma: number;
  /** The same as a rise, K. */
  readonly riseK: number;
}

/** The rates that can be chosen: from one in a thousand frames to ten in one. */
export const RATE_LIMITS = Object.freeze({ least: 1e-3, most: 10 });

/** Find the threshold for another rate. The findings' own rate gives the findings' own threshold; the number of places that
 *  noise has in the frame follows from these two, and the share that comes of real cameras' tails stays the same.
 *  Method: `falseAlarmThreshold`.
 */
export function thresholdAt(
  findings: { readonly threshold: Findings["threshold"]; readonly noise: Findings["noise"] },
  falseAlarmsPerFrame: number,
): Threshold {
  const { riseK, falseAlarmsPerFrame: ownRate } = findings.threshold;
  const ownSigma = riseK / findings.noise.testedSigmaK;
  if (falseAlarmsPerFrame === ownRate) return { falseAlarmsPerFrame, sigma: ownSigma, riseK };
  const allowed = (falseAlarmsPerFrame / ownRate) * expectedExcursions(ownSigma, 1);
  const sigma = falseAlarmThreshold(1, allowed, 1);
  return { falseAlarmsPerFrame, sigma, riseK: sigma * findings.noise.testedSigmaK };
}
