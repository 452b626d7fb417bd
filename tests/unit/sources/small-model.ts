// tests: the small board of relaxed-plate.ts → a model of it, and fits with the board's level as the only nuisance.
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { placeView } from "../../../src/board/place-view.js";
import { centroid } from "../../../src/board/polygon.js";
import type { OptionsOf } from "../../../src/core/options.js";
import { boardPoint } from "../../../src/core/units.js";
import type { StatePool } from "../../../src/sources/average-powers.js";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import type { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import { type FinishedFit, fitSources } from "../../../src/sources/fit-sources.js";
import type { FitParts } from "../../../src/sources/mirrored-places.js";
import type { NuisanceColumn } from "../../../src/sources/nuisance-columns.js";
import type { PictureInput } from "../../../src/sources/picture.js";
import type { PlateState } from "../../../src/sources/plate-state.js";
import type { ProjectedFit } from "../../../src/sources/projected-fit.js";
import type { SourceFit } from "../../../src/sources/source-fit.js";
import { type Candidate, SourceModel } from "../../../src/sources/source-model.js";
import { BOARD, VIEW } from "./relaxed-plate.js";

/** One picture of the board. */
export function pictureOf(view: View, scene: Float32Array | null = null, opticsSigmaPx = 1): PictureInput {
  const { width, height } = view.frame;
  return { view: placeView(view), width, height, opticsSigmaPx, scene };
}

/** A model of a board seen in one picture, or in several.
 *  @param timeS since power-on, s; null: not known. @param periodS of the supply, s; null: constant.
 */
export function modelOf(
  board: BoardMap = BOARD,
  pictures: readonly PictureInput[] = [pictureOf(VIEW)],
  timeS: number | null = null,
  periodS: number | null = null,
): SourceModel {
  const centreOf = (region: BoardMap["regions"][number]) => boardPoint(...centroid(region.polygon));
  return new SourceModel(board, pictures, centreOf, timeS, { periodS });
}

/** The candidate of a part. */
export function partOf(model: SourceModel, ref: string): Candidate {
  const found = model.candidates.find((candidate) => candidate.ref === ref);
  if (found === undefined) throw new RangeError(`no candidate ${ref}`);
  return found;
}

/** One for every state of the plate. */
export function statePools(model: SourceModel, fit: ProjectedFit): StatePool[] {
  return model.states.map((state) => ({
    pool: new CandidatePool(model, fit, state),
    penalty: model.penaltyOf(state),
  }));
}

/** The level of the board in every picture. */
export function levelColumns(model: SourceModel, priorSigma: number): NuisanceColumn[] {
  return model.pictures.map(({ seen, offset }) => {
    const values = new Float32Array(model.size);
    values.set(Float32Array.from(seen.onBoard), offset);
    return { what: "level", column: { at: null, values }, priorSigma };
  });
}

/** A rise with the same noise everywhere, as the steps of a fit take it: the board's level is the only nuisance. */
export function partsOf(model: SourceModel, rise: Float32Array, noiseK: number, state: PlateState): FitParts {
  const variance = new Float32Array(model.size).fill(noiseK ** 2);
  return { rise, variance, nuisance: levelColumns(model, 0.3), state, scale: 1 };
}

/** Everything about a fit but the rise; what is left out is usual. */
export interface FitRecipe {
  readonly noiseK: number;
  readonly levelK: number;
  readonly minEvidence: number;
  readonly extra: readonly Candidate[];
  readonly options: OptionsOf<typeof FIT_DEFAULTS>;
}

const USUAL: FitRecipe = Object.freeze({
  noiseK: 0.04,
  levelK: 0.3,
  minEvidence: 30,
  extra: [],
  options: {},
});

/** Fit the sources of a rise in all pictures of a model. */
export function fitRise(
  model: SourceModel,
  rise: Float32Array,
  recipe: Partial<FitRecipe> = {},
): FinishedFit {
  const r = { ...USUAL, ...recipe };
  const variance = new Float32Array(model.size).fill(r.noiseK ** 2);
  const nuisance = levelColumns(model, r.levelK);
  return fitSources(
    model,
    rise,
    variance,
    () => nuisance,
    { tried: r.extra, faces: r.extra },
    r.minEvidence,
    r.options,
  );
}

/** Refs of the sources, the normally warm ones left out, in the order of the alphabet. */
export function faultsOf(fit: SourceFit): (string | null)[] {
  return fit.sources
    .filter(({ candidate }) => !candidate.normallyWarm)
    .map(({ candidate }) => candidate.ref)
    .sort();
}
