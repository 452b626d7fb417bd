// sources: a candidate and the pixels of a fit → how high its hill stands where it is seen.
import type { PlateState } from "./plate-state.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** The most that one watt in a candidate shows on the plate where a pixel takes part in the fit, K per W.
 *  @param variance K² per pixel of all pictures; 0 or NaN = takes no part.
 */
export function shownKPerW(
  model: Pick<SourceModel, "plateColumn">,
  candidate: Candidate,
  state: PlateState,
  variance: Float32Array,
): number {
  const { at, values } = model.plateColumn(candidate, state);
  let most = 0;
  for (let k = 0; k < values.length; k++) {
    if (values[k]! > most && variance[at === null ? k : at[k]!]! > 0) most = values[k]!;
  }
  return most;
}
