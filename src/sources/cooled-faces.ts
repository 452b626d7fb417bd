// sources: all candidates, the set found and what it leaves → the faces that got cooler, which mirror the room.
import { besideFace } from "./beside-face.js";
import type { SetFit } from "./candidate-pool.js";
import { type CooledBar, hasCooled } from "./has-cooled.js";
import { holds } from "./open-candidates.js";
import type { Picture } from "./picture.js";
import type { Candidate } from "./source-model.js";

/** The board beside a face, px outside it: beyond its blur, and near enough to be as warm as the board under it. */
const BESIDE_FROM_PX = 3;
const BESIDE_TO_PX = 4;
/** Share of that warmth which a face that mirrors a colder room lacks: finishes differ by 4 %, and stronger heat may lie beside. */
const LACKING_SHARE = 0.1;

/** What a set leaves, and how warm it makes each body. */
export interface SetLeft {
  /** K per pixel, what the set leaves of it, and its variance, K². */
  readonly rise: Float32Array;
  readonly residual: Float32Array;
  readonly variance: Float32Array;
  readonly answer: Pick<SetFit, "powersW" | "bodyShares">;
}

/** Find the faces that got cooler and are not taken for mirrors yet. A part that warms on a healthy board too is in the set from
 *  the start: its face may mirror the room like any other, as long as the fit finds no warmth on it and it is clearly cooler than the
 *  board beside it. A face that is not heats, however much more the fit expects of it.
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
  const sums = { face: 0, beside: 0 };
  const counts = { face: 0, beside: 0 };
  for (const { seen, offset } of pictures) {
    const own = on.map((i) => i - offset);
    const shown = besideFace(own, seen.width, seen.height, BESIDE_FROM_PX, BESIDE_TO_PX, (i) =>
      variance[offset + i]! > 0 ? rise[offset + i]! : Number.NaN,
    );
    for (const where of ["face", "beside"] as const) {
      sums[where] += shown[where].sum;
      counts[where] += shown[where].count;
    }
  }
  if (counts.face === 0 || counts.beside === 0) return false;
  const besideK = sums.beside / counts.beside;
  return sums.face / counts.face > besideK - LACKING_SHARE * Math.abs(besideK);
}
