// numeric: multiples of sigma ↔ tail areas of the normal distribution.

const SQRT2 = Math.SQRT2;
/** Below this the series is used, above it the continued fraction: both reach 1e-13 at this point. */
const SERIES_LIMIT = 2;

/** Give the chance that a standard normal number exceeds `z`.
 *  Relative error below 1e-12 for results from 1e-300 to 1.
 *  Method: erfc by its series about 0 or its continued fraction (Abramowitz & Stegun 1964, 7.1.6 and 7.1.14; section
 *  numbers from memory).
 *  @returns 0…1; NaN for NaN.
 */
export function normalTail(z: number): number {
  return 0.5 * complementaryError(z / SQRT2);
}

/** Find the `z` that a standard normal number exceeds with chance `p`: the inverse of `normalTail`.
 *  Relative error below 1e-12, except within 1e-16 of 0 about p = ½.
 *  Method: a start from the leading terms of the tail, then Halley steps on its logarithm.
 *  @param p 0…1; 0 gives Infinity, 1 gives −Infinity.
 *  @throws RangeError if p is outside 0…1 (a fault of the caller).
 */
export function zForTail(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a chance lies between 0 and 1, not at ${p}`);
  if (p === 0) return Number.POSITIVE_INFINITY;
  if (p === 1) return Number.NEGATIVE_INFINITY;
  if (p > 0.5) return -zForTail(1 - p);
  const target = Math.log(p);
  let z = startForTail(p, target);
  for (let step = 0; step < 20; step++) {
    const tail = normalTail(z);
    // d ln Q/dz = −φ/Q = −hazard; its own derivative is hazard·(z − hazard).
    const hazard = Math.exp(-0.5 * z * z) / (tail * Math.sqrt(2 * Math.PI));
    const newton = (Math.log(tail) - target) / hazard;
    const change = newton / (1 - 0.5 * newton * (z - hazard));
    z += change;
    if (Math.abs(change) <= 1e-15 * Math.max(1, Math.abs(z))) break;
  }
  return z;
}

/** Find the number below which a standard normal number lies with chance `p`.
 *  @param p 0…1. @throws RangeError if p is outside 0…1 (a fault of the caller).
 */
export function normalQuantile(p: number): number {
  return p === 0.5 ? 0 : -zForTail(p);
}

/** Leading terms of the tail, Q ≈ e^(−z²/2)/(z·√2π), solved for z; a start for the steps, not an answer. */
function startForTail(p: number, logP: number): number {
  // Near ½ the tail is a straight line; 0.3 leaves the root of the other branch well above zero.
  if (p > 0.3) return (0.5 - p) * Math.sqrt(2 * Math.PI);
  const square = -2 * logP;
  return Math.sqrt(Math.max(0.1, square - Math.log(2 * Math.PI * square)));
}

function complementaryError(x: number): number {
  if (x < 0) return 2 - complementaryError(-x);
  if (x < SERIES_LIMIT) return 1 - errorSeries(x);
  return errorFraction(x);
}

/** erf(x) = 2/√π·e^(−x²)·Σ 2ⁿx^(2n+1)/(1·3·…·(2n+1)): all terms positive, nothing cancels. */
function errorSeries(x: number): number {
  let term = x;
  let sum = x;
  for (let n = 1; term > sum * 1e-17; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

/** √π·e^(x²)·erfc(x) = 1/(x + ½/(x + 1/(x + 3⁄2/(x + …)))), from the far end inwards. */
function errorFraction(x: number): number {
  if (x > 40) return 0;
  // The 15th digit needs 50 terms at x = 2, 27 at 3, 12 at 6, 7 at 12 (tried at 30 digits).
  const terms = Math.ceil(20 + 200 / (x * x));
  let denominator = x;
  for (let n = terms; n >= 1; n--) denominator = x + (0.5 * n) / denominator;
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * denominator);
}
