// sources: the rise on every face in view → by how much the room that they mirror has changed.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { MIRRORS_WELL } from "./mirrored-share.js";

/** Defaults of `roomChange`. */
export const ROOM_CHANGE_DEFAULTS = Object.freeze({
  /** Change of the room before anything is seen, K, and the spread of its logarithm: someone moved, or no one did. */
  usualK: 0.8,
  spread: 1.1,
  /** What edges that are not quite in place, and finishes of one kind that differ, leave on any face, K. */
  faceErrorK: 0.06,
  /** Share of faces whose change is none of the room's: parts that heat, and finishes the map has wrong. */
  otherShare: 0.15,
  /** … and how large that may be, K. */
  otherK: 6,
});

/** One face in view. */
export interface FaceChange {
  /** Its change against the board around it, or, of one that mirrors well, by itself, K; and the noise of that. */
  readonly changeK: number;
  readonly sigmaK: number;
  /** Share of a change in the room that it shows against the board around it. */
  readonly share: number;
}

/** A change of a mirror by so many times its error is one: noise makes it of one in twenty-two (two-sided). */
const CERTAIN_SIGMAS = 2;

/** Estimate the size of the change in the room, K: root mean square over the faces.
 *  Shiny faces tell it best; of dull ones it takes many. Parts that heat are outliers to it.
 *  Method: largest posterior on a grid, each face normal with the room's share or, at the stated rate, something else.
 */
export function roomChange(
  faces: readonly FaceChange[],
  options: OptionsOf<typeof ROOM_CHANGE_DEFAULTS> = {},
): number {
  const o = { ...ROOM_CHANGE_DEFAULTS, ...options };
  let best = o.usualK;
  let most = Number.NEGATIVE_INFINITY;
  for (let k = -30; k <= 30; k++) {
    const roomK = o.usualK * Math.exp(k / 10);
    const log = logPosterior(faces, roomK, o);
    if (log <= most) continue;
    most = log;
    best = roomK;
  }
  // Two answers, each to a factor of two or so: what dull faces mirror beyond the mask around them is a judgement, what
  // is mirrored well is not what is mirrored blurred. The middle of their logarithms.
  return Math.sqrt(best * Math.max(best, commonlyMirroredK(faces)));
}

/** What at least half of the faces that mirror well show of the room, K; 0 where there are fewer than two. One mirror
 *  alone may show a hand that no other does.
 */
function commonlyMirroredK(faces: readonly FaceChange[]): number {
  const shown = faces
    .filter(({ share }) => share >= MIRRORS_WELL)
    // What noise, or the error of the heat taken off, may be alone shows nothing of the room.
    .map(({ changeK, sigmaK, share }) =>
      Math.abs(changeK) > CERTAIN_SIGMAS * sigmaK ? Math.abs(changeK) / share : 0,
    )
    .sort((a, b) => b - a);
  return shown.length < 2 ? 0 : shown[Math.floor(shown.length / 2)]!;
}

function logPosterior(
  faces: readonly FaceChange[],
  roomK: number,
  o: ResolvedOptions<typeof ROOM_CHANGE_DEFAULTS>,
): number {
  let log = -0.5 * (Math.log(roomK / o.usualK) / o.spread) ** 2;
  for (const { changeK, sigmaK, share } of faces) {
    const spread = Math.hypot(sigmaK, o.faceErrorK, share * roomK);
    const room = Math.exp(-0.5 * (changeK / spread) ** 2) / spread;
    const other = Math.exp(-Math.abs(changeK) / o.otherK) / o.otherK;
    log += Math.log((1 - o.otherShare) * room + o.otherShare * other);
  }
  return log;
}
