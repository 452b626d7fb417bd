// page: a rate of false alarms → the threshold that goes with it, from the one that the findings have.
import type { Findings } from "../../findings/findings-schema.js";
import { falseAlarmThreshold } from "../../rise/false-alarm-threshold.js";
import { CONTRAST_DEFAULTS, type ContrastLayer, reselsOf } from "../../rise/local-contrast.js";

/** From where on something counts. */
export interface Threshold {
  readonly falseAlarmsPerFrame: number;
  /** Significance that a place must reach to count, as the engine counts. */
  readonly placeSigma: number;
  /** Significance from which on the picture is coloured: of a smallest spot's peak, in noise at the scale that is tested. */
  readonly sigma: number;
  /** The same as a rise, K. */
  readonly riseK: number;
}

/** The rates that can be chosen: from one in a thousand frames to ten in one. */
export const RATE_LIMITS = Object.freeze({ least: 1e-3, most: 10 });

/** Find the threshold for another rate. The findings' own rate gives the findings' own threshold: the peak of a smallest spot that
 *  reaches the significance of the rate, or with a board what a mirrored room may make, if that is more. It goes with that
 *  significance, whichever of the two it is: who allows more false alarms wants to see more.
 *  Method: `falseAlarmThreshold`.
 *  @param pixels of a frame.
 */
export function thresholdAt(
  findings: Pick<Findings, "threshold" | "noise" | "options">,
  pixels: number,
  falseAlarmsPerFrame: number,
): Threshold {
  const { riseK, falseAlarmsPerFrame: ownRate } = findings.threshold;
  const tail = findings.options["tailFactor"];
  const tailFactor = typeof tail === "number" ? tail : 1;
  const placeSigma = levelOf(pixels, falseAlarmsPerFrame, tailFactor);
  const ownSigma = riseK / findings.noise.testedSigmaK;
  if (falseAlarmsPerFrame === ownRate) return { falseAlarmsPerFrame, placeSigma, sigma: ownSigma, riseK };
  const share = placeSigma / levelOf(pixels, ownRate, tailFactor);
  return { falseAlarmsPerFrame, placeSigma, sigma: share * ownSigma, riseK: share * riseK };
}

function levelOf(pixels: number, falseAlarms: number, tailFactor: number): number {
  // Of a layer its size alone is asked for.
  const layers = CONTRAST_DEFAULTS.scalesPx.map((sigmaPx) => ({ sigmaPx }) as ContrastLayer);
  return falseAlarmThreshold(reselsOf(layers, pixels), falseAlarms, tailFactor);
}
