// sources: candidates and a fit → the set that explains the rise, built up, exchanged and pruned.
import type { ResolvedOptions } from "../core/options.js";
import { CandidatePool, type SetFit } from "./candidate-pool.js";
import type { FIT_DEFAULTS } from "./fit-defaults.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { ProjectedFit } from "./projected-fit.js";
import { isFault, mirrorOf, recast } from "./recast-candidate.js";
import { residualScale } from "./residual-scale.js";
import type { FittedSource, SourceFit } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** The search for the sources of one rise: prepare, select, choose the cooling length, finish. */
export class SourceSearch {
  coolingLengthMm: number;
  private readonly all: readonly Candidate[];
  private fit!: ProjectedFit;
  private pool!: CandidatePool;
  private variance!: Float32Array;
  private set: Candidate[] = [];
  private answer!: SetFit;
  private scale = 1;
  private residual: Float32Array = new Float32Array(0);

  constructor(
    private readonly model: SourceModel,
    private readonly rise: Float32Array,
    extra: readonly Candidate[],
    private readonly minEvidence: number,
    private readonly o: ResolvedOptions<typeof FIT_DEFAULTS>,
  ) {
    this.all = [...model.candidates, ...extra];
    this.coolingLengthMm = o.firstLengthMm;
  }

  prepare(variance: Float32Array, nuisance: readonly NuisanceColumn[]): void {
    const { onBoard } = this.model.seen;
    this.variance = variance.map((v, i) => (onBoard[i] === 1 ? v : Number.NaN));
    this.fit = new ProjectedFit(this.rise, this.variance, nuisance);
  }

  /** Build up the set greedily at one cooling length, then drop what no longer carries its weight. */
  select(lengthMm: number): void {
    this.coolingLengthMm = lengthMm;
    this.pool = new CandidatePool(this.model, this.fit, lengthMm);
    this.set = this.all.filter((candidate) => candidate.normallyWarm);
    this.refit();
    this.addCooledFaces();
    for (let found = 0; found < this.o.maxSources; found++) {
      let best: Candidate | null = null;
      let bestGain = this.answer.gain;
      for (const candidate of this.all) {
        if (this.holds(candidate)) continue;
        const gain = this.pool.fitSet([...this.set, candidate]).gain;
        if (gain > bestGain) {
          bestGain = gain;
          best = candidate;
        }
      }
      if (best === null) break;
      const before = { set: this.set, answer: this.answer, scale: this.scale };
      const gained = bestGain - this.answer.gain;
      this.addHeatOrMirror(best);
      this.addCooledFaces();
      if (gained / this.scale < this.wanted(best)) {
        ({ set: this.set, answer: this.answer, scale: this.scale } = before);
        break;
      }
    }
    this.exchange();
    this.prune();
  }

  /** Add a candidate as what it more probably is. Both are tried, since a scale raised by what is not yet explained
   *  would hide the difference.
   */
  private addHeatOrMirror(candidate: Candidate): void {
    const before = this.set;
    this.set = [...before, mirrorOf(candidate)];
    this.refit();
    const scaleAsMirror = this.scale;
    this.set = [...before, candidate];
    this.refit();
    this.scale = Math.min(this.scale, scaleAsMirror);
    const logOdds = this.heatLogOdds(candidate, before);
    if (logOdds < this.o.leastHeatOdds) this.set = [...before, mirrorOf(candidate)];
    this.refit();
  }

  /** A face that got cooler can't heat: it mirrors a room that changed. It must not drag its surroundings down. */
  private addCooledFaces(): void {
    const cooled = this.all.filter((candidate) => {
      if (candidate.body === null || candidate.normallyWarm || this.holds(candidate)) return false;
      let face = 0;
      let below = 0;
      for (let i = 0; i < candidate.body.length; i++) {
        const z = this.residual[i]! / Math.sqrt(this.variance[i]!);
        if (candidate.body[i]! < 0.5 || !(z * 0 === 0)) continue;
        face++;
        if (z < -this.o.cooledSigma) below++;
      }
      return below >= Math.max(this.o.cooledPixels, this.o.cooledShare * face);
    });
    if (cooled.length === 0) return;
    this.set = [...this.set, ...cooled.map(mirrorOf)];
    this.refit();
  }

  /** Try the neighbouring cooling lengths with the set as it is; true if the length changed. */
  chooseLength(): boolean {
    const lengths = this.o.coolingLengthsMm;
    const start = lengths.indexOf(this.coolingLengthMm);
    let at = start;
    let best = this.answer.gain - this.lengthPenalty(this.coolingLengthMm);
    let bestPool = this.pool;
    for (const step of [1, -1]) {
      while (lengths[at + step] !== undefined) {
        const pool = new CandidatePool(this.model, this.fit, lengths[at + step]!);
        const gain = pool.fitSet(this.set).gain - this.lengthPenalty(lengths[at + step]!);
        if (gain <= best) break;
        best = gain;
        bestPool = pool;
        at += step;
      }
      if (at !== start) break;
    }
    if (this.set.length === 0 || at === start) return false;
    this.pool = bestPool;
    this.coolingLengthMm = lengths[at]!;
    this.refit();
    return true;
  }

  /** χ² against a length far from the usual ones: without heat nothing else holds it. */
  private lengthPenalty(lengthMm: number): number {
    const off = Math.log(lengthMm / this.o.firstLengthMm) / this.o.lengthSpread;
    return off * off * this.scale;
  }

  modelled(): Float32Array {
    return this.fit.heat(this.answer.columns, this.answer.amounts);
  }

  finish(): SourceFit {
    const sources = this.set.flatMap((candidate, c): FittedSource[] => {
      const powerW = this.answer.powersW[c]!;
      if (!(powerW > 0)) return [];
      const without = this.set.filter((other) => other !== candidate);
      const evidence = (this.answer.gain - this.pool.fitSet(without).gain) / this.scale;
      if (candidate.kind === "mirror" || evidence < this.wanted(candidate)) return [];
      if (isFault(candidate) && this.answer.bodyShares[c]! < this.o.leastBodyShare) {
        if (evidence < this.o.hiddenEvidence * this.minEvidence) return [];
      }
      const ownShare = this.ownShare(c);
      if (ownShare < this.o.leastOwnShare) return [];
      const isHeat = 1 / (1 + Math.exp(-this.heatLogOdds(candidate, without)));
      const doubt = (this.o.spreadError / ownShare) ** 2;
      const heatChance = isHeat / (1 + doubt);
      return [
        {
          candidate,
          powerW,
          powerSigmaW: Math.hypot(
            Math.sqrt(this.answer.variancesW2[c]! * this.scale),
            powerW * (this.model.plateKnown ? this.o.knownPlateError : this.o.unknownPlateError),
          ),
          bodyShare: this.answer.bodyShares[c]!,
          heatChance,
          mirrorChance: 1 - isHeat,
          ownShare,
          evidence,
          alternatives: this.alternatives(candidate, without),
        },
      ];
    });
    return {
      sources,
      mirrors: this.set.filter((candidate) => candidate.kind === "mirror"),
      coolingLengthMm: this.coolingLengthMm,
      scale: this.scale,
      residual: this.fit.residual(this.answer.columns, this.answer.amounts),
      modelled: this.modelled(),
    };
  }

  /** The most that a source's own rise amounts to, anywhere, as a share of the rise that all others spread there. What
   *  is a small share of it may be no source but uneven copper.
   */
  private ownShare(c: number): number {
    const { starts, columns, amounts } = this.answer;
    const from = starts[c]!;
    const to = starts[c + 1] ?? columns.length;
    const own = this.fit.heat(columns.slice(from, to), amounts.slice(from, to));
    const others = this.set.flatMap((candidate, k) => (k === c || candidate.kind !== "heat" ? [] : [k]));
    const rest = new Float32Array(own.length);
    for (const k of others) {
      const end = starts[k + 1] ?? columns.length;
      const heat = this.fit.heat(columns.slice(starts[k]!, end), amounts.slice(starts[k]!, end));
      for (let i = 0; i < rest.length; i++) rest[i]! += heat[i]!;
    }
    let share = 0;
    const peak = own.reduce((a, b) => Math.max(a, b), 0);
    for (let i = 0; i < own.length; i++) {
      if (own[i]! > 0.5 * peak) share = Math.max(share, own[i]! / Math.max(rest[i]!, 1e-6));
    }
    return share;
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
        let bestGain = this.answer.gain;
        for (const candidate of this.all) {
          if (this.holds(candidate)) continue;
          const { gain } = this.pool.fitSet([...without, candidate]);
          if (gain > bestGain + 1e-9) {
            bestGain = gain;
            best = candidate;
          }
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

  /** Log odds that the change on a candidate is heat. What is compared is the warmth of the board around it, with
   *  its own face left free to show anything: near what the face's rise would need, or near none.
   */
  private heatLogOdds(candidate: Candidate, others: readonly Candidate[]): number {
    if (candidate.normallyWarm) return Number.POSITIVE_INFINITY;
    if (candidate.body === null) {
      // Alone, heat that shows no part is heat all the same; beside a part that does show, it may be the plate model.
      const shown = others.some((other) => isFault(other) && other.body !== null);
      return shown ? this.o.heatOddsHidden : Number.POSITIVE_INFINITY;
    }
    const alone = this.pool.fitSet([...others, candidate]);
    const asHeat = alone.powersW[others.length]!;
    const bodyK = asHeat * alone.bodyShares[others.length]! * candidate.maxBodyKPerW;
    const around = this.pool.fitSet([...others, mirrorOf(candidate), recast(candidate, "plate")]);
    const powerW = around.powersW[others.length + 1]!;
    const variance = around.variancesW2[others.length + 1]! * this.scale;
    const prior = this.heatPrior(candidate, bodyK);
    // Any power between what the body needs at the least and what the whole fit gives would do.
    const needed = Math.max(asHeat * alone.bodyShares[others.length]!, Math.min(asHeat, powerW));
    const likelihood = (powerW * powerW - (powerW - needed) ** 2) / (2 * variance);
    return prior + Math.max(this.o.mostAgainst, likelihood);
  }

  /** Log odds for heat before the surroundings are looked at, for a face that stands out by so many kelvin. */
  private heatPrior(candidate: Candidate, bodyK: number): number {
    if (candidate.region < 0) return this.o.heatOddsFree;
    if (!candidate.finishKnown) return this.o.heatOddsUnknown;
    return this.o.heatOddsFaint + bodyK / (this.o.roomStepK * (1 - Math.min(0.99, candidate.emissivity)));
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
    this.scale = residualScale(this.residual, this.variance, this.model.seen.width);
  }
}
