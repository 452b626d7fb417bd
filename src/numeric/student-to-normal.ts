// numeric: a value of Student's t → the normal deviate with the same tail.

/** Give the standard normal number whose tail is as large as that of Student's t.
 *  Within 0.06 for 3 degrees of freedom and |t| up to 10, 0.04 for 5, 0.02 for 10 (held against scipy 1.10.1).
 *  Method: Wallace 1959, Ann. Math. Stat. 30:1124 (citation and formula from memory).
 *  @param freedom degrees of freedom, above 0; Infinity gives t itself.
 *  @throws RangeError if `freedom` is not above 0 (a fault of the caller).
 */
export function normalFromStudent(t: number, freedom: number): number {
  if (!(freedom > 0)) throw new RangeError(`needs degrees of freedom above 0, not ${freedom}`);
  if (freedom === Number.POSITIVE_INFINITY) return t;
  const shrink = (8 * freedom + 1) / (8 * freedom + 3);
  return Math.sign(t) * shrink * Math.sqrt(freedom * Math.log1p((t * t) / freedom));
}
