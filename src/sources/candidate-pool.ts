// sources: candidates at one cooling length → their projected columns and products, each computed once when asked for.
import { solveNonNegative } from "../numeric/nonnegative-least-squares.js";
import type { ProjectedColumn, ProjectedFit } from "./projected-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Answer for one set of candidates. */
export interface SetFit {
  /** χ² the set takes off what the nuisances leave. */
  readonly gain: number;
  /** Watts per candidate, in the order of the set; 0 for mirrors. */
  readonly powersW: Float64Array;
  /** Watt-weighted share of the warmest body, per candidate: 0 = plate alone, 1 = the most a body can be warmer. */
  readonly bodyShares: Float64Array;
  /** Variance of the watts in units of the data's variance. */
  readonly variancesW2: Float64Array;
  /** Columns and amounts of all candidates, one after the other; `starts[c]` is where those of candidate c begin. */
  readonly starts: readonly number[];
  readonly columns: readonly ProjectedColumn[];
  readonly amounts: Float64Array;
}

/** Candidates with their columns at one cooling length. */
export class CandidatePool {
  private readonly ends = new Map<Candidate, ProjectedColumn[]>();
  private readonly crosses = new Map<ProjectedColumn, Map<ProjectedColumn, number>>();

  constructor(
    private readonly model: SourceModel,
    private readonly fit: ProjectedFit,
    readonly coolingLengthMm: number,
  ) {}

  /** Fit watts that are not negative to a set of candidates. */
  fitSet(set: readonly Candidate[]): SetFit {
    const columns = set.flatMap((candidate) => this.endsOf(candidate));
    const n = columns.length;
    const gram = new Float64Array(n * n);
    const right = new Float64Array(n);
    for (let a = 0; a < n; a++) {
      gram[a * n + a] = columns[a]!.norm;
      right[a] = columns[a]!.withData;
      for (let b = 0; b < a; b++) {
        const product = this.cross(columns[a]!, columns[b]!);
        gram[a * n + b] = product;
        gram[b * n + a] = product;
      }
    }
    const free = Uint8Array.from(
      set.flatMap((candidate) => this.endsOf(candidate).map(() => (candidate.kind === "heat" ? 0 : 1))),
    );
    const solution = solveNonNegative(gram, right, n, { free });
    const powersW = new Float64Array(set.length);
    const bodyShares = new Float64Array(set.length);
    const variancesW2 = new Float64Array(set.length);
    const starts: number[] = [];
    let k = 0;
    set.forEach((candidate, c) => {
      starts.push(k);
      const ends = this.endsOf(candidate).length;
      if (candidate.kind === "mirror") {
        k += ends;
        return;
      }
      for (let e = 0; e < ends; e++, k++) {
        powersW[c]! += solution.x[k]!;
        if (e === 1) bodyShares[c] = solution.x[k]!;
        if (solution.passive[k] === 1) variancesW2[c]! += solution.variance[k]!;
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
      amounts: solution.x,
    };
  }

  private endsOf(candidate: Candidate): ProjectedColumn[] {
    let ends = this.ends.get(candidate);
    if (ends === undefined) {
      ends = this.model.columns(candidate, this.coolingLengthMm).map((column) => this.fit.project(column));
      this.ends.set(candidate, ends);
    }
    return ends;
  }

  private cross(a: ProjectedColumn, b: ProjectedColumn): number {
    let row = this.crosses.get(a);
    if (row === undefined) {
      row = new Map();
      this.crosses.set(a, row);
    }
    let product = row.get(b);
    if (product === undefined) {
      product = this.fit.cross(a, b);
      row.set(b, product);
    }
    return product;
  }
}
