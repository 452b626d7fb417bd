// sources: rise over the board → which candidates heat, with how many watts, and what else would do as well.
import { CandidatePool, type SetFit } from "./candidate-pool.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { ProjectedFit } from "./projected-fit.js";
import { residualScale } from "./residual-scale.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Defaults of `fitSources`. */
export const FIT_DEFAULTS = Object.freeze({
  /** Cooling lengths tried, mm: bare laminate a second after power-on to copper planes in the steady state. */
  coolingLengthsMm: Object.freeze([2.5, 3.5, 5, 7, 10, 14, 20, 28]) as readonly number[],
  /** The length the search starts from. */
  firstLengthMm: 7,
  /** Share of the modelled rise by which the plate model may be wrong at a pixel (uneven copper, finish). */
  modelError: 0.06,
  /** Parts that heat at once, beside the normally warm ones. */
  maxSources: 6,
});

/** One part that heats. */
export interface FittedSource {
  readonly candidate: Candidate;
  readonly powerW: number;
  readonly powerSigmaW: number;
  /** Share of the warmest body possible, 0…1; 0 on the far side. */
  readonly bodyShare: number;
  /** χ² lost when this source alone is left out, ÷ the residual scale. */
  readonly evidence: number;
  /** Every candidate in this source's place: evidence lost against the best, ≥ 0; best first. */
  readonly alternatives: readonly { readonly candidate: Candidate; readonly loss: number }[];
}

/** Result of `fitSources`. */
export interface SourceFit {
  readonly sources: readonly FittedSource[];
  readonly coolingLengthMm: number;
  /** By how much χ² overstates the evidence. */
  readonly scale: number;
  /** What neither heat nor nuisances explain, K per pixel. */
  readonly residual: Float32Array;
  /** The rise that the sources make, K per pixel. */
  readonly modelled: Float32Array;
}

/** Find which candidates heat.
 *  Normally warm parts are in from the start; others enter one at a time, the one that explains most first, as
 *  long as what it explains exceeds what noise and model error would. The cooling length is fitted on the way.
 *  @param rise K per pixel, NaN = no reading; not modified.
 *  @param variance K² per pixel; not modified.
 *  @param nuisance maker of the nuisance columns, given the extra smooth error the plate model may have, K.
 *  @param extra free places to try beside the named regions.
 *  @param minEvidence evidence a source must bring.
 */
export function fitSources(
  model: SourceModel,
  rise: Float32Array,
  variance: Float32Array,
  nuisance: (modelK: number) => NuisanceColumn[],
  extra: readonly Candidate[],
  minEvidence: number,
  options: Partial<typeof FIT_DEFAULTS> = {},
): SourceFit {
  const o = { ...FIT_DEFAULTS, ...options };
  const run = new SourceSearch(model, rise, extra, minEvidence, o);
  // First pass: pixel noise alone. It finds the strong heat, whose size says how wrong the model may be.
  run.prepare(variance, nuisance(0));
  run.select(o.firstLengthMm);
  run.chooseLength();
  const modelled = run.modelled();
  const peakK = modelled.reduce((a, b) => Math.max(a, b), 0);
  const widened = variance.map((v, i) => v + (o.modelError * modelled[i]!) ** 2);
  run.prepare(widened, nuisance(0.5 * o.modelError * peakK));
  run.select(run.coolingLengthMm);
  if (run.chooseLength()) run.select(run.coolingLengthMm);
  return run.finish();
}

class SourceSearch {
  coolingLengthMm: number;
  private readonly all: readonly Candidate[];
  private fit!: ProjectedFit;
  private pool!: CandidatePool;
  private variance!: Float32Array;
  private set: Candidate[] = [];
  private answer!: SetFit;
  private scale = 1;

  constructor(
    private readonly model: SourceModel,
    private readonly rise: Float32Array,
    extra: readonly Candidate[],
    private readonly minEvidence: number,
    private readonly o: typeof FIT_DEFAULTS,
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
    const limit = this.set.length + this.o.maxSources;
    while (this.set.length < limit) {
      let best: Candidate | null = null;
      let bestGain = this.answer.gain;
      for (const candidate of this.all) {
        if (this.set.includes(candidate)) continue;
        const gain = this.pool.fitSet([...this.set, candidate]).gain;
        if (gain > bestGain) {
          bestGain = gain;
          best = candidate;
        }
      }
      if (best === null) break;
      const before = { set: this.set, answer: this.answer, scale: this.scale };
      const gained = bestGain - this.answer.gain;
      this.set = [...this.set, best];
      this.refit();
      if (gained / this.scale < this.minEvidence) {
        ({ set: this.set, answer: this.answer, scale: this.scale } = before);
        break;
      }
    }
    this.exchange();
    this.prune();
  }

  /** Try the neighbouring cooling lengths with the set as it is; true if the length changed. */
  chooseLength(): boolean {
    const lengths = this.o.coolingLengthsMm;
    const start = lengths.indexOf(this.coolingLengthMm);
    let at = start;
    let best = this.answer.gain;
    let bestPool = this.pool;
    for (const step of [1, -1]) {
      while (lengths[at + step] !== undefined) {
        const pool = new CandidatePool(this.model, this.fit, lengths[at + step]!);
        const { gain } = pool.fitSet(this.set);
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

  modelled(): Float32Array {
    const out = new Float32Array(this.rise.length);
    this.answer.columns.forEach((column, c) => {
      const amount = this.answer.amounts[c]!;
      if (amount > 0) for (let i = 0; i < out.length; i++) out[i]! += amount * column.values[i]!;
    });
    return out;
  }

  finish(): SourceFit {
    const sources = this.set.flatMap((candidate, c): FittedSource[] => {
      const powerW = this.answer.powersW[c]!;
      if (!(powerW > 0)) return [];
      const without = this.set.filter((other) => other !== candidate);
      const evidence = (this.answer.gain - this.pool.fitSet(without).gain) / this.scale;
      if (evidence < this.minEvidence) return [];
      return [
        {
          candidate,
          powerW,
          powerSigmaW: Math.sqrt(this.answer.variancesW2[c]! * this.scale),
          bodyShare: this.answer.bodyShares[c]!,
          evidence,
          alternatives: this.alternatives(candidate, without),
        },
      ];
    });
    return {
      sources,
      coolingLengthMm: this.coolingLengthMm,
      scale: this.scale,
      residual: this.fit.residual(this.answer.columns, this.answer.amounts),
      modelled: this.modelled(),
    };
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
      for (const source of this.set.filter((candidate) => !candidate.normallyWarm)) {
        const without = this.set.filter((other) => other !== source);
        let best = source;
        let bestGain = this.answer.gain;
        for (const candidate of this.all) {
          if (this.set.includes(candidate)) continue;
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
      if (source.normallyWarm) continue;
      const without = this.set.filter((other) => other !== source);
      const lost = this.answer.gain - this.pool.fitSet(without).gain;
      if (lost / this.scale < this.minEvidence) {
        this.set = without;
        this.refit();
      }
    }
  }

  private refit(): void {
    this.answer = this.pool.fitSet(this.set);
    const residual = this.fit.residual(this.answer.columns, this.answer.amounts);
    this.scale = residualScale(residual, this.variance, this.model.seen.width);
  }
}
