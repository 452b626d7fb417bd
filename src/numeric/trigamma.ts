// numeric: number → trigamma function and its inverse: how widely logarithms of variances scatter.

/** From here on the asymptotic series is good to 14 digits. */
const ASYMPTOTIC = 10;

/** Give ψ′(x) = d² ln Γ(x)/dx², the variance of the logarithm of a gamma variable of shape x.
 *  Relative error below 1e-13.
 *  Method: recurrence upwards, then the asymptotic series (Abramowitz & Stegun 1964, 6.4.6 and 6.4.12; numbers from
 *  memory).
 *  @throws RangeError if x is not above 0 (a fault of the caller).
 */
export function trigamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`trigamma is wanted above 0, not at ${x}`);
  let at = x;
  let below = 0;
  for (; at < ASYMPTOTIC; at++) below += 1 / (at * at);
  const y = 1 / (at * at);
  const series = y * (1 / 6 - y * (1 / 30 - y * (1 / 42 - y * (1 / 30 - y * (5 / 66 - (y * 691) / 2730)))));
  return below + 1 / at + 0.5 * y + series / at;
}

/** Give x with ψ′(x) = value.
 *  Method: Newton's steps on 1/ψ′, which is nearly straight (Smyth 2004, appendix; see `shrinkVariances`).
 *  @throws RangeError if the value is not above 0 (a fault of the caller).
 */
export function inverseTrigamma(value: number): number {
  if (!(value > 0)) throw new RangeError(`trigamma is above 0, not ${value}`);
  // ψ′(x) lies between 1/x + 1/2x² and 1/x + 1/x².
  let x = 0.5 + 1 / value;
  for (let step = 0; step < 60; step++) {
    const now = trigamma(x);
    const h = 1e-5 * x;
    const slope = (trigamma(x + h) - trigamma(x - h)) / (2 * h);
    const change = (now * (1 - now / value)) / slope;
    x = Math.max(x + change, 0.2 * x);
    if (Math.abs(change) < 1e-12 * x) break;
  }
  return x;
}
