// numeric: triangular factor and one more or one fewer variable → the factor of the changed matrix.

/** The factor L of a matrix that grows and shrinks by single variables. */
export interface GrowingFactor {
  /** Variables in it now. */
  size: number;
  /** Row length of `values`: the most variables it can take. */
  readonly capacity: number;
  /** Lower triangle, row-major; only the leading size×size corner means anything. */
  readonly values: Float64Array;
}

/** Make an empty factor for up to `capacity` variables. */
export function createGrowingFactor(capacity: number): GrowingFactor {
  return { size: 0, capacity, values: new Float64Array(capacity * capacity) };
}

/** Add a variable at the end, in O(size²).
 *  @param cross its products with the variables already in, in their order.
 *  @param diagonal its product with itself.
 *  @param leastShare the factor stays as it was if a smaller share of `diagonal` than this is not already explained by
 *  the variables in it: the variable is a combination of the others.
 *  @returns whether it was added.
 */
export function appendVariable(
  factor: GrowingFactor,
  cross: Float64Array,
  diagonal: number,
  leastShare: number,
): boolean {
  const { size, capacity, values } = factor;
  const row = size * capacity;
  let left = diagonal;
  for (let j = 0; j < size; j++) {
    let sum = cross[j]!;
    for (let k = 0; k < j; k++) sum -= values[row + k]! * values[j * capacity + k]!;
    const value = sum / values[j * capacity + j]!;
    values[row + j] = value;
    left -= value * value;
  }
  if (!(left > leastShare * diagonal)) return false;
  values[row + size] = Math.sqrt(left);
  factor.size = size + 1;
  return true;
}

/** Take out the variable at `place`, in O(size²): the rows below move up and plane rotations make them triangular again
 *  (Golub & Van Loan, Matrix Computations, section on updating; from memory).
 */
export function removeVariable(factor: GrowingFactor, place: number): void {
  const { size, capacity, values } = factor;
  for (let i = place; i < size - 1; i++) {
    const to = i * capacity;
    const from = to + capacity;
    for (let k = 0; k <= i + 1; k++) values[to + k] = values[from + k]!;
  }
  // Row i now ends one place right of the diagonal: rotate columns i and i + 1.
  for (let i = place; i < size - 1; i++) {
    const a = values[i * capacity + i]!;
    const b = values[i * capacity + i + 1]!;
    const length = Math.hypot(a, b);
    const c = a / length;
    const s = b / length;
    for (let k = i; k < size - 1; k++) {
      const at = k * capacity + i;
      const left = values[at]!;
      const right = values[at + 1]!;
      values[at] = c * left + s * right;
      values[at + 1] = c * right - s * left;
    }
  }
  factor.size = size - 1;
}

/** The factor of the variables that one problem began with, kept for the next one that begins with some of them. */
export class KeptFactor {
  private names: readonly unknown[] = [];
  private kept: GrowingFactor = createGrowingFactor(0);

  /** Lay the factor of the leading variables that are the same into an empty one.
   *  @param names what the variables are, by identity: the same ones must have the same products.
   *  @returns how many there are.
   */
  recall(names: readonly unknown[], into: GrowingFactor): number {
    let same = 0;
    while (same < names.length && same < this.names.length && names[same] === this.names[same]) same++;
    const { values, capacity } = this.kept;
    for (let i = 0; i < same; i++) {
      const row = values.subarray(i * capacity, i * capacity + i + 1);
      into.values.set(row, i * into.capacity);
    }
    into.size = same;
    return same;
  }

  /** Keep a factor that holds these variables and no others. */
  keep(names: readonly unknown[], { values, capacity }: GrowingFactor): void {
    const size = names.length;
    if (this.kept.capacity < size) this.kept = createGrowingFactor(2 * size);
    for (let i = 0; i < size; i++) {
      this.kept.values.set(values.subarray(i * capacity, i * capacity + i + 1), i * this.kept.capacity);
    }
    this.kept.size = size;
    this.names = names;
  }
}
