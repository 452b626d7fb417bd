// findings: a rate of false alarms → the significance from which on a place of a view's frame counts.
import { amplitudeThreshold } from "../rise/cycle-chance.js";
import { falseAlarmThreshold } from "../rise/false-alarm-threshold.js";
import { CONTRAST_DEFAULTS, type ContrastLayer, reselsOf } from "../rise/local-contrast.js";
import type { Findings } from "./findings-schema.js";

/** Find the significance that a place must reach to count, as the search for places has it: what is coloured and what
 *  is listed go by the same level.
 *  @param pixels of the view's frame. @param falseAlarmsPerFrame by default that of the findings.
 *  @returns in noise of the local contrast.
 */
export function placeSigma(
  { threshold, options, cycle }: Pick<Findings, "threshold" | "options" | "cycle">,
  pixels: number,
  falseAlarmsPerFrame: number = threshold.falseAlarmsPerFrame,
): number {
  const tail = options["tailFactor"];
  const tailFactor = typeof tail === "number" ? tail : 1;
  // Of a layer its size alone is asked for.
  const layers = CONTRAST_DEFAULTS.scalesPx.map((sigmaPx) => ({ sigmaPx }) as ContrastLayer);
  const levelOf = cycle === null ? falseAlarmThreshold : amplitudeThreshold;
  return levelOf(reselsOf(layers, pixels), falseAlarmsPerFrame, tailFactor);
}
