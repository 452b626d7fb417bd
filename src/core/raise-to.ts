// core: a base and an exponent → the power, to the same bits under every version of the engine.

/** Raise a number to a power. `**` and `Math.pow` are left to the engine by the language (ECMA-262,
 *  Number::exponentiate), and differ in their last bits from one Node to the next; squares (`** 2`) and powers of two
 *  are exact everywhere and need no function. Whole exponents are multiplied out, others go by exp and log, whose
 *  results are those of one library (fdlibm) in all of them.
 *  @param base not negative where the exponent is not whole; else NaN, as with `**`.
 *  @returns within a few units of the last place times the size of exponent · ln(base).
 */
export function raiseTo(base: number, exponent: number): number {
  if (!Number.isInteger(exponent)) return Math.exp(exponent * Math.log(base));
  let result = 1;
  let square = base;
  for (let left = Math.abs(exponent); left > 0; left = Math.floor(left / 2)) {
    if (left % 2 === 1) result *= square;
    square *= square;
  }
  return exponent < 0 ? 1 / result : result;
}
