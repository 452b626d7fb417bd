// numeric: a Laplace deviate seen with normal noise → its density.
import { normalTail } from "./normal-distribution.js";

/** A Laplace scale below this share of the noise counts as this much: it does not show. */
const LEAST_SHARE = 0.01;
/** From here on the first three terms of the normal tail are right to 2e-8: the fourth is −15/z⁶. */
const FAR = 30;

/** Density of the sum of a Laplace deviate of mean 0 and a normal one: the convolution of the two, in closed form.
 *  @param laplaceScale mean absolute deviation of the Laplace part, ≥ 0.
 *  @param sigma standard deviation of the normal part, > 0.
 *  @returns per unit of x.
 */
export function laplaceNormalDensity(x: number, laplaceScale: number, sigma: number): number {
  const scale = Math.max(laplaceScale, LEAST_SHARE * sigma);
  const share = sigma / scale;
  const z = Math.abs(x) / sigma;
  const half = 0.5 * share * share;
  const near = Math.exp(half - z * share + logNormalTail(share - z));
  const far = Math.exp(half + z * share + logNormalTail(share + z));
  return (near + far) / (2 * scale);
}

/** Logarithm of `normalTail`, also where the tail itself is too small for a number. */
function logNormalTail(z: number): number {
  if (z < FAR) return Math.log(normalTail(z));
  const z2 = z * z;
  return -0.5 * z2 - Math.log(z * Math.sqrt(2 * Math.PI)) + Math.log1p(-1 / z2 + 3 / (z2 * z2));
}
