// sources: a source among those found → every candidate in its place, those that do about as well held against uneven
// copper.
import type { CandidatePool } from "./candidate-pool.js";
import { copperFields, UNTOLD_FIELDS } from "./copper-fields.js";
import { FittedSets } from "./fitted-sets.js";
import { openCandidates } from "./open-candidates.js";
import { rankAlternatives } from "./rank-alternatives.js";
import type { FittedSource } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** What copper may turn round: a loss of this share of what the set explains (it changes heat close to a source by a
 *  third, and a tenth of χ²), or of this much evidence. Of so many candidates, the best on even copper first: with half
 *  as many one fault in two hundred behind the board is named less; the losses of all others stay those of even
 *  copper. */
const REACH = Object.freeze({ share: 0.15, evidence: 30, candidates: 8 });

/** What sets explain, by the pool that they were fitted with and the scale: the same ones are asked for twice. */
const KNOWN = new WeakMap<CandidatePool, { scale: number; gains: FittedSets<Candidate, number> }>();

/** Rankings in one state of the plate. A part and its neighbour, or what lies behind it, differ by the shape of a hill;
 *  so do a board of even copper and any other. Which of them explains a hill best is asked with the copper free, as far
 *  as copper differs. The temper that watts want (copper-powers) is left to whoever makes chances of the losses.
 */
export class CopperRanking {
  private readonly model: SourceModel;
  private readonly pool: CandidatePool;
  private readonly scale: number;
  private readonly gains: FittedSets<Candidate, number>;

  /** @param fit whose scale is by how much χ² overstates the evidence. */
  constructor(fit: { readonly model: SourceModel; readonly pool: CandidatePool; readonly scale: number }) {
    ({ model: this.model, pool: this.pool, scale: this.scale } = fit);
    let known = KNOWN.get(fit.pool);
    if (known?.scale !== fit.scale) known = { scale: fit.scale, gains: new FittedSets() };
    KNOWN.set(fit.pool, known);
    this.gains = known.gains;
  }

  /** Put every other candidate in a source's place.
   *  @param open candidates that may be added to the rest, the source among them. @param without the set found, less
   *  it.
   *  @returns evidence lost against the best, best first.
   */
  rank(open: readonly Candidate[], without: readonly Candidate[]): FittedSource["alternatives"] {
    const even = rankAlternatives(this.pool, open, without, this.scale);
    const best = even[0];
    if (best === undefined || this.model.alternating !== null) return even;
    const explained = this.pool.fitSet([...without, best.candidate]).gain / this.scale;
    const reach = REACH.share * explained + REACH.evidence;
    const close = even.filter(({ loss }) => loss < reach).slice(0, REACH.candidates);
    if (close.length < 2) return even;
    const gains = close.map(({ candidate }) => this.gainOf([...without, candidate]));
    const most = Math.max(...gains);
    return [
      ...close.map(({ candidate }, k) => ({ candidate, loss: most - gains[k]! })),
      ...even.slice(close.length),
    ].sort((a, b) => a.loss - b.loss);
  }

  /** Find what explains more than a source of a set on uneven copper, in its place, and enough; null if the source
   *  itself does best. */
  better(
    all: readonly Candidate[],
    set: readonly Candidate[],
    source: Candidate,
    wanted: (candidate: Candidate, others: readonly Candidate[]) => number,
  ): Candidate | null {
    const without = set.filter((other) => other !== source);
    const ranked = this.rank(openCandidates(all, without), without);
    const best = ranked[0]?.candidate;
    if (best === undefined || best === source || ranked.every(({ candidate }) => candidate !== source))
      return null;
    const gained = this.pool.fitSet([...without, best]).gain - this.pool.fitSet(without).gain;
    return gained >= wanted(best, without) * this.scale ? best : null;
  }

  /** Evidence of a set, the copper free: what it explains with the fields, less what their freedom alone would
   *  explain. */
  private gainOf(set: readonly Candidate[]): number {
    const known = this.gains.of(set);
    known.fit ??= this.fitOnCopper(set);
    return known.fit;
  }

  private fitOnCopper(set: readonly Candidate[]): number {
    const { model, pool, scale } = this;
    const { gain, powersW } = pool.fitSet(set);
    const heating = set.flatMap((candidate, c) => {
      const footprint = powersW[c]! > 0 ? model.copper.footprint(candidate.polygon) : null;
      return footprint === null ? [] : [{ at: candidate.at, footprint, powerW: powersW[c]! }];
    });
    if (heating.length === 0) return gain / scale;
    const places = heating.map(({ at }) => at);
    const columns = model.copper.columns(
      copperFields(model.copper.grid, places, UNTOLD_FIELDS),
      heating,
      model.wayTo(pool.state),
    );
    const beside = pool.fitBeside(set, columns, 1 / Math.sqrt(scale));
    return beside.gain / scale - beside.freedom;
  }
}
