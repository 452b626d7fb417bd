// rise: how strongly both quadratures stand out → the phase in which heat follows the supply.
import { raiseTo } from "../core/raise-to.js";
import { type Radians, radians } from "../core/units.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";
import type { CycleStrength, Quadratures } from "./cycle-strength.js";

/** Places whose power is at least this share of the strongest one's speak for the phase. */
const POWER_SHARE = 0.5;
/** Places that stand out by this many sigma speak for the direction. */
const DIRECTION_SIGMA = 4;

/** Find the phase of the strongest heat.
 *  Heat lags behind the supply, by up to a quarter of a period and more with distance, and nobody knows when the first
 *  frame was taken: the phase comes from the frames. All strong places together: the sum of the squares of z = C + iS
 *  has twice the phase, and neither sign nor noise of single places matters. Which of the two directions is warming
 *  follows from what is off the board; where no board is known, from heat standing out of its surroundings upwards (at
 *  the edge of a board that warms throughout, as much stands out downwards as upwards). A spot that cools in the
 *  supply's rhythm can't be told from one that warms half a period later.
 *  @param signal amplitudes whose strength that is, K.
 *  @param offBoard 1 = certainly off the board; null where no board is known.
 *  @returns φ in 0 … 2π: heat goes as cos(ωt − φ), t from the first frame.
 */
export function heatPhase(
  strength: CycleStrength,
  signal: Quadratures,
  offBoard: Uint8Array | null,
): Radians {
  const least = Math.sqrt(2 * strength.power * POWER_SHARE);
  let real = 0;
  let imaginary = 0;
  standing(strength, least, (x, y) => {
    real += x * x - y * y;
    imaginary += 2 * x * y;
  });
  const phase = Math.atan2(imaginary, real) / 2;
  const [cos, sin] = [Math.cos(phase), Math.sin(phase)];
  let up = offBoard === null ? 0 : skewness(signal, cos, sin, offBoard);
  if (up === 0) {
    standing(strength, Math.min(least, DIRECTION_SIGMA), (x, y) => {
      up += raiseTo(cos * x + sin * y, 3);
    });
  }
  const full = 2 * Math.PI;
  return radians((phase + (up >= 0 ? 0 : Math.PI) + full) % full);
}

/** Visit all places that stand out by so many sigma, with both quadratures in units of the noise. */
function standing(
  { layers, strength, layerAt }: CycleStrength,
  least: number,
  visit: (x: number, y: number) => void,
): void {
  for (let i = 0; i < layerAt.length; i++) {
    if (!(strength.data[i]! >= least)) continue;
    const { cosine, sine, noise } = layers[layerAt[i]!]!;
    visit(cosine.data[i]! / noise.data[i]!, sine.data[i]! / noise.data[i]!);
  }
}

/** Sum of the cubes of the smoothed amplitude above what is off the board, K³; 0 where nothing is off it. */
function skewness({ cosine, sine }: Quadratures, cos: number, sin: number, offBoard: Uint8Array): number {
  const { width, height } = cosine;
  const inPhase = cosine.data.map((value, i) => cos * value + sin * sine.data[i]!);
  const smooth = gaussianFilter(inPhase, width, height, 2);
  const level = median(smooth.filter((_, i) => offBoard[i] === 1));
  if (Number.isNaN(level)) return 0;
  let sum = 0;
  for (const value of smooth) if (value * 0 === 0) sum += raiseTo(value - level, 3);
  return sum;
}
