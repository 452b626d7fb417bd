// sources: candidates in one state of the plate → sets of them fitted, their columns and products computed once, when
// asked for.
import { choleskyFactor, choleskySolve } from "../numeric/cholesky.js";
import { KeptFactor } from "../numeric/growing-cholesky.js";
import { type NonNegativeSolution, solveNonNegative } from "../numeric/nonnegative-least-squares.js";
import { sumVariances } from "../numeric/sum-variances.js";
import type { Column } from "./column.js";
import type { ProjectedColumn } from "./cross-products.js";
import { FittedSets } from "./fitted-sets.js";
import type { HeatFootprint } from "./heat-footprint.js";
import { SHAPE_SHARES } from "./mirror-shapes.js";
import type { PlateState } from "./plate-state.js";
import type { ProjectedFit } from "./projected-fit.js";
import { mirrorOf } from "./recast-candidate.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { withoutMirrors } from "./without-mirrors.js";

/** Answer for one set of candidates. */
export interface SetFit {
  /** χ² the set takes off what the nuisances leave. */
  readonly gain: number;
  /** Watts per candidate, in the order of the set; 0 for mirrors. */
  readonly powersW: Float64Array;
  /** Watt-weighted share of the warmest body, per candidate: 0 = plate alone, 1 = the most a body can be warmer. */
  readonly bodyShares: Float64Array;
  /** Variance of the watts in units of the data's variance: of plate and body each, what they share left aside. */
  readonly variancesW2: Float64Array;
  /** Columns and amounts of all candidates, one after the other; `starts[c]` is where those of candidate c begin. */
  readonly starts: readonly number[];
  readonly columns: readonly ProjectedColumn[];
  readonly amounts: Float64Array;
}

/** Answer for a set beside columns that are no candidates'. */
interface BesideFit {
  readonly powersW: Float64Array;
  /** Variance of the watts in units of the data's variance: of plate and body together, with what the columns leave
   *  open. */
  readonly variancesW2: Float64Array;
  /** The same of plate and body each, added up, as in `SetFit`. */
  readonly apartW2: Float64Array;
  /** The same of the watts of all together. */
  readonly totalVarianceW2: number;
  /** χ² that set and columns take off, less that of the columns' amounts against their prior. */
  readonly gain: number;
  /** Logarithm of how much narrower the data make the columns' amounts, squared: what their freedom alone may gain. */
  readonly freedom: number;
}

/** Plate and body of one part, told apart; variances in units of the data's variance. */
export interface FaceFit {
  readonly powerW: number;
  /** The body's rise above the plate, K. */
  readonly stepK: number;
  readonly powerVariance: number;
  readonly covariance: number;
  readonly stepVariance: number;
}

/** One unknown of the fit: base columns, each with its share. */
interface Unknown {
  readonly parts: readonly { readonly column: ProjectedColumn; readonly share: number }[];
  readonly free: boolean;
  /** Standard deviation before anything is seen; infinite if not given. */
  readonly priorSigma?: number;
}

/** Candidates with their columns in one state of the plate.
 *  A heating part in view is any mixture of two unknowns that are not negative: a watt with no warmer body than the
 *  plate, and a watt with the warmest body possible.
 */
export class CandidatePool {
  private readonly unknowns = new Map<Candidate, Unknown[]>();
  private readonly offFaces = new Map<HeatFootprint, CandidatePool>();
  /** Sets that were fitted, one candidate after the other: half of those a search asks for it has asked for before. */
  private readonly fitted = new FittedSets<Candidate, SetFit>();
  private readonly gains = new FittedSets<Candidate, number>();
  private readonly freeFactor = new KeptFactor();
  /** The normal equations last solved: the next ones mostly begin with the same unknowns. */
  private last = { unknowns: [] as readonly Unknown[], gram: new Float64Array(), right: new Float64Array() };

  constructor(
    private readonly model: SourceModel,
    private readonly fit: ProjectedFit,
    readonly state: PlateState,
  ) {}

  /** The same where a candidate's own face tells nothing; the same candidate only once. */
  offFace(candidate: Candidate): CandidatePool {
    let made = this.offFaces.get(candidate.footprint);
    if (made === undefined) {
      const fit = this.fit.leavingOut(candidate.footprint, (variance) =>
        withoutMirrors(this.model, variance, [mirrorOf(candidate)]),
      );
      made = new CandidatePool(this.model, fit, this.state);
      this.offFaces.set(candidate.footprint, made);
    }
    return made;
  }

  /** Compute the columns of candidates that will be fitted: several together take less time than one by one. */
  prepare(candidates: readonly Candidate[]): void {
    const missing = candidates.filter((one) => one.kind !== "mirror" && !this.unknowns.has(one));
    if (missing.length < 2) return;
    this.model.preparePlates(missing, this.state);
    this.fit.projectAll(missing.map((one) => this.model.plateColumn(one, this.state)));
  }

  /** Find which candidate it is worth most to add to a set, among those that explain anything.
   *  @param worth of a candidate and of the gain it brings. @param least worth.
   *  @returns null if there is none.
   */
  bestToAdd(
    set: readonly Candidate[],
    among: readonly Candidate[],
    worth: (candidate: Candidate, gained: number) => number,
    least = Number.NEGATIVE_INFINITY,
  ): Candidate | null {
    this.prepare(among);
    const { gain, columns } = this.fitSet(set);
    const plates = among.filter(({ kind }) => kind !== "mirror").map((one) => this.plateOf(one));
    this.fit.crossAll(plates, columns);
    let [best, most]: [Candidate | null, number] = [null, least];
    for (const candidate of among) {
      const gained = this.gainOf([...set, candidate]) - gain;
      const value = worth(candidate, gained);
      if (gained > 0 && value >= most) [best, most] = [candidate, value];
    }
    return best;
  }

  /** Fit watts that are not negative to a set of candidates; the answer is kept, and not to be modified. */
  fitSet(set: readonly Candidate[]): SetFit {
    const known = this.fitted.of(set);
    known.fit ??= this.fitAnew(set);
    return known.fit;
  }

  /** χ² that a set takes off, without the rest of its fit: what is asked of many sets to choose one. */
  gainOf(set: readonly Candidate[]): number {
    const known = this.gains.of(set);
    known.fit ??= this.fitted.of(set).fit?.gain ?? this.solve(this.unknownsOfAll(set), false).explained;
    return known.fit;
  }

  private unknownsOfAll(set: readonly Candidate[]): Unknown[] {
    this.prepare(set);
    return set.flatMap((candidate) => this.unknownsOf(candidate));
  }

  private fitAnew(set: readonly Candidate[]): SetFit {
    this.prepare(set);
    const groups = set.map((candidate) => this.unknownsOf(candidate));
    const solution = this.solve(groups.flat());
    const powersW = new Float64Array(set.length);
    const bodyShares = new Float64Array(set.length);
    const variancesW2 = new Float64Array(set.length);
    const starts: number[] = [];
    const columns: ProjectedColumn[] = [];
    const amounts: number[] = [];
    let k = 0;
    set.forEach((candidate, c) => {
      starts.push(columns.length);
      for (const [e, unknown] of groups[c]!.entries()) {
        const x = solution.x[k]!;
        for (const { column, share } of unknown.parts) {
          columns.push(column);
          amounts.push(share * x);
        }
        if (candidate.kind !== "mirror") {
          powersW[c]! += x;
          if (e === 1) bodyShares[c] = x;
          if (solution.passive[k] === 1) variancesW2[c]! += solution.variance[k]!;
        }
        k++;
      }
      if (powersW[c]! > 0) bodyShares[c]! /= powersW[c]!;
    });
    return {
      gain: solution.explained,
      powersW,
      bodyShares,
      variancesW2,
      starts,
      columns,
      amounts: Float64Array.from(amounts),
    };
  }

  /** Fit watts that are not negative beside columns that take any amount about none.
   *  @param priorSigma of each amount.
   *  @param cores other candidates whose watts are those of the one of the same number, too; null where there is none.
   */
  fitBeside(
    set: readonly Candidate[],
    columns: readonly Column[],
    priorSigma: number,
    cores: readonly (Candidate | null)[] = [],
  ): BesideFit {
    const members = set.map((candidate, c) => [candidate, ...(cores[c] ? [cores[c]] : [])]);
    this.prepare(members.flat());
    const groups = members.map((some) => some.flatMap((candidate) => this.unknownsOf(candidate)));
    this.fit.projectAll(columns);
    const beside = columns.map((column): Unknown => {
      return { parts: [{ column: this.fit.project(column), share: 1 }], free: true, priorSigma };
    });
    const own = groups.flat();
    const projected = beside.map(({ parts }) => parts[0]!.column);
    for (const column of projected) this.fit.crossAll(projected, [column]);
    const solution = this.solve([...own, ...beside]);
    const powersW = new Float64Array(set.length);
    const apartW2 = new Float64Array(set.length);
    let k = 0;
    // Amounts of a mirror are no watts.
    const heats = set.map((candidate, c) => {
      const numbers = groups[c]!.map(() => k++);
      if (candidate.kind === "mirror") return [];
      for (const one of numbers) {
        powersW[c]! += solution.x[one]!;
        if (solution.passive[one] === 1) apartW2[c]! += solution.variance[one]!;
      }
      return numbers;
    });
    const { gram, unknowns } = this.last;
    const variances = sumVariances(gram, unknowns.length, solution.passive, [...heats, heats.flat()]);
    return {
      powersW,
      variancesW2: variances.subarray(0, set.length),
      apartW2,
      totalVarianceW2: variances.at(-1)!,
      gain: solution.explained,
      freedom: this.freedomOf(own.length, priorSigma),
    };
  }

  /** Logarithm of the determinant of the last normal equations' rows from `first` on, in units of the prior's. */
  private freedomOf(first: number, priorSigma: number): number {
    const { unknowns, gram } = this.last;
    const n = unknowns.length;
    const m = n - first;
    const block = new Float64Array(m * m);
    for (let a = 0; a < m; a++) {
      for (let b = 0; b < m; b++) block[a * m + b] = priorSigma ** 2 * gram[(first + a) * n + first + b]!;
    }
    const factor = choleskyFactor(block, m);
    if (factor === null) throw new RangeError("columns beside a set are not independent of their prior");
    let log = 0;
    for (let a = 0; a < m; a++) log += 2 * Math.log(factor[a * m + a]!);
    return log;
  }

  /** χ² that one watt in a candidate adds through the plate alone, once the nuisances have taken their part. */
  plateNorm(candidate: Candidate): number {
    return this.plateOf(candidate).norm;
  }

  /** Fit the plate's watts and the body's own rise of a part in view with neither bound to the other nor to a sign,
   *  beside others with watts that are not negative.
   *  @param others mirrors among them are free of any prior. @param candidate has a body.
   *  @returns null where they can't be told apart.
   */
  fitFace(others: readonly Candidate[], candidate: Candidate): FaceFit | null {
    const body = candidate.body!;
    const own: Unknown[] = [this.plateOf(candidate), this.fit.project(body)].map((column) => ({
      parts: [{ column, share: 1 }],
      free: true,
    }));
    const unknowns = [...others.flatMap((other) => this.unknownsOf(other)), ...own];
    const solution = this.solve(unknowns);
    const n = unknowns.length;
    const fitted = unknowns.flatMap((_, k) => (solution.passive[k] === 1 ? [k] : []));
    const m = fitted.length;
    const taken = fitted.map((k) => unknowns[k]!);
    const gram = Float64Array.from(taken.flatMap((a) => taken.map((b) => this.product(a, b))));
    const factor = choleskyFactor(gram, m, 1e-10);
    const [p, s] = [fitted.indexOf(n - 2), fitted.indexOf(n - 1)];
    if (factor === null || p < 0 || s < 0) return null;
    const inverse = [p, s].map((k) => {
      const unit = new Float64Array(m);
      unit[k] = 1;
      return choleskySolve(factor, m, unit);
    });
    return {
      powerW: solution.x[n - 2]!,
      stepK: solution.x[n - 1]!,
      powerVariance: inverse[0]![p]!,
      covariance: inverse[0]![s]!,
      stepVariance: inverse[1]![s]!,
    };
  }

  private solve(unknowns: readonly Unknown[], variances = true): NonNegativeSolution {
    const n = unknowns.length;
    const [gram, right] = [new Float64Array(n * n), new Float64Array(n)];
    const { last } = this;
    const m = last.unknowns.length;
    let known = 0;
    while (known < n && known < m && unknowns[known] === last.unknowns[known]) known++;
    for (let a = 0; a < known; a++) {
      right[a] = last.right[a]!;
      for (let b = 0; b < known; b++) gram[a * n + b] = last.gram[a * m + b]!;
    }
    for (let a = known; a < n; a++) {
      for (const { column, share } of unknowns[a]!.parts) right[a]! += share * column.withData;
      for (let b = 0; b <= a; b++) {
        const product = this.product(unknowns[a]!, unknowns[b]!);
        gram[a * n + b] = product;
        gram[b * n + a] = product;
      }
      gram[a * n + a]! += 1 / (unknowns[a]!.priorSigma ?? Number.POSITIVE_INFINITY) ** 2;
    }
    this.last = { unknowns, gram, right };
    const free = Uint8Array.from(unknowns, (one) => (one.free ? 1 : 0));
    const kept = { names: unknowns, factor: this.freeFactor };
    return solveNonNegative(gram, right, n, { free, variances, kept });
  }

  private unknownsOf(candidate: Candidate): Unknown[] {
    let unknowns = this.unknowns.get(candidate);
    if (unknowns === undefined) {
      unknowns = this.makeUnknowns(candidate);
      this.unknowns.set(candidate, unknowns);
    }
    return unknowns;
  }

  private makeUnknowns(candidate: Candidate): Unknown[] {
    const { kind, body, maxBodyKPerW } = candidate;
    if (kind === "mirror") {
      const { mirrorStepK } = candidate;
      return this.model.mirrorColumns(candidate).map((column, k) => ({
        parts: [{ column: this.fit.project(column), share: 1 }],
        free: true,
        priorSigma:
          mirrorStepK === undefined
            ? Number.POSITIVE_INFINITY
            : Math.max(1e-3, mirrorStepK) * (SHAPE_SHARES[k] ?? Number.POSITIVE_INFINITY),
      }));
    }
    const plate = { column: this.plateOf(candidate), share: 1 };
    if (kind === "plate" || body === null) return [{ parts: [plate], free: kind === "plate" }];
    const warm = { column: this.fit.project(body), share: maxBodyKPerW };
    return [
      { parts: [plate], free: false },
      { parts: [plate, warm], free: false },
    ];
  }

  private plateOf(candidate: Candidate): ProjectedColumn {
    return this.fit.project(this.model.plateColumn(candidate, this.state));
  }

  private product(a: Unknown, b: Unknown): number {
    let sum = 0;
    for (const p of a.parts) {
      for (const q of b.parts) {
        const product = p.column === q.column ? p.column.norm : this.fit.cross(p.column, q.column);
        sum += p.share * q.share * product;
      }
    }
    return sum;
  }
}
