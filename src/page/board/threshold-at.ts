// page: a rate of false alarms → the threshold that goes with it, from the one that the findings have.
import type { Findings } from "../../findings/findings-schema.js";
import { placeSigma } from "../../findings/place-sigma.js";

/** From where on something counts. */
export interface Threshold {
  readonly falseAlarmsPerFrame: number;
  /** Significance that a place must reach to count, and from which on it is coloured. */
  readonly placeSigma: number;
  /** Peak of a smallest spot that reaches it, K. */
  readonly riseK: number;
}

/** The rates that can be chosen: from one in a thousand frames to ten in one. */
export const RATE_LIMITS = Object.freeze({ least: 1e-3, most: 10 });

/** Find the threshold for another rate. The findings' own rate gives the findings' own threshold: the peak of a
 *  smallest spot that reaches the significance of the rate, or with a board what a mirrored room may make, if that is
 *  more. It goes with that significance, whichever of the two it is: who allows more false alarms wants to see more.
 *  @param pixels of a frame.
 */
export function thresholdAt(
  findings: Pick<Findings, "threshold" | "options" | "cycle">,
  pixels: number,
  falseAlarmsPerFrame: number,
): Threshold {
  const { riseK, falseAlarmsPerFrame: ownRate } = findings.threshold;
  const at = placeSigma(findings, pixels, falseAlarmsPerFrame);
  if (falseAlarmsPerFrame === ownRate) return { falseAlarmsPerFrame, placeSigma: at, riseK };
  return { falseAlarmsPerFrame, placeSigma: at, riseK: (at / placeSigma(findings, pixels)) * riseK };
}
