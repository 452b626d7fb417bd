// rise: what a camera shows of a surface → how much warmer the surface became, by its emissivity.
import { bandRadiance, temperatureOfRadiance } from "./band-radiance.js";

/** Turn an apparent rise into the true one.
 *  The camera's signal is ε·L(T) + (1 − ε)·L(T reflected), with L the radiance from 8 to 14 µm, and it shows the
 *  temperature of a black body of that signal. What is thrown back is taken to be the same in both frames: a room that
 *  changed makes the answer wrong by as much as it changed ÷ ε.
 *  Method: ISO 18434-1 signal model (from memory), without the air between.
 *  @param apparentRiseK powered minus baseline as the camera shows it, ε = 1 set.
 *  @param emissivity 0…1, not 0.
 *  @param ambientC true temperature of the surface in the baseline.
 *  @param reflectedC temperature of what the surface mirrors.
 *  @returns K; NaN where no rise of the surface could show so much less than the baseline.
 */
export function riseFromApparent(
  apparentRiseK: number,
  emissivity: number,
  ambientC: number,
  reflectedC: number,
): number {
  const before = emissivity * bandRadiance(ambientC) + (1 - emissivity) * bandRadiance(reflectedC);
  const after = bandRadiance(temperatureOfRadiance(before) + apparentRiseK);
  const own = bandRadiance(ambientC) + (after - before) / emissivity;
  return temperatureOfRadiance(own) - ambientC;
}
