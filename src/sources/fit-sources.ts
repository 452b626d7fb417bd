// sources: rise over the board → which candidates heat, with how many watts, and what else would do as well.
import type { OptionsOf } from "../core/options.js";
import { median } from "../numeric/median.js";
import { subtractPixels } from "../numeric/pixel-arithmetic.js";
import { addSquared, peakOf } from "../numeric/pixel-errors.js";
import { gradientSize } from "./central-difference.js";
import { dullFactors } from "./dull-factor.js";
import { faceChanges } from "./face-changes.js";
import { FIT_DEFAULTS } from "./fit-defaults.js";
import { heatInMask, isBehind } from "./heat-in-mask.js";
import { heatOfEach, heatOfSet } from "./heat-of-set.js";
import { knownHeatErrors } from "./known-heat-errors.js";
import { likeliestError } from "./likeliest-error.js";
import type { Listed } from "./may-be-mirrored.js";
import { mirroredRoom, roomAround } from "./mirrored-room.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { OwnError } from "./own-error.js";
import { sizesOf } from "./picture.js";
import { isFault } from "./recast-candidate.js";
import { ROOM_CHANGE_DEFAULTS, roomChange } from "./room-change.js";
import type { SourceFit } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { SourceSearch } from "./source-search.js";
import { strangePixels } from "./strange-pixels.js";

/** A fit that can be told what of it is listed. */
export interface FinishedFit extends SourceFit {
  /** The same where only these of its candidates are clear enough to be told: where power surely went in and no fault
   *  is among them, all others are weighed against each other. Null where the set holds no fault: then they have
   *  been. */
  readonly withListed: (listed: ReadonlySet<Candidate>) => SourceFit | null;
  /** The one part whose heat the board between all faces shows, whatever they do, beside the listed ones; null where
   *  that shows none. To be asked where no fault is listed, or only such as no face tells of: null, too, where those
   *  explain it better. */
  readonly inMask: (listed: ReadonlySet<Candidate>) => SourceFit | null;
}

/** Find which candidates heat.
 *  Normally warm parts are in from the start; others enter one at a time, the one that explains most first, as
 *  long as what it explains exceeds what noise and model error would. The state of the plate is fitted on the way.
 *  @param rise K per pixel, NaN = no reading; not modified.
 *  @param variance K² per pixel; not modified.
 *  @param nuisance maker of the nuisance columns, given the heat found so far (K per pixel), the extra smooth error the
 *  plate model may have, and how much the room may have changed, K both.
 *  @param extra free places: to try beside the named regions, and to hold for faces that no map names. Where the supply
 *  goes on and off, what goes as the sine where the rise goes as the cosine, K per pixel.
 *  @param minEvidence evidence a source must bring, χ² ÷ the residual scale.
 *  @returns sources and mirrors, the state of the plate, and what the fit leaves.
 */
export function fitSources(
  model: SourceModel,
  rise: Float32Array,
  variance: Float32Array,
  nuisance: (heat: Float32Array, modelK: number, roomK: number) => NuisanceColumn[],
  extra: {
    readonly tried: readonly Candidate[];
    readonly faces: readonly Candidate[];
    readonly quadrature?: Float32Array | null;
  },
  minEvidence: number,
  options: OptionsOf<typeof FIT_DEFAULTS> = {},
): FinishedFit {
  const o = { ...FIT_DEFAULTS, ...options };
  const searchOf = (all: readonly Candidate[]) => new SourceSearch(model, rise, all, minEvidence, o);
  const run = searchOf([...model.candidates, ...extra.tried]);
  run.quadrature = extra.quadrature ?? null;
  // First pass: pixel noise alone. It finds the strong heat, whose size says how wrong the model may be.
  const usualK = ROOM_CHANGE_DEFAULTS.usualK;
  run.prepare(variance, nuisance(new Float32Array(rise.length), 0, usualK), {
    roomK: usualK,
    mirrored: [],
    dullFactor: () => 1,
  });
  run.select(model.firstState);
  if (run.chooseState()) run.select(run.state);
  run.chooseState();
  const modelled = run.modelled();
  const peakK = peakOf(modelled);
  const sizes = sizesOf(model.pictures);
  const slope = gradientSize(modelled, sizes);
  const shape = addSquared(variance, slope, o.shapeErrorPx);
  const withError = (share: number) => addSquared(shape, modelled, share);
  const heats = heatOfEach(run.fit, run.set, run.answer);
  const widened = withError(o.modelError);
  // What the faces show beyond the heat found is the room. A board that warmed shows it less where its finish is shiny.
  const heat = heatOfSet(model, run.state, run.set, run.answer);
  const sigmaK = Math.sqrt(median(variance.filter((v) => v > 0)));
  const beyondHeat = subtractPixels(rise, heat);
  const undrawn = run.set.filter(({ kind, region }) => kind === "mirror" && region < 0);
  const changes = faceChanges(model, beyondHeat, heat, sigmaK, undrawn);
  const roomK = roomChange(changes);
  const mirrored = mirroredRoom(model, beyondHeat);
  const around = (one: Candidate) => roomAround(model, one, mirrored, roomK);
  const room = { roomK, mirrored, dullFactor: dullFactors(changes, around) };
  const others = [
    ...nuisance(modelled, o.smoothError * peakK, roomK),
    ...knownHeatErrors(model, run.state, run.set, run.answer, sigmaK),
  ];
  const { residual, state, scale } = run;
  const fitted = { rise, residual, variance: widened, nuisance: others, state, scale, noise: run.variance };
  const strange = strangePixels(model, fitted, run.set, run.answer, extra.faces);
  leaveOut(shape, strange);
  run.prepare(withError(o.modelError), others, room);
  run.fitAgain();
  const share = likeliestError(o.modelErrors, withError, run.residual, sizes);
  if (share !== o.modelError) run.prepare(withError(share), others, room);
  run.ownError = new OwnError(heats, (own) => {
    const rest = subtractPixels(modelled, own);
    const out = addSquared(variance, gradientSize(rest, sizes), o.shapeErrorPx, rest, share);
    leaveOut(out, strange);
    return out;
  });
  run.select(run.state);
  if (run.chooseState()) run.select(run.state);
  const finished = (one: SourceSearch, listed: Listed): SourceFit => {
    const found = one.finish(listed);
    return { ...found, roomK, heat: heatOfSet(model, one.state, one.set, one.answer) };
  };
  const first = finished(run, null);
  const inMask = (listed: ReadonlySet<Candidate>): SourceFit | null => {
    if (o.followsSupply) return null;
    const smooth = nuisance(new Float32Array(rise.length), 0, roomK);
    const problem = { variance, strange, nuisance: smooth, room, places: extra.tried };
    const bare = heatInMask(run, problem, listed, o.hiddenEvidence * minEvidence, searchOf);
    if (bare === null) return null;
    const found = finished(bare, null);
    // On uneven copper another part may explain more.
    const behind = bare.set.every((one) => !isFault(one) || isBehind(model, one));
    return behind ? { ...found, mirrors: first.mirrors } : null;
  };
  return {
    ...first,
    withListed: (listed) => (run.set.some(isFault) ? finished(run, listed) : null),
    inMask,
  };
}

/** Make pixels that are marked take no part. */
function leaveOut(variance: Float32Array, marked: Uint8Array): void {
  for (let i = 0; i < marked.length; i++) if (marked[i] === 1) variance[i] = Number.NaN;
}
