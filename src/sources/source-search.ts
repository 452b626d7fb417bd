// sources: candidates and a fit → the set that explains the rise, built up, exchanged and pruned.
import type { ResolvedOptions } from "../core/options.js";
import { type AveragedPower, averagePowers } from "./average-powers.js";
import { CandidatePool, type SetFit } from "./candidate-pool.js";
import { coolFaces } from "./cool-faces.js";
import type { FIT_DEFAULTS } from "./fit-defaults.js";
import { hasCooled } from "./has-cooled.js";
import { heatOfSet } from "./heat-of-set.js";
import { mirroredPlaces } from "./mirrored-places.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { ownShare } from "./own-share.js";
import { sizesOf } from "./picture.js";
import type { PlateState } from "./plate-state.js";
import { ProjectedFit } from "./projected-fit.js";
import { isFault, mirrorOf } from "./recast-candidate.js";
import { residualScale } from "./residual-scale.js";
import { smallestPowers } from "./smallest-powers.js";
import type { FittedSource, SourceFit } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { evidenceOnUneven } from "./uneven-copper.js";
import { unexplainedPixels } from "./unexplained-pixels.js";
import { weighFace } from "./weigh-face.js";

/** The search for the sources of one rise: prepare, select, choose the state of the plate, finish. */
export class SourceSearch {
  state: PlateState;
  private readonly all: readonly Candidate[];
  private fit!: ProjectedFit;
  private pool!: CandidatePool;
  variance!: Float32Array;
  nuisance: readonly NuisanceColumn[] = [];
  private set: Candidate[] = [];
  private answer!: SetFit;
  scale = 1;
  private roomK = 0;
  residual: Float32Array = new Float32Array(0);

  constructor(
    private readonly model: SourceModel,
    readonly rise: Float32Array,
    extra: readonly Candidate[],
    private readonly minEvidence: number,
    private readonly o: ResolvedOptions<typeof FIT_DEFAULTS>,
  ) {
    this.all = [...model.candidates, ...extra];
    this.state = model.firstState;
  }

  /** Lay out the problem.
   *  @param roomK how much the room changed that all faces mirror, K.
   */
  prepare(variance: Float32Array, nuisance: readonly NuisanceColumn[], roomK: number): void {
    this.roomK = roomK;
    this.variance = new Float32Array(variance.length).fill(Number.NaN);
    for (const { seen, offset } of this.model.pictures) {
      seen.onBoard.forEach((on, i) => {
        if (on === 1) this.variance[offset + i] = variance[offset + i]!;
      });
    }
    this.nuisance = nuisance;
    this.fit = new ProjectedFit(this.rise, this.variance, nuisance);
  }

  /** Build up the set greedily in one state of the plate, then drop what no longer carries its weight. */
  select(state: PlateState): void {
    this.state = state;
    this.pool = new CandidatePool(this.model, this.fit, state);
    this.set = this.all.filter((candidate) => candidate.normallyWarm);
    this.refit();
    for (let round = 0; round < 6; round++) {
      this.grow();
      this.exchange();
      this.prune();
      if (!this.addCooledFaces() && !this.recastMostDoubtful() && !this.recastHeatingMirror()) break;
    }
  }

  /** Fit what was found to the problem as it is now laid out. */
  fitAgain(): void {
    this.pool = new CandidatePool(this.model, this.fit, this.state);
    this.refit();
  }

  /** Add candidates, the one that explains most beyond what it must first, as long as it explains enough. */
  private grow(): void {
    this.pool.prepare(this.all);
    for (let added = 0; added < this.o.maxAdded; added++) {
      if (this.set.filter(isFault).length >= this.o.maxSources) break;
      let best: Candidate | null = null;
      let most = Number.NEGATIVE_INFINITY;
      for (const candidate of this.all) {
        if (this.holds(candidate)) continue;
        const gained = this.pool.fitSet([...this.set, candidate]).gain - this.answer.gain;
        // Beyond what it must bring: a part that hides must explain more than one that shows itself.
        const beyond = gained / this.scale - this.wanted(candidate);
        if (gained > 0 && beyond > most) [best, most] = [candidate, beyond];
      }
      if (best === null) break;
      if (!this.set.some(isFault)) this.chooseStateWith(best);
      const before = { set: this.set, answer: this.answer, scale: this.scale };
      const gained = this.pool.fitSet([...this.set, best]).gain - this.answer.gain;
      this.addHeatOrMirror(best);
      if (gained / this.scale < this.wanted(best)) {
        ({ set: this.set, answer: this.answer, scale: this.scale } = before);
        break;
      }
    }
  }

  /** Take for a mirror the part that, with everything else found, is least probably heat; true if there is one.
   *  One at a time: two parts that touch speak against each other until one is gone.
   */
  private recastMostDoubtful(): boolean {
    let worst: Candidate | null = null;
    let least = this.o.leastHeatOdds;
    for (const candidate of this.set) {
      if (!isFault(candidate) || candidate.body === null) continue;
      const logOdds = this.heatLogOdds(
        candidate,
        this.set.filter((other) => other !== candidate),
      );
      if (logOdds >= least) continue;
      least = logOdds;
      worst = candidate;
    }
    if (worst === null) return false;
    this.set = this.set.map((candidate) => (candidate === worst ? mirrorOf(candidate) : candidate));
    this.refit();
    return true;
  }

  /** Take for heat the mirror that, with everything else found, is most probably heat; true if there is one. It was taken for
   *  a mirror when less was known. */
  private recastHeatingMirror(): boolean {
    let best: Candidate | null = null;
    let most = this.o.clearHeatOdds;
    for (const mirror of this.set) {
      if (mirror.kind !== "mirror" || mirror.region < 0 || mirror.body === null) continue;
      const others = this.set.filter((other) => other !== mirror);
      const heat = this.heatOf(mirror);
      if (this.pool.fitSet([...others, heat]).gain <= this.answer.gain) continue;
      const logOdds = this.heatLogOdds(heat, others);
      if (logOdds > most) [best, most] = [mirror, logOdds];
    }
    if (best === null) return false;
    this.set = this.set.map((candidate) => (candidate === best ? this.heatOf(best) : candidate));
    this.refit();
    return true;
  }

  private heatOf(mirror: Candidate): Candidate {
    return this.all.find(({ region }) => region === mirror.region)!;
  }

  /** Add a candidate as what it more probably is. Both are tried, since a scale raised by what is not yet explained
   *  would hide the difference.
   */
  private addHeatOrMirror(candidate: Candidate): void {
    const before = this.set;
    const mirror = this.mirrorInPlaceOf(candidate);
    if (mirror !== null) {
      this.set = [...before, mirror];
      this.refit();
      return;
    }
    this.set = [...before, mirrorOf(candidate)];
    this.refit();
    const scaleAsMirror = this.scale;
    this.set = [...before, candidate];
    this.refit();
    this.scale = Math.min(this.scale, scaleAsMirror);
    if (
      this.heatLogOdds(candidate, before) < this.o.leastHeatOdds &&
      !this.isHeatElsewise(candidate, before)
    ) {
      this.set = [...before, mirrorOf(candidate)];
    }
    this.refit();
  }

  /** What may mirror the room where a part on the far side is taken to heat: a face that no map names, whose own change leaves
   *  that part too little to explain. Null if there is none.
   */
  private mirrorInPlaceOf(candidate: Candidate): Candidate | null {
    const inView = this.model.pictures.some(({ view }) => view.side === candidate.side);
    if (inView || this.o.followsSupply) return null;
    for (const place of this.all) {
      if (place.region >= 0 || this.holds(place)) continue;
      const mirror = mirrorOf(place);
      const alone = this.pool.fitSet([...this.set, mirror]);
      const both = this.pool.fitSet([...this.set, mirror, candidate]);
      if (alone.gain - this.answer.gain < this.minEvidence * this.scale) continue;
      if (both.gain - alone.gain < this.wanted(candidate) * this.scale) return mirror;
    }
    return null;
  }

  /** True if a source just added is heat in the state of the plate that fits all best with it, where that is not the state
   *  tried; the search then goes on in that state. How far heat has spread is not known before all that heats is found.
   */
  private isHeatElsewise(candidate: Candidate, others: readonly Candidate[]): boolean {
    const was = { state: this.state, pool: this.pool, answer: this.answer, scale: this.scale };
    const asMirror = () => this.pool.fitSet([...others, mirrorOf(candidate)]).gain - this.penalty(this.state);
    const before = asMirror();
    if (!this.chooseState()) return false;
    // Each in the state that suits it: what the mirror loses by the change of state does not speak for heat.
    const unfair = (0.5 * (before - asMirror())) / this.scale;
    if (this.heatLogOdds(candidate, others) - Math.max(0, unfair) >= this.o.leastHeatOdds) return true;
    Object.assign(this, was);
    return false;
  }

  /** A face that got cooler can't heat: it mirrors a room that changed. It must not drag its surroundings down.
   *  Judged once all that heats has been found: before, heat not yet explained leaves dips beside it. */
  private addCooledFaces(): boolean {
    const cooled = this.all.filter(
      (candidate) =>
        !candidate.normallyWarm &&
        !this.holds(candidate) &&
        hasCooled(candidate, this.residual, this.variance, this.o),
    );
    if (cooled.length === 0) return false;
    this.set = [...this.set, ...cooled.map(mirrorOf)];
    this.refit();
    return true;
  }

  /** Try all states of the plate as if a candidate were in the set: where heat has spread otherwise than thought, the first
   *  source is too weak to be found in the state tried. */
  private chooseStateWith(candidate: Candidate): void {
    const before = this.set;
    this.set = [...before, candidate];
    this.refit();
    this.chooseState();
    this.set = before;
    this.refit();
  }

  /** Try all states of the plate with the set as it is; true if the state changed. */
  chooseState(): boolean {
    if (this.set.length === 0) return false;
    let [best, bestPool] = [this.answer.gain - this.penalty(this.state), this.pool];
    for (const state of this.model.states) {
      if (state === this.state) continue;
      const pool = new CandidatePool(this.model, this.fit, state);
      const gain = pool.fitSet(this.set).gain - this.penalty(state);
      if (gain <= best) continue;
      best = gain;
      bestPool = pool;
    }
    if (bestPool === this.pool) return false;
    this.pool = bestPool;
    this.state = bestPool.state;
    this.refit();
    return true;
  }

  /** χ² against a state that is not usual: without heat nothing else holds it. */
  private penalty(state: PlateState): number {
    return this.model.penaltyOf(state) * this.scale;
  }

  /** Pixels at which the picture changed as no heat of the board could: they are left out of what follows.
   *  @param variance K² per pixel, the model's error included.
   *  @param places faces that no map names.
   *  @returns 1 = left out.
   */
  strangePixels(
    variance: Float32Array,
    nuisance: readonly NuisanceColumn[],
    places: readonly Candidate[],
  ): Uint8Array {
    const { model, set, answer } = this;
    const heating = set.filter((candidate) => candidate.kind === "heat" && candidate.region < 0);
    const onFaces = model.onFaces(heating);
    const strange = unexplainedPixels(this.residual, variance, onFaces, model.pictures);
    const cool = coolFaces(this.rise, this.heatEverywhere(), this.variance, onFaces, model.pictures);
    const parts = { rise: this.rise, variance, nuisance, state: this.state, scale: this.scale };
    const mirrored = mirroredPlaces(model, parts, set, answer, places);
    return strange.map((out, i) => out | cool[i]! | mirrored[i]!);
  }

  modelled(): Float32Array {
    return this.fit.heat(this.answer.columns, this.answer.amounts);
  }

  /** The rise that the sources found make, K per pixel, also where pixels take no part in the fit. */
  heatEverywhere(): Float32Array {
    return heatOfSet(this.model, this.state, this.set, this.answer);
  }

  finish(): Omit<SourceFit, "roomK"> {
    const averaged = this.averaged();
    const sources = this.set.flatMap((candidate, c): FittedSource[] => {
      const powerW = this.answer.powersW[c]!;
      if (!(powerW > 0)) return [];
      const without = this.set.filter((other) => other !== candidate);
      const apparent = (this.answer.gain - this.pool.fitSet(without).gain) / this.scale;
      if (candidate.kind === "mirror" || apparent < this.wanted(candidate)) return [];
      const share = ownShare(this.fit, this.answer, this.set, c);
      const evidence = share > this.o.clearShare ? apparent : Math.min(apparent, this.onUneven(c));
      if (evidence < this.wanted(candidate)) return [];
      if (share < this.o.leastOwnShare) return [];
      const logOdds = this.heatLogOdds(candidate, without);
      if (logOdds < this.o.leastHeatOdds) return [];
      const isHeat = 1 / (1 + Math.exp(-logOdds));
      const doubt = (this.o.spreadError / share) ** 2;
      const heatChance = isHeat / (1 + doubt);
      return [
        {
          candidate,
          powerW: averaged[c]?.powerW ?? powerW,
          powerSigmaW: this.powerSigma(c, averaged[c] ?? null),
          bodyShare: this.answer.bodyShares[c]!,
          heatChance,
          mirrorChance: 1 - isHeat,
          ownShare: share,
          evidence,
          alternatives: this.alternatives(candidate, without),
        },
      ];
    });
    const modelled = this.modelled();
    return {
      smallestPowersW: smallestPowers(this.model, this.pool, modelled, this.variance, {
        evidence: this.o.hiddenEvidence * this.minEvidence,
        scale: this.scale,
        share: this.o.leastShareWithoutPeak,
      }),
      sources,
      mirrors: this.set.filter((candidate) => candidate.kind === "mirror"),
      state: this.state,
      scale: this.scale,
      residual: this.fit.residual(this.answer.columns, this.answer.amounts),
      modelled,
    };
  }

  /** Evidence for one of the set that uneven copper around the others can't make. */
  private onUneven(c: number): number {
    return evidenceOnUneven(this.model, this, this.set, this.answer, c);
  }

  /** Watts over all states of the plate. */
  private averaged(): (AveragedPower | null)[] {
    const pools = this.model.states.map((state) => ({
      pool: state === this.state ? this.pool : new CandidatePool(this.model, this.fit, state),
      penalty: this.model.penaltyOf(state),
    }));
    return averagePowers(this.set, pools, this.scale, (state) => this.model.powerError(state));
  }

  /** Standard deviation of watts: the noise's, and what the plate's state and constants leave open, taken up and down alike. */
  private powerSigma(c: number, averaged: AveragedPower | null): number {
    const powerW = averaged?.powerW ?? this.answer.powersW[c]!;
    const share = averaged?.logSigma ?? this.model.powerError(this.state);
    // Half of the way from exp(−σ) to exp(σ): what a symmetric interval around the middle has to span.
    return Math.hypot(
      Math.sqrt(this.answer.variancesW2[c]! * this.scale),
      powerW * Math.sinh(Math.min(1.5, share)),
    );
  }

  /** Put every other candidate in a source's place. */
  private alternatives(source: Candidate, without: readonly Candidate[]): FittedSource["alternatives"] {
    const tried = this.all
      .filter((candidate) => candidate === source || !without.includes(candidate))
      .map((candidate) => ({ candidate, gain: this.pool.fitSet([...without, candidate]).gain }));
    const best = Math.max(...tried.map((t) => t.gain));
    return tried
      .map(({ candidate, gain }) => ({ candidate, loss: (best - gain) / this.scale }))
      .sort((a, b) => a.loss - b.loss);
  }

  /** Exchange a source for another candidate wherever that explains more, until nothing changes. */
  private exchange(): void {
    for (let round = 0; round < 3; round++) {
      let changed = false;
      for (const source of this.set.filter(isFault)) {
        const without = this.set.filter((other) => other !== source);
        let best = source;
        let most = this.answer.gain - this.wanted(source) * this.scale + 1e-9;
        for (const candidate of this.all) {
          if (this.holds(candidate)) continue;
          const beyond = this.pool.fitSet([...without, candidate]).gain - this.wanted(candidate) * this.scale;
          if (beyond > most) [best, most] = [candidate, beyond];
        }
        if (best !== source) {
          this.set = [...without, best];
          this.refit();
          changed = true;
        }
      }
      if (!changed) break;
    }
  }

  private prune(): void {
    for (const source of [...this.set]) {
      if (!isFault(source)) continue;
      const without = this.set.filter((other) => other !== source);
      const lost = this.answer.gain - this.pool.fitSet(without).gain;
      if (lost / this.scale < this.wanted(source)) {
        this.set = without;
        this.refit();
      }
    }
  }

  /** Log odds that the change on a candidate is heat. */
  private heatLogOdds(candidate: Candidate, others: readonly Candidate[]): number {
    if (candidate.body === null) {
      if (candidate.normallyWarm) return Number.POSITIVE_INFINITY;
      // Alone, heat that shows no part is heat all the same; beside a part that does show, it may be the plate model.
      const shown = others.some((other) => isFault(other) && other.body !== null);
      return shown ? this.o.heatOddsHidden : Number.POSITIVE_INFINITY;
    }
    if (this.o.followsSupply) return Number.POSITIVE_INFINITY;
    const odds = weighFace(this.model, this.pool, candidate, others, this.scale, this.roomK);
    return odds ?? this.o.leastHeatOdds;
  }

  /** Evidence a candidate must bring. */
  private wanted(candidate: Candidate): number {
    return candidate.body === null ? this.o.hiddenEvidence * this.minEvidence : this.minEvidence;
  }

  private holds(candidate: Candidate): boolean {
    return this.set.some(
      (held) => held === candidate || (held.region === candidate.region && held.at === candidate.at),
    );
  }

  private refit(): void {
    this.answer = this.pool.fitSet(this.set);
    this.residual = this.fit.residual(this.answer.columns, this.answer.amounts);
    this.scale = residualScale(this.residual, this.variance, sizesOf(this.model.pictures));
  }
}
