// sources: a part in view → whether the board around it alone tells that it heats.
import type { ResolvedOptions } from "../core/options.js";
import type { CandidatePool } from "./candidate-pool.js";
import type { FIT_DEFAULTS } from "./fit-defaults.js";
import { mirroredHillW } from "./may-be-mirrored.js";
import type { MirroredRoom } from "./mirrored-room.js";
import type { PlateState } from "./plate-state.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { aroundFace } from "./weigh-face.js";

/** What was fitted. */
interface Fitted {
  readonly pool: CandidatePool;
  readonly set: readonly Candidate[];
  readonly scale: number;
  readonly mirrored: readonly MirroredRoom[];
  readonly state: PlateState;
  /** Of each pixel, K². */
  readonly variance: Float32Array;
}

/** What is wanted of a hill that shows no face. */
type Least = Pick<
  ResolvedOptions<typeof FIT_DEFAULTS>,
  "hiddenEvidence" | "mirroredHill" | "mirroredEvidence"
>;

/** Tell whether the board around a part, its own face left free to show anything, brings what a part that shows no face
 *  must bring: a face that may mirror the room takes nothing from the hill around it.
 *  @param minEvidence of any part that shows itself, χ² ÷ the residual scale.
 */
export function standsByHill(
  model: SourceModel,
  fitted: Fitted,
  candidate: Candidate,
  minEvidence: number,
  o: Least,
): boolean {
  const others = fitted.set.filter(({ footprint }) => footprint !== candidate.footprint);
  const around = aroundFace(fitted.pool, candidate, others, fitted.scale);
  if (around === null || !(around.powerW > 0)) return false;
  const hill = mirroredHillW(model, candidate, fitted) / around.powerW;
  const times = hill > o.mirroredHill ? o.mirroredEvidence : o.hiddenEvidence;
  return (around.powerW / around.sigmaW) ** 2 >= times * minEvidence;
}
