// reference: number → modified Bessel functions of order 0 and 1, the shapes of heat in a thin plate.

const EULER = 0.5772156649015329;
/** Up to here the series is used for K, above it the integral: both keep 14 digits at this point. */
const K_SERIES_LIMIT = 2;
/** Above this the asymptotic series of I reaches full precision: its smallest term is about e^(−2x). */
const I_ASYMPTOTIC = 20;

/** Give I₀(x), the modified Bessel function of the first kind. Relative error below 1e-13; Infinity above x = 713.
 *  Method: power series or asymptotic series (Abramowitz & Stegun 1964, 9.6.10 and 9.7.1; numbers from memory).
 */
export function besselI0(x: number): number {
  const size = Math.abs(x);
  return size <= I_ASYMPTOTIC ? powerSeries(size, 0) : asymptoticI(size, 0);
}

/** Give I₁(x); odd in x. Accuracy and method as for `besselI0`. */
export function besselI1(x: number): number {
  const size = Math.abs(x);
  return Math.sign(x) * (size <= I_ASYMPTOTIC ? powerSeries(size, 1) : asymptoticI(size, 1));
}

/** Give K₀(x), the modified Bessel function of the second kind: the heat round a point in an infinite plate.
 *  Relative error below 1e-12; 0 above x = 745, Infinity at 0.
 *  Method: series about 0 (Abramowitz & Stegun 1964, 9.6.13), beyond 2 the integral ∫e^(−x·cosh t)dt by the
 *  trapezoidal rule, which converges exponentially here (9.6.24; Trefethen & Weideman 2014, SIAM Review 56:385;
 *  citations from memory).
 *  @throws RangeError if x is negative or NaN (a fault of the caller).
 */
export function besselK0(x: number): number {
  checkK(x);
  if (x === 0) return Number.POSITIVE_INFINITY;
  return x <= K_SERIES_LIMIT ? seriesK0(x) : integralK(x, 0);
}

/** Give K₁(x) = −K₀′(x). Accuracy, method and errors as for `besselK0`. */
export function besselK1(x: number): number {
  checkK(x);
  if (x === 0) return Number.POSITIVE_INFINITY;
  return x <= K_SERIES_LIMIT ? seriesK1(x) : integralK(x, 1);
}

function checkK(x: number): void {
  if (!(x >= 0)) throw new RangeError(`K is defined from 0 upwards, not at ${x}`);
}

function powerSeries(x: number, order: 0 | 1): number {
  const square = (x * x) / 4;
  let term = order === 0 ? 1 : x / 2;
  let sum = term;
  for (let k = 1; term > sum * 1e-17; k++) {
    term *= square / (k * (k + order));
    sum += term;
  }
  return sum;
}

function asymptoticI(x: number, order: 0 | 1): number {
  const mu = 4 * order * order;
  let term = 1;
  let sum = 1;
  for (let k = 1; Math.abs(term) > 1e-17 && k < 60; k++) {
    const next = (-term * (mu - (2 * k - 1) ** 2)) / (8 * k * x);
    // An asymptotic series is cut where its terms stop falling.
    if (Math.abs(next) >= Math.abs(term)) break;
    term = next;
    sum += term;
  }
  // e^x in two halves: the whole overflows before the quotient does.
  const half = Math.exp(x / 2);
  return half * (half / Math.sqrt(2 * Math.PI * x)) * sum;
}

function seriesK0(x: number): number {
  const square = (x * x) / 4;
  let term = 1;
  let harmonic = 0;
  let sum = 0;
  for (let k = 1; k < 40; k++) {
    term *= square / (k * k);
    harmonic += 1 / k;
    sum += term * harmonic;
    if (term * harmonic < 1e-18 * sum) break;
  }
  return sum - (Math.log(x / 2) + EULER) * powerSeries(x, 0);
}

function seriesK1(x: number): number {
  const square = (x * x) / 4;
  // ψ(k+1) + ψ(k+2) = 2·(harmonic − Euler) + 1/(k+1)
  let term = 1;
  let harmonic = 0;
  let sum = 0;
  for (let k = 0; k < 40; k++) {
    if (k > 0) {
      term *= square / (k * (k + 1));
      harmonic += 1 / k;
    }
    sum += term * (2 * (harmonic - EULER) + 1 / (k + 1));
    if (term < 1e-19) break;
  }
  return 1 / x + Math.log(x / 2) * powerSeries(x, 1) - (x / 4) * sum;
}

function integralK(x: number, order: 0 | 1): number {
  // The integrand is a bell of width 1/√x about 0; at this step the rule's error is about e^(−40) of it.
  const step = Math.min(0.2, 0.7 / Math.sqrt(x));
  let sum = 0.5;
  for (let k = 1; k < 200; k++) {
    const t = k * step;
    // cosh t − 1 without cancellation
    const half = Math.sinh(t / 2);
    const fall = 2 * x * half * half;
    if (fall > 45) break;
    sum += Math.exp(-fall) * (order === 0 ? 1 : Math.cosh(t));
  }
  return step * sum * Math.exp(-x);
}
