// numeric: normal equations → the least-squares answer in which some variables may not be negative.
import { choleskyInverseDiagonal, choleskySolve } from "./cholesky.js";
import {
  appendVariable,
  createGrowingFactor,
  type GrowingFactor,
  type KeptFactor,
  removeVariable,
} from "./growing-cholesky.js";

/** Options of `solveNonNegative`. */
export interface NonNegativeOptions {
  /** 1 for variables that may be negative, 0 for those that may not; default all 0. */
  readonly free?: Uint8Array;
  /** Added to the diagonal of the Gram matrix, as a share of each diagonal element; default 0. */
  readonly ridge?: number;
  /** False to leave the variances out, which take as long as the rest; default true. */
  readonly variances?: boolean;
  /** What the variables are, by identity, and the factor of free ones from an earlier problem: where this one begins
   *  with the same, theirs is taken. The ridge must be the same. Default: nothing is kept. */
  readonly kept?: { readonly names: readonly unknown[]; readonly factor: KeptFactor };
}

/** What `solveNonNegative` finds. */
export interface NonNegativeSolution {
  /** The answer; 0 for variables held at the bound. */
  readonly x: Float64Array;
  /** 1 for variables that were fitted (free ones and those above 0), 0 for those held at 0. */
  readonly passive: Uint8Array;
  /** Diagonal of the inverse of the Gram matrix of the fitted variables; NaN for the others, and where they are left
   *  out. */
  readonly variance: Float64Array;
  /** ‖b‖² − ‖A·x − b‖²: how much of the sum of squares the answer explains (with a ridge: ridge term included). */
  readonly explained: number;
  /** Variables left out because they are combinations of fitted ones or all zero. */
  readonly dependent: readonly number[];
  /** False if the limit of rounds was met: `x` is feasible but perhaps not the best. */
  readonly converged: boolean;
}

/** Constants of the active-set search. */
const NON_NEGATIVE_DEFAULTS = Object.freeze({
  /** A variable with a smaller share of its square left unexplained is a combination of the others: sums of 1e5
   *  products in double keep about 1e-12. */
  leastShare: 1e-10,
  /** Gradients below this share of the largest one at the start are zero: a hundred times the rounding of the solve. */
  gradientShare: 1e-11,
  /** Rounds per variable; an ordinary search needs one or two. */
  roundsPerVariable: 5,
});

/** Minimise ‖A·x − b‖ with x ≥ 0 for all variables that are not free, from AᵀA and Aᵀb.
 *  Method: active set (Lawson & Hanson 1974, Solving Least Squares Problems, ch. 23) on the normal equations (Bro & de
 *  Jong 1997, J. Chemom. 11:393; citations from memory). Differs: variables are scaled to unit length, free ones are
 *  always in, the triangular factor is updated and not made anew.
 *  @param gram AᵀA, n×n; not modified. Weight A and b by 1/σ and `variance` holds variances.
 *  @param right Aᵀb, n values; not modified.
 *  @throws RangeError if sizes don't fit or a number is not finite (a fault of the caller).
 */
export function solveNonNegative(
  gram: Float64Array,
  right: Float64Array,
  n: number,
  options: NonNegativeOptions = {},
): NonNegativeSolution {
  checkInput(gram, right, n, options);
  const search = startSearch(gram, right, n, options);
  const limit = NON_NEGATIVE_DEFAULTS.roundsPerVariable * n + 10;
  let rounds = 0;
  let converged = false;
  while (rounds++ < limit) {
    const candidate = steepest(search);
    if (candidate < 0) {
      converged = true;
      break;
    }
    if (!enter(search, candidate)) {
      search.barred[candidate] = 1;
      continue;
    }
    const solved = solvePassive(search);
    if (solved[search.order.length - 1]! <= 0) {
      // Its gradient said it would grow: rounding. It stays out until something else changes.
      leave(search, search.order.length - 1);
      search.barred[candidate] = 2;
      continue;
    }
    search.barred.fill(0);
    moveInside(search, solved);
  }
  return finish(search, converged, options.variances ?? true);
}

interface Search {
  readonly n: number;
  readonly gram: Float64Array;
  readonly scale: Float64Array;
  /** Scaled right side. */
  readonly right: Float64Array;
  readonly free: Uint8Array;
  readonly ridge: number;
  readonly factor: GrowingFactor;
  /** Fitted variables in the order of the factor. */
  readonly order: number[];
  readonly passive: Uint8Array;
  /** Not to be tried until the set changes: 1 a combination of fitted variables, 2 its gradient was rounding. */
  readonly barred: Uint8Array;
  /** Scaled answer. */
  readonly x: Float64Array;
  readonly cross: Float64Array;
  readonly gradientFloor: number;
}

function checkInput(gram: Float64Array, right: Float64Array, n: number, options: NonNegativeOptions): void {
  if (gram.length !== n * n || right.length !== n || (options.free ?? right).length !== n) {
    throw new RangeError(`${n} variables do not fit ${gram.length} and ${right.length} values`);
  }
  if (!gram.every(Number.isFinite) || !right.every(Number.isFinite)) {
    throw new RangeError("the normal equations hold a number that is not finite");
  }
}

function startSearch(
  gram: Float64Array,
  right: Float64Array,
  n: number,
  options: NonNegativeOptions,
): Search {
  const scale = new Float64Array(n);
  const scaled = new Float64Array(n);
  let largest = 0;
  for (let i = 0; i < n; i++) {
    const square = gram[i * n + i]!;
    scale[i] = square > 0 ? 1 / Math.sqrt(square) : 0;
    scaled[i] = right[i]! * scale[i]!;
    largest = Math.max(largest, Math.abs(scaled[i]!));
  }
  const search: Search = {
    n,
    gram,
    scale,
    right: scaled,
    free: options.free ?? new Uint8Array(n),
    ridge: options.ridge ?? 0,
    factor: createGrowingFactor(n),
    order: [],
    passive: new Uint8Array(n),
    barred: new Uint8Array(n),
    x: new Float64Array(n),
    cross: new Float64Array(n),
    gradientFloor: NON_NEGATIVE_DEFAULTS.gradientShare * largest,
  };
  enterFree(search, options.kept);
  const solved = solvePassive(search);
  for (let p = 0; p < search.order.length; p++) search.x[search.order[p]!] = solved[p]!;
  return search;
}

/** Take all free variables in, those known from an earlier problem at once. */
function enterFree(search: Search, kept: NonNegativeOptions["kept"]): void {
  const { n, free, factor, order, passive } = search;
  const all: number[] = [];
  for (let i = 0; i < n; i++) if (free[i] === 1) all.push(i);
  const names = kept === undefined ? [] : all.map((i) => kept.names[i]);
  const known = kept?.factor.recall(names, factor) ?? 0;
  for (let k = 0; k < known; k++) {
    order.push(all[k]!);
    passive[all[k]!] = 1;
  }
  for (let k = known; k < all.length; k++) enter(search, all[k]!);
  // Where one is a combination of the others the factor is not that of all of them.
  if (known < all.length && order.length === all.length) kept?.factor.keep(names, factor);
}

/** The variable outside the set whose growth lowers the residual fastest; −1 if none does. */
function steepest(search: Search): number {
  const { n, gram, scale, right, order, x } = search;
  let best = -1;
  let steep = search.gradientFloor;
  for (let j = 0; j < n; j++) {
    if (search.passive[j] === 1 || search.free[j] === 1 || search.barred[j] !== 0 || scale[j] === 0) continue;
    let sum = 0;
    for (let p = 0; p < order.length; p++) {
      const i = order[p]!;
      sum += gram[j * n + i]! * scale[i]! * x[i]!;
    }
    const gradient = right[j]! - scale[j]! * sum;
    if (gradient > steep) {
      steep = gradient;
      best = j;
    }
  }
  return best;
}

/** Take a variable into the set; false if it is a combination of those in it. */
function enter(search: Search, j: number): boolean {
  const { n, gram, scale, order, cross } = search;
  if (scale[j] === 0) return false;
  for (let p = 0; p < order.length; p++) {
    const i = order[p]!;
    cross[p] = gram[j * n + i]! * scale[i]! * scale[j]!;
  }
  if (!appendVariable(search.factor, cross, 1 + search.ridge, NON_NEGATIVE_DEFAULTS.leastShare)) return false;
  order.push(j);
  search.passive[j] = 1;
  return true;
}

function leave(search: Search, place: number): void {
  const j = search.order[place]!;
  removeVariable(search.factor, place);
  search.order.splice(place, 1);
  search.passive[j] = 0;
  search.x[j] = 0;
}

/** Least squares over the set alone, in the order of the factor. */
function solvePassive(search: Search): Float64Array {
  const { order, factor } = search;
  const right = new Float64Array(order.length);
  for (let p = 0; p < order.length; p++) right[p] = search.right[order[p]!]!;
  return choleskySolve(factor.values, order.length, right, right, factor.capacity);
}

/** Go from the present answer towards `solved` as far as no bound is crossed; drop what meets its bound; repeat. */
function moveInside(search: Search, solved: Float64Array): void {
  const { order, x, free } = search;
  let target = solved;
  for (;;) {
    let share = 1;
    let first = -1;
    for (let p = 0; p < order.length; p++) {
      const j = order[p]!;
      if (free[j] === 1 || target[p]! > 0) continue;
      // Share of the way to the bound; a variable that is on it goes first.
      const reach = x[j]! > 0 ? x[j]! / (x[j]! - target[p]!) : 0;
      if (first < 0 || reach < share) {
        share = reach;
        first = j;
      }
    }
    for (let p = 0; p < order.length; p++) {
      const j = order[p]!;
      x[j] = first < 0 ? target[p]! : x[j]! + share * (target[p]! - x[j]!);
    }
    if (first < 0) return;
    for (let p = order.length - 1; p >= 0; p--) {
      const j = order[p]!;
      if (free[j] === 0 && (j === first || x[j]! <= 0)) leave(search, p);
    }
    target = solvePassive(search);
  }
}

function finish(search: Search, converged: boolean, variances: boolean): NonNegativeSolution {
  const { n, scale, order, factor, passive, barred, free } = search;
  const x = new Float64Array(n);
  const variance = new Float64Array(n).fill(Number.NaN);
  const diagonal = variances ? choleskyInverseDiagonal(factor.values, order.length, factor.capacity) : null;
  let explained = 0;
  for (let p = 0; p < order.length; p++) {
    const j = order[p]!;
    x[j] = search.x[j]! * scale[j]!;
    if (diagonal !== null) variance[j] = diagonal[p]! * scale[j]! * scale[j]!;
    explained += search.x[j]! * search.right[j]!;
  }
  const dependent: number[] = [];
  for (let j = 0; j < n; j++) {
    if (passive[j] === 0 && (free[j] === 1 || barred[j] === 1 || scale[j] === 0)) dependent.push(j);
  }
  return { x, passive, variance, explained, dependent, converged };
}
