// sources: a part that shows no face of its own → whether what was found may as well be the room, blurred in the
// board's finish.
import type { ResolvedOptions } from "../core/options.js";
import type { FIT_DEFAULTS } from "./fit-defaults.js";
import { type MirroredRoom, mirroredHillK } from "./mirrored-room.js";
import type { PlateState } from "./plate-state.js";
import { isFault } from "./recast-candidate.js";
import { shownKPerW } from "./shown-k-per-w.js";
import type { FittedSource } from "./source-fit.js";
import type { Candidate, SourceModel } from "./source-model.js";
import type { SourceWeight } from "./weigh-set.js";

/** What mirrored hills are reckoned from. */
interface Seen {
  readonly mirrored: readonly MirroredRoom[];
  readonly state: PlateState;
  /** Of each pixel, K². */
  readonly variance: Float32Array;
}

/** What a mirrored hill is held against. */
type Least = Pick<ResolvedOptions<typeof FIT_DEFAULTS>, "mirroredHill" | "mirroredEvidence">;

/** Watts that a candidate's hill would need to be as high as one that the board's finish may mirror there. */
export function mirroredHillW(model: SourceModel, candidate: Candidate, seen: Seen): number {
  return (
    mirroredHillK(model, candidate, seen.mirrored) / shownKPerW(model, candidate, seen.state, seen.variance)
  );
}

/** True of a part that does not show itself if a mirrored hill may be as high, and there is no more evidence than such
 *  make. */
export function mayBeMirrored(
  { candidate, mirroredHill, evidence }: Pick<FittedSource, "candidate" | "mirroredHill" | "evidence">,
  minEvidence: number,
  o: Least,
): boolean {
  return (
    candidate.body === null && mirroredHill > o.mirroredHill && evidence < o.mirroredEvidence * minEvidence
  );
}

/** Those that are clear enough to be told; null: all that stand. */
export type Listed = ReadonlySet<Candidate> | null;

/** What a fit gave each of a set. */
interface FoundPowers {
  readonly weights: readonly SourceWeight[];
  readonly powersW: ArrayLike<number>;
  readonly listed: Listed;
}

/** Watts of those of a set that stand, without those that are not told and without faults that may be mirrored
 *  hills. */
export function surelyStanding(
  model: SourceModel,
  seen: Seen & { readonly set: readonly Candidate[] },
  { weights, powersW, listed }: FoundPowers,
  minEvidence: number,
  o: Least,
): Map<Candidate, number> {
  return new Map(
    seen.set.flatMap((candidate, c) => {
      if (listed !== null && !listed.has(candidate)) return [];
      const { stands, evidence } = weights[c]!;
      const powerW = powersW[c]!;
      const mirroredHill = mirroredHillW(model, candidate, seen) / powerW;
      const doubtful =
        isFault(candidate) && mayBeMirrored({ candidate, mirroredHill, evidence }, minEvidence, o);
      return stands && !doubtful ? [[candidate, powerW] as const] : [];
    }),
  );
}
