// sources: all candidates, the set found and what it leaves → the faces that got cooler, which mirror the room.
import { besideInPictures } from "./beside-face.js";
import type { SetFit } from "./candidate-pool.js";
import { type CooledBar, hasCooled } from "./has-cooled.js";
import { holds } from "./open-candidates.js";
import type { Picture } from "./picture.js";
import type { Candidate } from "./source-model.js";

/** Share of the warmth beside it which a face that mirrors a colder room lacks: finishes differ by 4 %, and stronger
 *  heat may lie beside: two and a half of that. A judgement. */
const LACKING_SHARE = 0.1;

/** What a set leaves, and how warm it makes each body. */
export interface SetLeft {
  /** K per pixel, what the set leaves of it, and its variance, K². */
  readonly rise: Float32Array;
  readonly residual: Float32Array;
  readonly variance: Float32Array;
  readonly answer: Pick<SetFit, "powersW" | "bodyShares">;
}

/** Find the faces that got cooler and are not taken for mirrors yet. A part that warms on a healthy board too is in the
 *  set from the start: its face may mirror the room like any other, as long as the fit finds no warmth on it and it is
 *  clearly cooler than the board beside it. A face that is not heats, however much more the fit expects of it.
 */
export function cooledFaces(
  all: readonly Candidate[],
  set: readonly Candidate[],
  { rise, residual, variance, answer: { powersW, bodyShares } }: SetLeft,
  pictures: readonly Picture[],
  bar: CooledBar,
): Candidate[] {
  const isOpen = (candidate: Candidate) => {
    const c = set.indexOf(candidate);
    if (!candidate.normallyWarm || c < 0) return !holds(set, candidate);
    return !(powersW[c]! * bodyShares[c]! > 0) && !isAsWarm(candidate, rise, variance, pictures);
  };
  return all.filter((candidate) => isOpen(candidate) && hasCooled(candidate, residual, variance, bar));
}

/** True if a face is not clearly cooler than the board beside it. */
function isAsWarm(
  { body }: Candidate,
  rise: Float32Array,
  variance: Float32Array,
  pictures: readonly Picture[],
): boolean {
  if (body?.at == null) return false;
  const on = [...body.at].filter((_, k) => body.values[k]! >= 0.5);
  const { face, beside } = besideInPictures(on, pictures, rise, variance);
  if (face.count === 0 || beside.count === 0) return false;
  const besideK = beside.sum / beside.count;
  return face.sum / face.count > besideK - LACKING_SHARE * Math.abs(besideK);
}
