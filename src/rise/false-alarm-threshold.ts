// rise: number of false alarms allowed per frame → the significance a point must reach.
import { raiseTo } from "../core/raise-to.js";
import { levelAllowing } from "./level-allowing.js";

/** Expected number of places where smooth Gaussian noise rises above z: the Euler characteristic of the excursion
 *  set of a Gaussian field in two dimensions.
 *  Method: Worsley et al. 1992, J. Cereb. Blood Flow Metab. 12:900 (page from memory).
 *  @param resels area ÷ FWHM² of the noise's own smoothness.
 */
export function expectedExcursions(z: number, resels: number): number {
  return resels * 4 * Math.LN2 * raiseTo(2 * Math.PI, -1.5) * z * Math.exp(-0.5 * z * z);
}

/** The significance that noise of so many resels passes only `falseAlarms` times per frame on average.
 *  @param resels area ÷ FWHM² of the smoothed noise, summed over the sizes tested.
 *  @param falseAlarms expected number per frame, above 0.
 *  @param tailFactor how much more often the differences of real cameras pass a high level than Gaussian ones.
 *  @returns z, at least 2.5 (below it the formula no longer counts places).
 */
export function falseAlarmThreshold(resels: number, falseAlarms: number, tailFactor: number): number {
  return levelAllowing((z) => expectedExcursions(z, resels), falseAlarms / tailFactor);
}
