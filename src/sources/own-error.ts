// sources: what was found at first → its evidence where the error of its own shape does not speak against it.
import { CandidatePool } from "./candidate-pool.js";
import type { HeatFootprint } from "./heat-footprint.js";
import type { FitParts } from "./mirrored-places.js";
import { onBoardOnly, sizesOf } from "./picture.js";
import { ProjectedFit } from "./projected-fit.js";
import { residualScale } from "./residual-scale.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** The evidence for one candidate, and what it was weighed with. */
export interface OwnEvidence {
  /** χ² lost without it, ÷ the residual scale. */
  readonly evidence: number;
  readonly parts: FitParts;
}

/** The pixels of a face count as doubtful where the heat found there makes a steep step, since its place is known to a
 *  share of a pixel only. A small hot part is all step: the hotter, the more doubtful its own pixels, and its evidence
 *  would have an upper end. Whether it is there at all is weighed with the noise that would be there without it.
 */
export class OwnError {
  private readonly known = new Map<
    HeatFootprint,
    { readonly variance: Float32Array; readonly fit: ProjectedFit }
  >();

  /** @param heats what each candidate found at first was given, K per pixel.
   *  @param varianceWithout K² per pixel if that much of the heat were not there.
   */
  constructor(
    private readonly heats: ReadonlyMap<HeatFootprint, Float32Array>,
    private readonly varianceWithout: (heat: Float32Array) => Float32Array,
  ) {}

  /** True for a candidate that was found at first: of others nothing is in the noise. */
  has({ footprint }: Candidate): boolean {
    return this.heats.has(footprint);
  }

  /** Weigh a candidate beside others; null if it was not found at first.
   *  @param parts what the fit is made of; its variance and scale are not used.
   */
  weigh(
    model: SourceModel,
    parts: Omit<FitParts, "variance" | "scale">,
    candidate: Candidate,
    others: readonly Candidate[],
  ): OwnEvidence | null {
    const heat = this.heats.get(candidate.footprint);
    if (heat === undefined) return null;
    const { variance, fit } = this.prepare(candidate.footprint, heat, model, parts);
    const pool = new CandidatePool(model, fit, parts.state);
    const both = pool.fitSet([...others, candidate]);
    const residual = fit.residual(both.columns, both.amounts);
    const scale = residualScale(residual, variance, sizesOf(model.pictures));
    const { rise, nuisance, state } = parts;
    return {
      evidence: (both.gain - pool.fitSet(others).gain) / scale,
      parts: { rise, nuisance, state, variance, scale },
    };
  }

  private prepare(
    footprint: HeatFootprint,
    heat: Float32Array,
    model: SourceModel,
    { rise, nuisance }: Pick<FitParts, "rise" | "nuisance">,
  ): { readonly variance: Float32Array; readonly fit: ProjectedFit } {
    let made = this.known.get(footprint);
    if (made === undefined) {
      const variance = onBoardOnly(this.varianceWithout(heat), model.pictures);
      made = { variance, fit: new ProjectedFit(rise, variance, nuisance) };
      this.known.set(footprint, made);
    }
    return made;
  }
}
