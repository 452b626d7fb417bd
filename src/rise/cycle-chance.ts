// rise: how strongly something follows the supply's rhythm → the chance that noise alone does, anywhere in the frame.
import { levelAllowing } from "./level-allowing.js";

/** Expected number of places where the power of two quadratures of smooth noise passes a level: the Euler
 *  characteristic of the excursion set of a χ² field with two degrees of freedom, in two dimensions. At one place the
 *  power passes it with chance e^(−level): the amplitude has Rayleigh's distribution.
 *  Method: Worsley 1994, Adv. Appl. Prob. 26:13 (from memory); for one place Schuster 1898, Terr. Magn. 3:13 (from
 *  memory).
 *  @param power A²/2σ² with σ the noise of one quadrature. @param resels area ÷ FWHM² of the noise's own smoothness.
 */
export function expectedPowerExcursions(power: number, resels: number): number {
  return resels * ((4 * Math.LN2) / (2 * Math.PI)) * (2 * power - 1) * Math.exp(-power);
}

/** The amplitude, in units of its noise, that noise of so many resels passes only `falseAlarms` times per frame on
 *  average, whatever its phase.
 *  @param falseAlarms expected number per frame, above 0.
 *  @param tailFactor how much more often real noise passes a high level than Gaussian noise.
 *  @returns A/σ, at least 2.5 (below it the formula no longer counts places).
 */
export function amplitudeThreshold(resels: number, falseAlarms: number, tailFactor: number): number {
  return levelAllowing((z) => expectedPowerExcursions(0.5 * z * z, resels), falseAlarms / tailFactor);
}

/** The chance that noise alone reaches a power anywhere in the frame, judged by what it reaches at other frequencies.
 *  How many independent places a frame has is not assumed but measured: by the strongest power at each frequency beside
 *  the supply's. For places without number the count u = resels·(2x−1)·e^(−x) at the strongest of each is exponential;
 *  the chance that the supply's is the smallest by so much is 1 − (1 + u/Σu_j)^(−J), exactly, whatever the number.
 *  @param power strongest A²/2σ² at the supply's frequency. @param others the same at each of the neighbours, two or
 *  more.
 *  @returns 0…1, evenly spread where there is only noise.
 */
export function chanceOfPower(power: number, others: readonly number[]): number {
  let sum = 0;
  for (const other of others) sum += placeCount(other);
  return -Math.expm1(-others.length * Math.log1p(placeCount(power) / sum));
}

/** (2x−1)·e^(−x), which falls from x = 1.5 on; below that it counts nothing and goes on falling as a straight line. */
function placeCount(power: number): number {
  const top = 1.5;
  if (power >= top) return (2 * power - 1) * Math.exp(-power);
  return 2 * Math.exp(-top) * (1 + top - power);
}
