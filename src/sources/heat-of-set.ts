// sources: a set of sources with their watts → the rise that they make, per pixel.
import { addColumn } from "./column.js";
import type { PlateState } from "./plate-state.js";
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
