// compare: ratios of all parts that heat in both attempts, and of the power fed in → which of them changed, weighed
// together.

/** Later ÷ earlier of one part. */
export interface JointRatio {
  readonly log: number;
  readonly sigma: number;
  /** Without what the plate's state makes, which all parts share. */
  readonly own: number;
}

/** Each part that is said to have changed must take off as much of χ²: a change of one part in ten (2 ln 9). */
const CHANGE_COST = 4.4;
/** So many parts change at most. */
const MOST_CHANGED = 2;

/** Say by how many sigma each part changed, where what it took more or less is itself in the power fed in: then each
 *  part by itself looks as if it changed a little per watt, that one the one way and all others the other way. Each
 *  choice of parts that changed is held against all ratios: with none all are as the power; beside a changed part the
 *  others keep one ratio between their watts and those per watt fed in. What the plate's state errs in is one error of
 *  all.
 *  Method: χ² of the best choice with the part against the best one without it, each with its cost; the root of the
 *  difference.
 *  @param powerLog logarithm of the later ÷ the earlier power fed in, @param powerSigma its uncertainty.
 *  @returns in the order of the ratios, below zero where it is cooler; 0 for what did not change.
 */
export function judgeJointly(ratios: readonly JointRatio[], powerLog: number, powerSigma: number): number[] {
  const choices = choicesOf(ratios.length).map((changed) => {
    const rest = ratios.filter((_, k) => !changed.includes(k));
    const { square, common } =
      changed.length === 0
        ? { square: misfit(rest, powerLog, powerSigma), common: powerLog }
        : bestCommon(rest, Math.min(0, powerLog), Math.max(0, powerLog));
    return { changed, common, cost: square + CHANGE_COST * changed.length };
  });
  return ratios.map(({ log }, k) => {
    const [withIt, without] = [true, false].map((holds) =>
      choices
        .filter(({ changed }) => changed.includes(k) === holds)
        .reduce((best, one) => (one.cost < best.cost ? one : best)),
    ) as [(typeof choices)[number], (typeof choices)[number]];
    const sigmas = Math.sqrt(Math.max(0, without.cost - withIt.cost));
    return sigmas > 0 && log < withIt.common ? -sigmas : sigmas;
  });
}

function choicesOf(count: number): number[][] {
  const all = Array.from({ length: count }, (_, k) => k);
  const pairs = all.flatMap((a) => all.filter((b) => b > a).map((b) => [a, b]));
  return [[], ...all.map((k) => [k]), ...pairs].filter(({ length }) => length <= MOST_CHANGED);
}

/** χ² of ratios about one logarithm. @param commonSigma how well that one is known. */
function misfit(ratios: readonly JointRatio[], commonLog: number, commonSigma: number): number {
  const off = ratios.map(({ log }) => log - commonLog);
  const states = ratios.map(stateOf);
  const ones = ratios.map(() => 1);
  // Two errors that all share, one after the other: Sherman & Morrison's formula twice.
  const first = withShared(ratios, states);
  if (commonSigma === 0) return first(off, off);
  const shared = first(ones, off) * commonSigma;
  return first(off, off) - shared ** 2 / (1 + commonSigma ** 2 * first(ones, ones));
}

/** The one logarithm within bounds that ratios fit best. */
function bestCommon(
  ratios: readonly JointRatio[],
  low: number,
  high: number,
): { square: number; common: number } {
  const ones = ratios.map(() => 1);
  const product = withShared(ratios, ratios.map(stateOf));
  const weight = product(ones, ones);
  const mean =
    weight > 0
      ? product(
          ones,
          ratios.map(({ log }) => log),
        ) / weight
      : 0;
  const common = Math.min(high, Math.max(low, mean));
  return { square: misfit(ratios, common, 0), common };
}

function stateOf({ sigma, own }: JointRatio): number {
  return Math.sqrt(Math.max(0, sigma ** 2 - own ** 2));
}

/** The inner product by the inverse of the covariance of own errors and one that all share. */
function withShared(
  ratios: readonly JointRatio[],
  shared: readonly number[],
): (a: readonly number[], b: readonly number[]) => number {
  const plain = (a: readonly number[], b: readonly number[]) =>
    ratios.reduce((sum, { own }, k) => sum + (a[k]! * b[k]!) / own ** 2, 0);
  const norm = 1 + plain(shared, shared);
  return (a, b) => plain(a, b) - (plain(a, shared) * plain(b, shared)) / norm;
}
