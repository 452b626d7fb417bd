// sources: rise over the board → which candidates heat, with how many watts, and what else would do as well.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { CandidatePool, type SetFit } from "./candidate-pool.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { ProjectedFit } from "./projected-fit.js";
import { residualScale } from "./residual-scale.js";
import type { Candidate, CandidateKind, SourceModel } from "./source-model.js";

/** Defaults of `fitSources`. */
export const FIT_DEFAULTS = Object.freeze({
  /** Cooling lengths tried, mm: bare laminate a second after power-on to copper planes in the steady state. */
  coolingLengthsMm: Object.freeze([2.5, 3.5, 5, 7, 10, 14, 20, 28]) as readonly number[],
  /** The length the search starts from. */
  firstLengthMm: 7,
  /** Spread of the logarithm of the length before anything is seen: a factor of two either way is usual. */
  lengthSpread: 0.7,
  /** Share of the modelled rise by which the plate model may be wrong at a pixel (uneven copper, finish). */
  modelError: 0.06,
  /** How far a part's own shape may differ from the map's, px. */
  shapeErrorPx: 0.3,
  /** Log odds, before anything is seen, that a change on a visible part whose finish the map does not state is heat
   *  and not the room mirrored in it. */
  heatOddsUnknown: 2,
  /** A finish that does not mirror still throws back a few per cent of a change in the room: on such a part a step of
   *  this size, K, is e times as likely to be heat as one of none, for which the odds are these. */
  mattMirrorK: 0.08,
  heatOddsFaint: -1,
  /** Log odds below which a part is taken for a mirror. */
  leastHeatOdds: 1,
  /** The surroundings speak against heat by no more than this: a second after power-on they are hardly warm yet, and
   *  the plate model is not that sure. */
  mostAgainst: -20,
  /** Evidence wanted of a part that does not show itself, × that of one in view: it has only a smooth hill to show. */
  hiddenEvidence: 2,
  /** … and for a place that no region names: solder and bare pads mirror, and none of them is on the map. */
  heatOddsFree: -2,
  /** A face with this many pixels, and this share of it, below minus this many sigma has cooled. */
  cooledSigma: 4,
  cooledPixels: 4,
  cooledShare: 0.12,
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
  /** Probability that it is heat rather than the room mirrored in the part. */
  readonly heatChance: number;
  /** χ² lost when this source alone is left out, ÷ the residual scale. */
  readonly evidence: number;
  /** Every candidate in this source's place: evidence lost against the best, ≥ 0; best first. */
  readonly alternatives: readonly { readonly candidate: Candidate; readonly loss: number }[];
}

/** Result of `fitSources`. */
export interface SourceFit {
  readonly sources: readonly FittedSource[];
  /** Parts whose change ends at their edge as no heat would: they mirror the room. */
  readonly mirrors: readonly Candidate[];
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
 *  @param nuisance maker of the nuisance columns, given the heat found so far (K per pixel) and the extra smooth error
 *  the plate model may have, K.
 *  @param extra free places to try beside the named regions.
 *  @param minEvidence evidence a source must bring.
 */
export function fitSources(
  model: SourceModel,
  rise: Float32Array,
  variance: Float32Array,
  nuisance: (heat: Float32Array, modelK: number) => NuisanceColumn[],
  extra: readonly Candidate[],
  minEvidence: number,
  options: OptionsOf<typeof FIT_DEFAULTS> = {},
): SourceFit {
  const o = { ...FIT_DEFAULTS, ...options };
  const run = new SourceSearch(model, rise, extra, minEvidence, o);
  // First pass: pixel noise alone. It finds the strong heat, whose size says how wrong the model may be.
  run.prepare(variance, nuisance(new Float32Array(rise.length), 0));
  run.select(o.firstLengthMm);
  run.chooseLength();
  const modelled = run.modelled();
  const peakK = modelled.reduce((a, b) => Math.max(a, b), 0);
  const slope = slopeOf(modelled, model.seen.width);
  const widened = variance.map(
    (v, i) => v + (o.modelError * modelled[i]!) ** 2 + (o.shapeErrorPx * slope[i]!) ** 2,
  );
  run.prepare(widened, nuisance(modelled, 0.5 * o.modelError * peakK));
  run.select(run.coolingLengthMm);
  if (run.chooseLength()) run.select(run.coolingLengthMm);
  return run.finish();
}

/** Size of the gradient, K/px. */
function slopeOf(values: Float32Array, width: number): Float32Array {
  const out = new Float32Array(values.length);
  for (let i = width; i < values.length - width; i++) {
    out[i] = 0.5 * Math.hypot(values[i + 1]! - values[i - 1]!, values[i + width]! - values[i - width]!);
  }
  return out;
}

const RECAST = new WeakMap<Candidate, Map<CandidateKind, Candidate>>();

/** The same place, taken for something else; always the same object, so that its columns are made once. */
function recast(candidate: Candidate, kind: CandidateKind): Candidate {
  const known = RECAST.get(candidate) ?? new Map<CandidateKind, Candidate>();
  RECAST.set(candidate, known);
  const made = known.get(kind) ?? { ...candidate, kind };
  known.set(kind, made);
  return made;
}

/** The same part, taken for a mirror. */
function mirrorOf(candidate: Candidate): Candidate {
  return recast(candidate, "mirror");
}

function isFault(candidate: Candidate): boolean {
  return candidate.kind === "heat" && !candidate.normallyWarm;
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
    if (process.env["FGDBG"])
      console.log(
        "DBG",
        this.coolingLengthMm,
        candidate.ref,
        candidate.side,
        logOdds < 0 ? "mirror" : "heat",
        "scale",
        this.scale.toFixed(2),
        "lo",
        logOdds.toFixed(1),
      );
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
      const heatChance = 1 / (1 + Math.exp(-this.heatLogOdds(candidate, without)));
      return [
        {
          candidate,
          powerW,
          powerSigmaW: Math.sqrt(this.answer.variancesW2[c]! * this.scale),
          bodyShare: this.answer.bodyShares[c]!,
          heatChance,
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
    if (candidate.body === null || candidate.normallyWarm) return Number.POSITIVE_INFINITY;
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
    return this.o.heatOddsFaint + bodyK / this.o.mattMirrorK;
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
