import { expect, it } from "vitest";
import { KeptFactor } from "../../../src/numeric/growing-cholesky.js";
import { type NonNegativeOptions, solveNonNegative } from "../../../src/numeric/nonnegative-least-squares.js";
import { makeRandom } from "../../simulate/random.js";

const random = makeRandom("kept factor");
const data = Float64Array.from({ length: 40 }, () => random.normal());
const columns = Array.from({ length: 12 }, () => data.map(() => random.normal()));
/** A combination of the first two. */
columns.push(columns[0]!.map((value, i) => value + columns[1]![i]!));

function dot(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, value, i) => sum + value * b[i]!, 0);
}

function solve(which: readonly number[], options: NonNegativeOptions) {
  const taken = which.map((k) => columns[k]!);
  const gram = Float64Array.from(taken.flatMap((a) => taken.map((b) => dot(a, b))));
  const right = Float64Array.from(taken.map((a) => dot(a, data)));
  // Every third one may not be negative.
  const free = Uint8Array.from(which, (k) => (k % 3 === 2 ? 0 : 1));
  return solveNonNegative(gram, right, which.length, { ...options, free });
}

const PROBLEMS = [
  [0, 1, 2, 3, 4, 5],
  [0, 1, 2, 3, 4, 5, 8],
  [0, 1, 2, 3, 4, 7, 8],
  [3, 0, 1, 5],
  [0, 1, 3, 4, 6, 7, 9, 10, 11],
  [0, 1],
] as const;

it("the factor that is kept of free variables from one problem to the next changes no bit", () => {
  const factor = new KeptFactor();
  for (const which of PROBLEMS) {
    expect(solve(which, { kept: { names: which, factor } })).toEqual(solve(which, {}));
  }
});

it("where a free variable is a combination of the others its problem is nothing to begin with", () => {
  const factor = new KeptFactor();
  const dependent = [0, 1, 12, 3];
  for (const which of [dependent, [...dependent, 4], PROBLEMS[0], dependent]) {
    expect(solve(which, { kept: { names: which, factor } })).toEqual(solve(which, {}));
  }
  expect(solve(dependent, {}).dependent).toEqual([2]);
});

it("without its variances the answer is the same", () => {
  const [whole, short] = [solve(PROBLEMS[2], {}), solve(PROBLEMS[2], { variances: false })];
  expect({ ...short, variance: whole.variance }).toEqual(whole);
  expect(short.variance.every(Number.isNaN)).toBe(true);
});
