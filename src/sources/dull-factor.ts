// sources: how the faces in view changed that mirror little → how much of the room faces of a size show against what
// dull finishes are taken to show.
import { signedArea } from "../board/polygon.js";
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { laplaceNormalDensity } from "../numeric/laplace-normal.js";
import type { NamedChange } from "./face-changes.js";
import { MIRRORS_FROM } from "./mirrored-share.js";
import { ROOM_CHANGE_DEFAULTS } from "./room-change.js";
import type { Candidate } from "./source-model.js";

/** Defaults of `dullFactors`. */
export const DULL_FACTOR_DEFAULTS = Object.freeze({
  /** Spread of the factor's logarithm before anything is seen: what a dull face shows beyond the mask is known to a
   *  factor of two. A judgement. */
  spread: 0.7,
  /** Faces whose areas differ by this much in the logarithm, a factor of three, tell 0.6 of a face about each other. A
   *  judgement. */
  sizeSpread: 1.1,
  /** What edges and finishes leave on any face, K; and faces whose change is none of the room's, and how large that may
   *  be, K. */
  faceErrorK: ROOM_CHANGE_DEFAULTS.faceErrorK / 2,
  otherShare: ROOM_CHANGE_DEFAULTS.otherShare,
  otherK: ROOM_CHANGE_DEFAULTS.otherK,
});

/** Steps of the factor's logarithm, and how many to either side. */
const [STEP, STEPS] = [0.2, 10];

/** Learn from the dull faces of a pair how much of the room such faces show there: their finishes and the mask's are of
 *  one board, and the room of one moment. What one of them would have to mirror beyond that is no mirrored room. Faces
 *  of about its size tell most: of a small one joints and edges are the larger part.
 *  Method: largest posterior on a grid; each face shows a Laplace deviate of its share of the room around it, or, at
 *  the stated rate, something else.
 *  @param changes of all faces, the heat found taken off. @param roomOf how much the room may have changed that a face
 *  mirrors, K.
 *  @returns of a candidate the factor on what a dull face is taken to show.
 */
export function dullFactors(
  changes: readonly NamedChange[],
  roomOf: (candidate: Candidate) => number,
  options: OptionsOf<typeof DULL_FACTOR_DEFAULTS> = {},
): (candidate: Candidate) => number {
  const o = { ...DULL_FACTOR_DEFAULTS, ...options };
  const dull = changes
    .filter(({ share }) => share < MIRRORS_FROM)
    .map((one) => ({ ...one, shownK: one.share * roomOf(one.candidate), logSize: logSize(one.candidate) }));
  const known = new Map<Candidate["polygon"], number>();
  return (candidate) => {
    const { polygon } = candidate;
    const factor = known.get(polygon) ?? likeliestFactor(dull, logSize(candidate), o);
    known.set(polygon, factor);
    return factor;
  };
}

/** A dull face, and what it is taken to show. */
interface DullFace extends NamedChange {
  readonly shownK: number;
  readonly logSize: number;
}

function likeliestFactor(
  dull: readonly DullFace[],
  size: number,
  o: ResolvedOptions<typeof DULL_FACTOR_DEFAULTS>,
): number {
  const faces = dull.map((one) => ({
    ...one,
    weight: Math.exp(-0.5 * ((one.logSize - size) / o.sizeSpread) ** 2),
  }));
  let [best, most] = [1, Number.NEGATIVE_INFINITY];
  for (let k = -STEPS; k <= STEPS; k++) {
    const log = logPosterior(faces, k * STEP, o);
    if (log > most) [best, most] = [Math.exp(k * STEP), log];
  }
  return best;
}

/** Logarithm of a part's area in mm². */
function logSize({ polygon }: Candidate): number {
  return Math.log(Math.abs(signedArea(polygon)));
}

function logPosterior(
  faces: readonly (DullFace & { readonly weight: number })[],
  logFactor: number,
  o: ResolvedOptions<typeof DULL_FACTOR_DEFAULTS>,
): number {
  let log = -0.5 * (logFactor / o.spread) ** 2;
  for (const { changeK, sigmaK, shownK, weight } of faces) {
    const room = laplaceNormalDensity(
      changeK,
      Math.exp(logFactor) * shownK,
      Math.hypot(sigmaK, o.faceErrorK),
    );
    const other = Math.exp(-Math.abs(changeK) / o.otherK) / (2 * o.otherK);
    log += weight * Math.log((1 - o.otherShare) * room + o.otherShare * other);
  }
  return log;
}
