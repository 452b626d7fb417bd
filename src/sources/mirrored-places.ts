// sources: sources found and the faces in view → those that mirror the room where a hidden part was taken to heat.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { peakOf } from "../numeric/pixel-errors.js";
import { besideInPictures, endsAtEdge } from "./beside-face.js";
import { CandidatePool, type SetFit } from "./candidate-pool.js";
import { addColumn } from "./column.js";
import { heatOfSet } from "./heat-of-set.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import type { PlateState } from "./plate-state.js";
import { ProjectedFit } from "./projected-fit.js";
import { isFault } from "./recast-candidate.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Defaults of `mirroredPlaces`. */
export const MIRRORED_DEFAULTS = Object.freeze({
  /** Log odds by which the foot must speak against heat: where it tells nothing, the hill stays heat. */
  againstHeat: 2,
  /** Relative error of the watts that a hill's foot tells, against those of its top: uneven copper, the plate's
   *  state. */
  footError: 0.35,
  /** A state that explains this share of what the state at hand does may be the true one: copper is uneven. */
  alikeShare: 0.9,
  /** What a hill is taken from covers this share of its upper part, … */
  coverShare: 0.2,
  /** … which is where it has this share of its height. */
  hillShare: 0.6,
  /** A pixel belongs to a face from this share of it on, and so do its neighbours, which see it blurred. */
  faceShare: 0.02,
  blurPx: 2,
  /** The hidden part makes at least this share of the heat found on the face: else it was not taken for that part's
   *  heat. */
  madeShare: 0.5,
  /** Faces of fewer pixels bend no hill. */
  fewestPixels: 12,
});

/** What the fit is made of. */
export interface FitParts {
  readonly rise: Float32Array;
  readonly variance: Float32Array;
  readonly nuisance: readonly NuisanceColumn[];
  readonly state: PlateState;
  /** By how much χ² overstates the evidence. */
  readonly scale: number;
}

/** Find the faces whose change a hidden part was taken to make, though the board around them hardly warmed. Heat from
 *  below is a hill with a foot: with the face left out, its foot tells the same watts. A mirror has none, and a flat
 *  top with edges.
 *  @param set sources found. @param answer their watts.
 *  @param places faces that no map names, beside the named ones.
 *  @returns 1 = on such a face, over all pixels.
 */
export function mirroredPlaces(
  model: SourceModel,
  parts: FitParts,
  set: readonly Candidate[],
  answer: Pick<SetFit, "powersW" | "bodyShares">,
  places: readonly Candidate[],
  options: OptionsOf<typeof MIRRORED_DEFAULTS> = {},
): Uint8Array {
  const o = { ...MIRRORED_DEFAULTS, ...options };
  const { powersW } = answer;
  const out = new Uint8Array(model.size);
  const heat = heatOfSet(model, parts.state, set, answer);
  set.forEach((source, c) => {
    if (!isFault(source) || source.body !== null || !(powersW[c]! > 0)) return;
    if (model.pictures.some(({ view }) => view.side === source.side)) return;
    const hill = new Float32Array(model.size);
    addColumn(hill, model.plateColumn(source, parts.state), 1);
    const top = peakOf(hill);
    const upper = (i: number) => hill[i]! > o.hillShare * top && parts.variance[i]! > 0;
    let upperPixels = 0;
    for (let i = 0; i < hill.length; i++) if (upper(i)) upperPixels++;
    for (const place of [...model.candidates, ...places]) {
      const face = facePixels(model, place, o);
      const shared = face.reduce((sum, i) => sum + (upper(i) ? 1 : 0), 0);
      if (face.length < o.fewestPixels || shared <= o.coverShare * upperPixels) continue;
      const made = face.reduce((sum, i) => sum + powersW[c]! * hill[i]!, 0);
      const all = face.reduce((sum, i) => sum + heat[i]!, 0);
      if (made < o.madeShare * all || !hasEdge(model, parts, place, o)) continue;
      if (!footSpeaksAgainst(model, parts, set, c, face, o)) continue;
      for (const i of face) out[i] = 1;
    }
  });
  return out;
}

/** True if a hill's foot, seen with a face left out, speaks against the heat that the whole of it was taken for, in
 *  every state of the plate that explains all about as well: how far a hill's foot reaches is the state's to say.
 *  @param c which of the set makes the hill. @param face pixels left out.
 */
function footSpeaksAgainst(
  model: SourceModel,
  { rise, variance, nuisance, state, scale }: FitParts,
  set: readonly Candidate[],
  c: number,
  face: readonly number[],
  o: ResolvedOptions<typeof MIRRORED_DEFAULTS>,
): boolean {
  const without = Float32Array.from(variance);
  for (const i of face) without[i] = Number.NaN;
  const whole = new ProjectedFit(rise, variance, nuisance);
  const rest = new ProjectedFit(rise, without, nuisance);
  const speaksAgainst = (one: PlateState, hillW: number): boolean => {
    const pool = new CandidatePool(model, rest, one);
    const foot = pool.fitSet(set);
    const variance2 = foot.variancesW2[c]! > 0 ? foot.variancesW2[c]! : 1 / pool.plateNorm(set[c]!);
    const sigmaW = Math.sqrt(variance2 * scale);
    const asMirror = foot.powersW[c]! / sigmaW;
    const asHeat = (foot.powersW[c]! - hillW) / Math.hypot(sigmaW, o.footError * hillW);
    return 0.5 * (asHeat ** 2 - asMirror ** 2) >= o.againstHeat;
  };
  const here = new CandidatePool(model, whole, state).fitSet(set);
  if (!speaksAgainst(state, here.powersW[c]!)) return false;
  return model.states.every((other) => {
    if (other === state) return true;
    const { gain, powersW } = new CandidatePool(model, whole, other).fitSet(set);
    return gain < o.alikeShare * here.gain || speaksAgainst(other, powersW[c]!);
  });
}

/** True if what a face shows ends at its edge: a named part may be seen in several pictures, or in any one of them. */
function hasEdge(
  model: SourceModel,
  { rise, variance }: FitParts,
  place: Candidate,
  { faceShare }: ResolvedOptions<typeof MIRRORED_DEFAULTS>,
): boolean {
  const own = facePixels(model, place, { faceShare, blurPx: 0 });
  return endsAtEdge(besideInPictures(own, model.pictures, rise, variance));
}

/** Pixels that see a face, blur included: of all pictures for a named part, none where that is known to mirror, and is
 *  left out already. */
function facePixels(
  model: SourceModel,
  { face, body }: Candidate,
  o: { readonly faceShare: number; readonly blurPx: number },
): number[] {
  if (face === null) return [...(body?.at ?? [])];
  const { seen, offset } = model.pictures[face.picture]!;
  const { x0, y0, width, height, coverage } = face.window;
  const pixels = new Set<number>();
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k++) {
      if (coverage[k]! < o.faceShare) continue;
      for (let v = Math.max(0, y0 + y - o.blurPx); v <= Math.min(seen.height - 1, y0 + y + o.blurPx); v++) {
        for (let u = Math.max(0, x0 + x - o.blurPx); u <= Math.min(seen.width - 1, x0 + x + o.blurPx); u++) {
          pixels.add(offset + v * seen.width + u);
        }
      }
    }
  }
  return [...pixels];
}
