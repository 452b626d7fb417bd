// sources: a part in view and its plate column → what one watt in it shows on the plate beside its face, and under it.
import type { PlateState } from "./plate-state.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** A pixel lies beside a face if it sees less than this share of it. */
export const BESIDE_SHARE = 0.05;

/** The most that one watt in a part in view shows on the plate beside its face, K per W. */
export function besideKPerW(
  model: Pick<SourceModel, "plateColumn">,
  candidate: Candidate,
  state: PlateState,
): number {
  const { at, values } = model.plateColumn(candidate, state);
  const { body } = candidate;
  const face = body === null ? EMPTY : body.at!;
  let most = 0;
  for (let k = 0, j = 0; k < values.length; k++) {
    const pixel = at![k]!;
    while (j < face.length && face[j]! < pixel) j++;
    if (j < face.length && face[j] === pixel && body!.values[j]! >= BESIDE_SHARE) continue;
    if (values[k]! > most) most = values[k]!;
  }
  return most;
}

const EMPTY = new Int32Array(0);

/** What one watt in a part in view shows on the plate under its face, K per W: mean over the face. */
export function underKPerW(
  model: Pick<SourceModel, "plateColumn">,
  candidate: Candidate,
  state: PlateState,
): number {
  const { body } = candidate;
  if (body === null) return 0;
  const { at, values } = model.plateColumn(candidate, state);
  const face = body.at!;
  let sum = 0;
  let weight = 0;
  for (let j = 0, k = 0; j < face.length; j++) {
    while (k < values.length && at![k]! < face[j]!) k++;
    // Off the board there is no plate.
    if (k < values.length && at![k] === face[j]) sum += body.values[j]! * values[k]!;
    weight += body.values[j]!;
  }
  return weight > 0 ? sum / weight : 0;
}
