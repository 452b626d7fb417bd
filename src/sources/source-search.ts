// sources: candidates and a fit → the set that explains the rise, built up, exchanged and pruned.
import type { ResolvedOptions } from "../core/options.js";
import { betterInPlace } from "./better-in-place.js";
import { CandidatePool, type SetFit } from "./candidate-pool.js";
import type { ChangedRoom } from "./changed-room.js";
import { cooledFaces } from "./cooled-faces.js";
import { doubtTime } from "./doubt-time.js";
import { mostDoubtful, withoutHeat } from "./doubtful-faces.js";
import { evidenceOffFace } from "./evidence-off-face.js";
import type { FIT_DEFAULTS } from "./fit-defaults.js";
import { heatBeside } from "./heat-beside.js";
import { type HeatJudge, heatLogOdds, heatLogOddsInSet } from "./heat-log-odds.js";
import { heatUnderMirrors } from "./heat-under-mirrors.js";
import { type LikeliestSource, likeliestSource } from "./likeliest-source.js";
import { listSources } from "./list-sources.js";
import { type Listed, mirroredHillW, surelyStanding } from "./may-be-mirrored.js";
import { mirrorInstead } from "./mirror-instead.js";
import { type MirroredRoom, roomAround, warmerChance } from "./mirrored-room.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { holds, openCandidates } from "./open-candidates.js";
import { OwnError } from "./own-error.js";
import { onBoardOnly, sizesOf } from "./picture.js";
import type { PlateState } from "./plate-state.js";
import { powersToTell } from "./powers-to-tell.js";
import { ProjectedFit } from "./projected-fit.js";
import { CopperRanking } from "./rank-on-copper.js";
import { isFault, mirrorOf, withMirrors } from "./recast-candidate.js";
import { residualScale } from "./residual-scale.js";
import { restPowers } from "./rest-powers.js";
import { smallestPowers } from "./smallest-powers.js";
import type { SourceFit } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { standsByHill } from "./stands-by-hill.js";
import { likeliestPool, statePools } from "./state-pools.js";
import { tryParts } from "./try-parts.js";
import { wantedEvidence } from "./wanted-evidence.js";
import { type SourceWeight, weighSet } from "./weigh-set.js";

/** Rounds of adding and taking away, and passes of exchanges in each: they end where one changes nothing. */
const [MOST_ROUNDS, MOST_EXCHANGES] = [6, 3];

/** The search for the sources of one rise: prepare, select, choose the state of the plate, finish. */
export class SourceSearch {
  state: PlateState;
  fit!: ProjectedFit;
  pool!: CandidatePool;
  variance!: Float32Array;
  nuisance: readonly NuisanceColumn[] = [];
  set: Candidate[] = [];
  /** Faces that got cooler, best told by pixel noise alone: what the first pass found holds for the second. */
  private readonly cooled: Candidate[] = [];
  answer!: SetFit;
  scale = 1;
  private roomK = 0;
  private dullFactor: ChangedRoom["dullFactor"] = () => 1;
  mirrored: readonly MirroredRoom[] = [];
  /** Places that show a hill and yet no heat of their own, free ones and faces that mirror: no candidates. */
  private readonly hills = new Set<Candidate>();
  /** Of what was found at first, once that is in the variance. */
  ownError = new OwnError(new Map(), (heat) => heat);
  residual: Float32Array = new Float32Array(0);
  quadrature: Float32Array | null = null;

  constructor(
    readonly model: SourceModel,
    readonly rise: Float32Array,
    private readonly all: readonly Candidate[],
    private readonly minEvidence: number,
    private readonly o: ResolvedOptions<typeof FIT_DEFAULTS>,
  ) {
    this.state = model.firstState;
  }

  /** Lay out the problem.
   *  @param room what the faces in view tell of it.
   */
  prepare(variance: Float32Array, nuisance: readonly NuisanceColumn[], room: ChangedRoom): void {
    ({ roomK: this.roomK, mirrored: this.mirrored, dullFactor: this.dullFactor } = room);
    this.variance = onBoardOnly(variance, this.model.pictures);
    this.nuisance = nuisance;
    this.fit = new ProjectedFit(this.rise, this.variance, nuisance);
  }

  /** Build up the set greedily in one state of the plate, then drop what no longer carries its weight. */
  select(state: PlateState): void {
    this.state = state;
    this.hills.clear();
    this.pool = new CandidatePool(this.model, this.fit, state);
    const warm = this.all.filter((candidate) => candidate.normallyWarm);
    this.set = withMirrors(warm, this.cooled);
    this.refit();
    for (let round = 0; round < MOST_ROUNDS; round++) {
      this.grow();
      this.addSteep();
      this.exchange();
      this.prune();
      if (!this.addCooledFaces() && !this.recastMostDoubtful() && !this.tryMirrors()) break;
    }
  }

  /** Fit what was found to the problem as it is now laid out. */
  fitAgain(): void {
    this.pool = new CandidatePool(this.model, this.fit, this.state);
    this.refit();
  }

  /** Add candidates, the one that explains most beyond what it must first, as long as it explains enough. */
  private grow(): void {
    for (let added = 0; added < this.o.maxAdded; added++) {
      if (this.set.filter(isFault).length >= this.o.maxSources) break;
      // Beyond what it must bring: a part that hides must explain more than one that shows itself.
      const beyond = (candidate: Candidate, gained: number) => gained - this.wanted(candidate) * this.scale;
      const free = openCandidates(this.all, this.set, this.hills);
      if (!this.set.some(isFault)) {
        const first = this.pool.bestToAdd(this.set, free, beyond, 0);
        this.chooseStateWith(first ?? this.pool.bestToAdd(this.set, free, (_, gained) => gained));
      }
      const best = this.pool.bestToAdd(this.set, free, beyond);
      if (best === null) break;
      if (this.enters(best)) continue;
      // What explains most may bring enough once the scale, which it raised, has come down.
      const strongest = this.pool.bestToAdd(this.set, free, (_, gained) => gained);
      if (strongest === null || strongest === best || !this.enters(strongest)) break;
    }
  }

  /** Add a candidate if it brings what it must; true if that was done, or if it has turned out to be none. */
  private enters(candidate: Candidate): boolean {
    const { set, answer, scale, residual, state, pool } = this;
    const gained = this.pool.fitSet([...set, candidate]).gain - answer.gain;
    this.addHeatOrMirror(candidate);
    const { kind, face } = this.set.at(-1)!;
    const isHill = kind === "mirror" && face?.sharp === false;
    const enough = gained / this.scale >= this.wanted(candidate);
    const isPicture = enough && evidenceOffFace(this.model, this, candidate, set) < this.wanted(candidate);
    if (enough && !isHill && !isPicture) return true;
    if (isHill || isPicture) this.hills.add(candidate);
    Object.assign(this, { set, answer, scale, residual, state, pool });
    return isHill || isPicture;
  }

  /** Add what was found at first and is too steep to bring what it must beside the error of its own shape. */
  private addSteep(): void {
    for (const candidate of openCandidates(this.all, this.set)) {
      if (!this.ownError.has(candidate)) continue;
      if (this.set.filter(isFault).length >= this.o.maxSources) break;
      if (this.bringsAlone(candidate, this.set)) this.addHeatOrMirror(candidate);
    }
  }

  /** True if a candidate found at first brings what it must where its own shape's error does not count against it. */
  private bringsAlone(candidate: Candidate, others: readonly Candidate[]): boolean {
    if (holds(others, candidate)) return false;
    const own = this.ownError.weigh(this.model, this, candidate, others);
    return own !== null && own.evidence >= this.wanted(candidate);
  }

  /** Take for a mirror the part that, with everything else found, is least probably heat; true if there is one.
   *  One at a time: two parts that touch speak against each other until one is gone.
   */
  private recastMostDoubtful(): boolean {
    const worst = mostDoubtful(this.judge(), this.set);
    return worst !== null && this.replace(worst, mirrorOf(worst));
  }

  /** See `heatUnderMirrors`; true if there was such a part. */
  private tryMirrors(): boolean {
    const better = heatUnderMirrors(this, this.all, (one) => this.wanted(one));
    return better !== null && this.take(better.set, better.pool);
  }

  private replace(one: Candidate, by: Candidate): true {
    return this.take(this.set.map((candidate) => (candidate === one ? by : candidate)));
  }

  /** Add a candidate as what it more probably is. Both are tried, since a scale raised by what is not yet explained
   *  would hide the difference.
   */
  private addHeatOrMirror(candidate: Candidate): void {
    const before = this.set;
    const mirror = this.mirrorInPlaceOf(candidate);
    this.set = [...before, mirror ?? mirrorOf(candidate)];
    this.refit();
    if (mirror !== null) return;
    const scaleAsMirror = this.scale;
    this.set = [...before, candidate];
    this.refit();
    this.scale = Math.min(this.scale, scaleAsMirror);
    if (
      heatLogOdds(this.judge(), candidate, before) < this.o.leastHeatOdds &&
      !this.isHeatElsewise(candidate, before)
    ) {
      this.set = [...before, mirrorOf(candidate)];
    }
    this.refit();
  }

  /** See `mirrorInstead`; null for a part in view. */
  private mirrorInPlaceOf(candidate: Candidate): Candidate | null {
    const inView = this.model.pictures.some(({ view }) => view.side === candidate.side);
    if (inView || this.o.followsSupply) return null;
    const places = this.all.filter((place) => place.face?.sharp === true && !holds(this.set, place));
    const least = { mirror: this.minEvidence * this.scale, part: this.wanted(candidate) * this.scale };
    return mirrorInstead(this.pool, this.set, candidate, places, least);
  }

  /** True if a source just added is heat in the state of the plate that fits all best with it, where that is not the
   *  state tried; the search then goes on in that state. How far heat has spread is not known before all that heats is
   *  found.
   */
  private isHeatElsewise(candidate: Candidate, others: readonly Candidate[]): boolean {
    const was = { state: this.state, pool: this.pool, answer: this.answer, scale: this.scale };
    const asMirror = () =>
      this.pool.fitSet([...others, mirrorOf(candidate)]).gain - this.model.penaltyOf(this.state) * this.scale;
    const before = asMirror();
    if (!this.chooseState()) return false;
    // Each in the state that suits it: what the mirror loses by the change of state does not speak for heat.
    const unfair = (0.5 * (before - asMirror())) / this.scale;
    if (heatLogOdds(this.judge(), candidate, others) - Math.max(0, unfair) >= this.o.leastHeatOdds)
      return true;
    Object.assign(this, was);
    return false;
  }

  /** A face that got cooler can't heat: it mirrors a room that changed. It must not drag its surroundings down.
   *  Judged once all that heats has been found: before, heat not yet explained leaves dips beside it. */
  private addCooledFaces(): boolean {
    const cooled = cooledFaces(this.all, this.set, this, this.model.pictures, this.o).map(mirrorOf);
    if (cooled.length === 0) return false;
    this.cooled.push(...cooled);
    return this.take(withMirrors(this.set, cooled));
  }

  /** Try all states of the plate as if a candidate were in the set: where heat has spread otherwise than thought, the
   *  first source is too weak to be found in the state tried. */
  private chooseStateWith(candidate: Candidate | null): void {
    if (candidate === null) return;
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
    const best = likeliestPool(this);
    return best !== this.pool && this.take(this.set, best);
  }

  modelled(): Float32Array {
    return this.fit.heat(this.answer.columns, this.answer.amounts);
  }

  finish(listed: Listed = null): Omit<SourceFit, "roomK" | "heat"> {
    let weights = this.weigh();
    if (weights.some(({ stands }, c) => !stands && isFault(this.set[c]!))) {
      this.set = this.set.filter((candidate, c) => weights[c]!.stands || !isFault(candidate));
      this.refit();
      weights = this.weigh();
    }
    weights = this.exchangeOnCopper(weights);
    while (this.recastAllDoubtful(weights)) weights = this.weigh();
    const fed = this.addLikeliest(weights, listed);
    if (fed !== null) weights = this.weigh(fed.candidate);
    const modelled = this.modelled();
    const pools = statePools(this, this.model.powerStates);
    const sources = listSources(this.model, this, this.set, this.answer, weights, {
      pools,
      powersToTell: powersToTell(this.model, this, this.set, modelled, pools),
      restPowers: restPowers(this.model, this, this.set, modelled),
      alternatives: (without) => new CopperRanking(this).rank(openCandidates(this.all, without), without),
      logOdds: (candidate) =>
        candidate === fed?.candidate ? fed.logOdds : heatLogOddsInSet(this.judge(), candidate, this.set),
      mirroredHillW: (candidate) => mirroredHillW(this.model, candidate, this),
      byFeed: fed,
      least: this.o,
    });
    const tried = tryParts(this.model, this, this.pool, this.set, this.answer, sources);
    return {
      smallestPowersW: smallestPowers(this.model, this.pool, modelled, this.variance, {
        evidence: this.o.hiddenEvidence * this.minEvidence,
        scale: this.scale,
        share: this.o.leastShareWithoutPeak,
      }),
      tried,
      sources,
      beside: heatBeside(this.judge(), this.set, sources, tried),
      mirrors: this.set.filter((candidate) => candidate.kind === "mirror"),
      state: this.state,
      timeDoubt: doubtTime(this.model, this.set, pools, this.scale),
      scale: this.scale,
      residual: this.fit.residual(this.answer.columns, this.answer.amounts),
      modelled,
    };
  }

  /** Take all that heats for mirrors where nothing surely does: that nothing heats is then as likely. Others get their
   *  heat. */
  private recastAllDoubtful(weights: readonly SourceWeight[]): boolean {
    const recast = withoutHeat(this.judge(), this.set, weights, (one) =>
      standsByHill(this.model, this, one, this.minEvidence, this.o),
    );
    return recast !== null && this.take(recast);
  }

  /** Take for heat what most probably took the power that was fed in, where nothing was found that surely did. */
  private addLikeliest(weights: SourceWeight[], listed: Listed): LikeliestSource | null {
    const found = { weights, powersW: this.answer.powersW, listed };
    const standing = surelyStanding(this.model, this, found, this.minEvidence, this.o);
    const likeliest = likeliestSource(this.judge(), this.all, this.set, standing);
    if (likeliest !== null) this.take([...likeliest.others, likeliest.candidate]);
    return likeliest;
  }

  /** @param byFeed of this one nothing is wanted. */
  private weigh(byFeed: Candidate | null = null): SourceWeight[] {
    const wanted = (candidate: Candidate) => (candidate === byFeed ? 0 : this.wanted(candidate));
    return weighSet(this.model, this, this.pool, this.fit, this.set, this.answer, wanted, this.ownError);
  }

  /** Exchange a source for another candidate wherever that explains more, and enough, until nothing changes. */
  private exchange(): void {
    const wanted = (candidate: Candidate) => this.wanted(candidate) * this.scale;
    for (let round = 0; round < MOST_EXCHANGES; round++) {
      let changed = false;
      for (const source of this.set.filter(isFault)) {
        const free = openCandidates(this.all, this.set);
        const better = betterInPlace(this.pool, this.set, source, free, wanted);
        if (better !== null) changed = this.replace(source, better);
      }
      if (!changed) break;
    }
  }

  /** Exchange a source for what explains more on uneven copper, where that stands, too. */
  private exchangeOnCopper(weights: SourceWeight[]): SourceWeight[] {
    let found = weights;
    for (const source of this.set.filter(isFault)) {
      const better = new CopperRanking(this).better(this.all, this.set, source, (one, others) =>
        wantedEvidence(one, others, this.minEvidence, this.o),
      );
      if (better === null) continue;
      const { set, answer, scale, residual } = this;
      this.replace(source, better);
      const now = this.weigh();
      const isHeat = heatLogOddsInSet(this.judge(), better, this.set) >= this.o.leastHeatOdds;
      if (isHeat && now[this.set.indexOf(better)]!.stands) found = now;
      else Object.assign(this, { set, answer, scale, residual });
    }
    return found;
  }

  private prune(): void {
    for (const source of [...this.set]) {
      if (!isFault(source)) continue;
      const without = this.set.filter((other) => other !== source);
      const lost = (this.answer.gain - this.pool.fitSet(without).gain) / this.scale;
      const told = Math.min(lost, evidenceOffFace(this.model, this, source, without));
      if (told < this.wanted(source) && !this.bringsAlone(source, without)) {
        this.set = without;
        this.refit();
      }
    }
  }

  private judge(): HeatJudge {
    const { model, pool, scale, o: options } = this;
    const room = (one: Candidate) => ({
      roomK: roomAround(model, one, this.mirrored, this.roomK),
      warmerChance: warmerChance(model, one, this.mirrored),
      dullFactor: this.dullFactor(one),
    });
    return { model, pool, pools: () => statePools(this), scale, room, options };
  }

  private wanted(candidate: Candidate): number {
    return wantedEvidence(candidate, this.set, this.minEvidence, this.o);
  }

  private take(set: Candidate[], pool = this.pool): true {
    Object.assign(this, { set, pool, state: pool.state });
    this.refit();
    return true;
  }

  private refit(): void {
    this.answer = this.pool.fitSet(this.set);
    this.residual = this.fit.residual(this.answer.columns, this.answer.amounts);
    this.scale = residualScale(this.residual, this.variance, sizesOf(this.model.pictures));
  }
}
