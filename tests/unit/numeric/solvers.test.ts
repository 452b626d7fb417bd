import { describe, expect, it } from "vitest";
import {
  choleskyFactor,
  choleskyInverse,
  choleskyInverseDiagonal,
  choleskySolve,
} from "../../../src/numeric/cholesky.js";
import {
  appendVariable,
  createGrowingFactor,
  removeVariable,
} from "../../../src/numeric/growing-cholesky.js";
import { solveNonNegative } from "../../../src/numeric/nonnegative-least-squares.js";

// L = [[2,0,0],[6,1,0],[−8,5,3]]: a matrix whose factor is whole numbers (textbook example).
const matrix = Float64Array.of(4, 12, -16, 12, 37, -43, -16, -43, 98);

describe("Cholesky", () => {
  it("factors, solves and inverts", () => {
    const factor = choleskyFactor(matrix, 3);
    expect(factor).toEqual(Float64Array.of(2, 0, 0, 6, 1, 0, -8, 5, 3));
    if (factor === null) return;
    const x = choleskySolve(factor, 3, Float64Array.of(4 - 24 - 48, 12 - 74 - 129, -16 + 86 + 294));
    expect(Array.from(x)).toEqual([expect.closeTo(1, 10), expect.closeTo(-2, 10), expect.closeTo(3, 10)]);
    // Inverse by cofactors: determinant 36.
    const diagonal = [(37 * 98 - 43 * 43) / 36, (4 * 98 - 16 * 16) / 36, (4 * 37 - 12 * 12) / 36];
    choleskyInverseDiagonal(factor, 3).forEach((value, i) => {
      expect(value).toBeCloseTo(diagonal[i]!, 10);
    });
    const inverse = choleskyInverse(factor, 3);
    expect(inverse[0]).toBeCloseTo(diagonal[0]!, 10);
    expect(inverse[3]).toBeCloseTo(-(12 * 98 - 16 * 43) / 36, 10);
    expect(inverse[1]).toBeCloseTo(inverse[3]!, 12);
  });

  it("says null where the matrix is not positive definite, and a ridge helps", () => {
    const singular = Float64Array.of(1, 2, 2, 4);
    expect(choleskyFactor(singular, 2)).toBeNull();
    expect(choleskyFactor(singular, 2, 1e-6)).not.toBeNull();
    expect(choleskyFactor(Float64Array.of(-1), 1)).toBeNull();
    expect(() => choleskyFactor(singular, 3)).toThrow(RangeError);
  });

  it("grows and shrinks to the factor of the matrix that is left", () => {
    const factor = createGrowingFactor(4);
    for (let i = 0; i < 3; i++) {
      expect(appendVariable(factor, matrix.slice(3 * i, 3 * i + i), matrix[4 * i]!, 1e-10)).toBe(true);
    }
    // The first variable again, doubled: nothing new.
    expect(appendVariable(factor, Float64Array.of(8, 24, -32), 16, 1e-10)).toBe(false);
    expect(factor.size).toBe(3);
    removeVariable(factor, 0);
    const rest = choleskyFactor(Float64Array.of(37, -43, -43, 98), 2)!;
    expect(factor.size).toBe(2);
    expect(Math.abs(factor.values[0]!)).toBeCloseTo(rest[0]!, 12);
    const right = Float64Array.of(1, -2);
    const a = choleskySolve(factor.values, 2, right, undefined, 4);
    const b = choleskySolve(rest, 2, right);
    expect(a[0]).toBeCloseTo(b[0]!, 12);
    expect(a[1]).toBeCloseTo(b[1]!, 12);
  });
});

describe("solveNonNegative", () => {
  // Columns (1,0), (1,1); b = (1, −1): unconstrained (2, −1).
  const gram = Float64Array.of(1, 1, 1, 2);
  const right = Float64Array.of(1, 0);

  it("holds a variable at 0 that would be negative, and fits the others without it", () => {
    const found = solveNonNegative(gram, right, 2);
    expect(Array.from(found.x)).toEqual([1, 0]);
    expect(Array.from(found.passive)).toEqual([1, 0]);
    expect(found.variance[0]).toBeCloseTo(1, 12);
    expect(found.variance[1]).toBeNaN();
    expect(found.explained).toBeCloseTo(1, 12);
    expect(found.dependent).toEqual([]);
  });

  it("lets a free variable be negative", () => {
    const found = solveNonNegative(gram, right, 2, { free: Uint8Array.of(0, 1) });
    expect(found.x[0]).toBeCloseTo(2, 12);
    expect(found.x[1]).toBeCloseTo(-1, 12);
    expect(found.variance[0]).toBeCloseTo(2, 12);
    expect(found.variance[1]).toBeCloseTo(1, 12);
  });

  it("names combinations of others and columns of zeros, whether free or not", () => {
    // Columns (1,0), (2,0), (0,0), (0,1).
    const twins = Float64Array.of(1, 2, 0, 0, 2, 4, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1);
    const b = Float64Array.of(3, 6, 0, 5);
    for (const free of [Uint8Array.of(0, 0, 0, 0), Uint8Array.of(1, 1, 1, 1)]) {
      const found = solveNonNegative(twins, b, 4, { free });
      expect(found.converged).toBe(true);
      expect(found.x[0]! + 2 * found.x[1]!).toBeCloseTo(3, 12);
      expect(found.x[3]).toBeCloseTo(5, 12);
      expect(found.explained).toBeCloseTo(34, 10);
      expect(found.passive[2]).toBe(0);
      expect(found.dependent).toContain(2);
    }
    expect(solveNonNegative(twins, b, 4, { free: Uint8Array.of(1, 1, 1, 1) }).dependent).toEqual([1, 2]);
  });

  it("does not care for the units of a variable", () => {
    const scale = [1e-6, 1e5];
    const scaled = gram.map((value, i) => value * scale[i >> 1]! * scale[i % 2]!);
    const found = solveNonNegative(
      scaled,
      right.map((value, i) => value * scale[i]!),
      2,
      {
        free: Uint8Array.of(0, 1),
      },
    );
    expect(found.x[0]! * scale[0]!).toBeCloseTo(2, 10);
    expect(found.x[1]! * scale[1]!).toBeCloseTo(-1, 10);
  });

  it("a ridge shrinks", () => {
    const found = solveNonNegative(Float64Array.of(4), Float64Array.of(8), 1, { ridge: 1 });
    expect(found.x[0]).toBeCloseTo(1, 12);
  });

  it("refuses sizes that don't fit and numbers that are none", () => {
    expect(() => solveNonNegative(gram, right, 3)).toThrow(RangeError);
    expect(() => solveNonNegative(gram, right, 2, { free: new Uint8Array(1) })).toThrow(RangeError);
    expect(() => solveNonNegative(gram, Float64Array.of(1, Number.NaN), 2)).toThrow(RangeError);
  });

  it("nothing to gain: all stay at 0", () => {
    const found = solveNonNegative(gram, Float64Array.of(-1, -3), 2);
    expect(Array.from(found.x)).toEqual([0, 0]);
    expect(found.explained).toBe(0);
  });
});
