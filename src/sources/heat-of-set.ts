// sources: a set of sources with their watts → the rise that they make, per pixel.
import type { SetFit } from "./candidate-pool.js";
import { addColumn } from "./column.js";
import type { HeatFootprint } from "./heat-footprint.js";
import type { PlateState } from "./plate-state.js";
import type { ProjectedFit } from "./projected-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Add up the rise of the sources of a set, plate and bodies, also where pixels take no part in the fit.
 *  @param powersW W, one per candidate; those that mirror count for nothing.
 *  @param bodyShares how warm each body is, as a share of the warmest possible.
 *  @param except one that is left out; none if not given.
 *  @returns K per pixel of all pictures.
 */
export function heatOfSet(
  model: SourceModel,
  state: PlateState,
  set: readonly Candidate[],
  { powersW, bodyShares }: { readonly powersW: ArrayLike<number>; readonly bodyShares: ArrayLike<number> },
  except = -1,
): Float32Array {
  const out = new Float32Array(model.size);
  set.forEach((candidate, c) => {
    const powerW = powersW[c]!;
    if (c === except || candidate.kind !== "heat" || !(powerW > 0)) return;
    addColumn(out, model.plateColumn(candidate, state), powerW);
    const bodyK = powerW * bodyShares[c]! * candidate.maxBodyKPerW;
    if (candidate.body !== null) addColumn(out, candidate.body, bodyK);
  });
  return out;
}

/** What each part in view was given, mirrors too, those left aside that warm on a healthy board: K per pixel, 0 where a
 *  pixel takes no part in the fit. */
export function heatOfEach(
  fit: ProjectedFit,
  set: readonly Candidate[],
  { starts, columns, amounts }: SetFit,
): Map<HeatFootprint, Float32Array> {
  const heats = new Map<HeatFootprint, Float32Array>();
  set.forEach(({ body, normallyWarm, footprint }, c) => {
    if (normallyWarm || body === null) return;
    const [from, to] = [starts[c]!, starts[c + 1] ?? columns.length];
    heats.set(footprint, fit.heat(columns.slice(from, to), amounts.slice(from, to)));
  });
  return heats;
}
