// sources: a step, its error and its usual size, known to a factor → the log density of the step.

/** Points of a Gaussian, from −3 to 3 in quarters, at which the spread of a body's resistance is summed. */
const SPREAD_POINTS = 25;
const SPREAD_WEIGHTS = Float64Array.from({ length: SPREAD_POINTS }, (_, k) =>
  Math.exp(-0.5 * (-3 + 0.25 * k) * (-3 + 0.25 * k)),
);

/** e^(u·spread) at those points: of few spreads, each asked for thousands of times. */
const spreadFactors = new Map<number, Float64Array>();

function factorsOf(spread: number): Float64Array {
  let factors = spreadFactors.get(spread);
  if (factors === undefined) {
    factors = Float64Array.from({ length: SPREAD_POINTS }, (_, k) => Math.exp((-3 + 0.25 * k) * spread));
    spreadFactors.set(spread, factors);
  }
  return factors;
}

/** Work out the log density of a body's step, summed over its resistance.
 *  @param stepK measured. @param sigmaK its error.
 *  @param usualK size of the usual body. @param spread of the logarithm of that: a normal deviate up to 3 of it.
 *  @returns ln of 1/K; −69 at least.
 */
export function logStep(stepK: number, sigmaK: number, usualK: number, spread: number): number {
  const factors = factorsOf(spread);
  let sum = 0;
  let weights = 0;
  for (let k = 0; k < SPREAD_POINTS; k++) {
    const z = (stepK - usualK * factors[k]!) / sigmaK;
    sum += SPREAD_WEIGHTS[k]! * Math.exp(-0.5 * z * z);
    weights += SPREAD_WEIGHTS[k]!;
  }
  return Math.log(sum / weights / (Math.sqrt(2 * Math.PI) * sigmaK) + 1e-30);
}
