// tests: a number of rows and a band → a positive definite matrix, the same each time.
import { makeRandom } from "../../simulate/random.js";

/** A positive definite band matrix, whole, and as rows of its lower triangle. */
export function bandMatrix(n: number, band: number): { whole: number[][]; rows: Float64Array } {
  const random = makeRandom(`band ${n} ${band}`);
  const whole = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  const rows = new Float64Array(n * (band + 1));
  for (let i = 0; i < n; i++) {
    for (let j = Math.max(0, i - band); j <= i; j++) {
      const value = i === j ? 4 * band + random.uniform(0, 1) : random.uniform(-1.3, 1);
      whole[i]![j] = value;
      whole[j]![i] = value;
      rows[i * (band + 1) + band - (i - j)] = value;
    }
  }
  return { whole, rows };
}
