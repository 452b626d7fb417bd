// sources: the sources found and both quadratures of the amplitude → their watts while the supply is on, and how unsure
// they are.

import { solveNonNegative } from "../numeric/nonnegative-least-squares.js";
import { addSquared } from "../numeric/pixel-errors.js";
import type { AlternatingPlate } from "./alternating-plate.js";
import { LEAST_WEIGHT } from "./average-powers.js";
import type { Column } from "./column.js";
import { REST_SHARE, TEMPER } from "./copper-powers.js";
import type { ProjectedColumn } from "./cross-products.js";
import type { FitParts } from "./mirrored-places.js";
import { CAPACITY_ERRORS } from "./plate-capacity.js";
import { ProjectedFit } from "./projected-fit.js";
import type { PowerToTell } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Lags that are tried, degrees: the picture's phase is that of the strongest heat, from no lag at all to that of a
 *  body that is itself late on a plate that is. */
const LAGS_DEG = Object.freeze({ from: 0, to: 120, step: 5 });
/** Error of the watts' logarithm once length, lag and capacity are given: copper near the source (half of 0.35, that of
 *  a conductance). */
const COPPER_ERROR = 0.17;

/** Fit the watts of a set anew to both quadratures. One picture tells the watts only with the lag of its phase behind
 *  the supply, which nobody measures; both together show it: the board as a whole is a quarter of a period behind the
 *  supply, the plate near the source is less.
 *  @param parts what the set was fitted with. @param quadrature what goes as the sine where `parts.rise` goes as the
 *  cosine, K.
 *  @param modelled what the set makes, K per pixel; not modified.
 *  @returns one per candidate, null for those that have no watts.
 */
export function alternatingPowers(
  model: SourceModel,
  plate: AlternatingPlate,
  parts: FitParts,
  quadrature: Float32Array,
  set: readonly Candidate[],
  modelled: Float32Array,
): (PowerToTell | null)[] {
  const variance = addSquared(parts.variance, modelled, REST_SHARE);
  const fits = [parts.rise, quadrature].map((data) => new ProjectedFit(data, variance, parts.nuisance)) as [
    ProjectedFit,
    ProjectedFit,
  ];
  const heating = set.flatMap((candidate, c) => (candidate.kind === "mirror" ? [] : [{ candidate, c }]));
  const bodies = heating.map(({ candidate: { kind, body } }) => (kind === "heat" ? body : null));
  const products = plate.lengthsMm.map((lengthMm) => {
    const seen = heating.map(({ candidate }) =>
      plate.quadratures(candidate.footprint, lengthMm).map((values) => model.onBoard(values)),
    );
    return { of: new Products(fits, seen, bodies), penalty: plate.penaltyOf({ lengthMm }) };
  });
  const most = heating.map(({ candidate }) => candidate.maxBodyKPerW);
  const powers = set.map((): PowerToTell | null => null);
  heating.forEach(({ c }, k) => {
    const shares = bodies[k] === null ? [{ kPerW: 0, penalty: 0 }] : bodiesTried(most[k]! / model.plateDoubt);
    const tried = products.flatMap(({ of, penalty }) =>
      lags().flatMap((lagRad) =>
        shares.map((share) => {
          const fit = of.fit(lagRad, most, k, share.kPerW);
          return { ...fit, chi2: penalty + share.penalty - fit.gain / (TEMPER * parts.scale) };
        }),
      ),
    );
    powers[c] = powerOf(
      tried,
      parts.scale,
      Math.hypot(COPPER_ERROR, CAPACITY_ERRORS[model.plate.capacityBy]),
    );
  });
  return powers;
}

/** Join what all states and bodies say of one candidate's watts. */
function powerOf(
  tried: readonly { readonly powerW: number; readonly varianceW2: number; readonly chi2: number }[],
  scale: number,
  restError: number,
): PowerToTell | null {
  const least = Math.min(...tried.map(({ chi2 }) => chi2));
  let [weights, mean, square] = [0, 0, 0];
  for (const { powerW, varianceW2, chi2 } of tried) {
    if (!(powerW > 0)) continue;
    const weight = Math.exp(-0.5 * (chi2 - least));
    const log = Math.log(powerW);
    const noise2 = Math.min(1, Math.max(0, TEMPER * scale * varianceW2) / powerW ** 2);
    weights += weight;
    mean += weight * log;
    square += weight * (log * log + noise2 + restError ** 2);
  }
  if (!(weights > LEAST_WEIGHT)) return null;
  mean /= weights;
  return {
    powerW: Math.exp(mean),
    powerLogSigma: Math.sqrt(Math.max(0, square / weights - mean * mean)),
    powerNoiseW: 0,
  };
}

/** How much warmer a body is than the plate under it, in the rhythm: at most as much as at rest, most often an eighth
 *  of that, to a factor of three. A judgement: bodies of the same size differ by their lead frames, and most are too
 *  late for the rhythm. */
const BODY = Object.freeze({ likeliest: 0.125, logSpread: 1.1, halvings: 6 });

function bodiesTried(mostKPerW: number): { readonly kPerW: number; readonly penalty: number }[] {
  const usual = Math.log(BODY.likeliest);
  return Array.from({ length: 2 * BODY.halvings + 1 }, (_, k) => {
    const log = (-k / 2) * Math.LN2;
    return { kPerW: mostKPerW * Math.exp(log), penalty: ((log - usual) / BODY.logSpread) ** 2 };
  });
}

function lags(): number[] {
  const { from, to, step } = LAGS_DEG;
  return Array.from({ length: (to - from) / step + 1 }, (_, k) => ((from + k * step) * Math.PI) / 180);
}

/** Inner products of one length's columns, from which the fit at any lag is put together. */
class Products {
  private readonly columns: readonly ProjectedColumn[];
  /** The same columns against the second picture. */
  private readonly others: readonly ProjectedColumn[];
  private readonly bodyAt: readonly number[];
  private readonly gram: Float64Array;

  constructor(
    [first, second]: readonly [ProjectedFit, ProjectedFit],
    private readonly seen: readonly (readonly Column[])[],
    bodies: readonly (Column | null)[],
  ) {
    const all = seen.flat();
    this.bodyAt = bodies.map((body) => (body === null ? -1 : all.push(body) - 1));
    this.columns = all.map((column) => first.project(column));
    this.others = all.map((column) => second.project(column));
    const n = all.length;
    this.gram = new Float64Array(n * n);
    for (let a = 0; a < n; a++) {
      for (let b = 0; b <= a; b++) {
        const [p, q] = [this.columns[a]!, this.columns[b]!];
        const product = a === b ? p.norm : first.cross(p, q);
        this.gram[a * n + b] = product;
        this.gram[b * n + a] = product;
      }
    }
  }

  /** Fit watts and bodies at one lag. @param told body of one of them, K/W. */
  fit(lagRad: number, maxBodyKPerW: readonly number[], one: number, bodyKPerW: number) {
    const [c, s] = [Math.cos(lagRad), Math.sin(lagRad)];
    /** Each unknown: its amounts of the columns in the first picture and in the second. */
    type Amounts = readonly (readonly [number, number])[];
    const unknowns: { readonly first: Amounts; readonly second: Amounts; readonly of: number | null }[] = [];
    this.seen.forEach((_, k) => {
      const [real, imaginary] = [2 * k, 2 * k + 1];
      const first: Amounts = [
        [real, c],
        [imaginary, -s],
      ];
      const second: Amounts = [
        [real, -s],
        [imaginary, -c],
      ];
      const body = this.bodyAt[k]!;
      if (body < 0 || k !== one) unknowns.push({ first, second, of: k });
      if (body < 0) return;
      unknowns.push({ first: [...first, [body, k === one ? bodyKPerW : maxBodyKPerW[k]!]], second, of: k });
      unknowns.push({ first: [], second: [[body, 1]], of: null });
    });
    const n = unknowns.length;
    const gram = new Float64Array(n * n);
    const right = new Float64Array(n);
    unknowns.forEach((a, i) => {
      for (const [at, amount] of a.first) right[i]! += amount * this.columns[at]!.withData;
      for (const [at, amount] of a.second) right[i]! += amount * this.others[at]!.withData;
      unknowns.forEach((b, j) => {
        gram[i * n + j] = this.product(a.first, b.first) + this.product(a.second, b.second);
      });
    });
    const free = Uint8Array.from(unknowns, ({ of }) => (of === null ? 1 : 0));
    const { x, explained, passive, variance } = solveNonNegative(gram, right, n, { free });
    let [powerW, varianceW2] = [0, 0];
    unknowns.forEach(({ of }, i) => {
      if (of !== one) return;
      powerW += x[i]!;
      if (passive[i] === 1) varianceW2 += variance[i]!;
    });
    return { powerW, varianceW2, gain: explained };
  }

  private product(
    a: readonly (readonly [number, number])[],
    b: readonly (readonly [number, number])[],
  ): number {
    const n = this.columns.length;
    let sum = 0;
    for (const [i, p] of a) for (const [j, q] of b) sum += p * q * this.gram[i * n + j]!;
    return sum;
  }
}
