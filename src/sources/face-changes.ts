// sources: rise, the heat found and the named parts in view → how each face changed, and how much of the room it shows.
import { contrastOf } from "./face-contrast.js";
import { MIRRORS_WELL, SHINY_SHARE, shareOfRoom } from "./mirrored-share.js";
import type { FaceChange } from "./room-change.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Share of the heat around a face by which what is left on it may be off: uneven copper and finishes; for a mirror,
 *  what its unknown emissivity shows of the board's warmth. */
const HEAT_ERROR = 0.1;
const MIRROR_HEAT_ERROR = 0.15;

/** A median errs by a quarter more than a mean, and pixels that were read between others err together (a working
 *  figure). */
const MEDIAN_ERROR = 1.6;
/** The level around errs too: variance, ÷ that of one pixel, of a ring of some fifty. */
const AROUND_SHARE = 0.02;

/** One of a candidate. */
export interface NamedChange extends FaceChange {
  readonly candidate: Candidate;
}

/** Measure how every face in view changed: against the board around it, or, where it mirrors well, by itself.
 *  @param rise K per pixel of all pictures, the heat found taken off; not modified.
 *  @param heat the heat found, K per pixel: it is off by a share of itself; not modified.
 *  @param sigmaK noise of one pixel, K.
 *  @param undrawn places that no map names which were taken for mirrors.
 *  @returns one for each face of which enough is seen, picture by picture.
 */
export function faceChanges(
  { pictures, candidates }: Pick<SourceModel, "pictures" | "candidates">,
  rise: Float32Array,
  heat: Float32Array,
  sigmaK: number,
  undrawn: readonly Candidate[] = [],
): NamedChange[] {
  const faces = [...candidates, ...undrawn];
  return pictures.flatMap((picture) => {
    const { width, height } = picture.seen;
    const own = rise.subarray(picture.offset, picture.offset + width * height);
    const warm = heat.subarray(picture.offset, picture.offset + width * height);
    return faces.flatMap((candidate): NamedChange[] => {
      if (candidate.side !== picture.view.side) return [];
      const change = contrastOf(picture, candidate.polygon, own);
      const warmth = contrastOf(picture, candidate.polygon, warm);
      if (change === null || warmth === null) return [];
      const around = Math.max(Math.abs(warmth.level), Math.abs(warmth.level - warmth.step));
      const share = candidate.region < 0 ? SHINY_SHARE : shareOfRoom(candidate);
      const byItself = share >= MIRRORS_WELL;
      const noiseK = MEDIAN_ERROR * sigmaK * Math.sqrt(1 / change.pixels + AROUND_SHARE);
      return [
        {
          candidate,
          // A board that warmed stands out from a mirror on it: a mirror is read against the table.
          changeK: byItself ? change.level : change.step,
          sigmaK: Math.hypot(
            byItself ? noiseK : noiseK / change.seen,
            (byItself ? MIRROR_HEAT_ERROR : HEAT_ERROR) * around,
          ),
          share,
        },
      ];
    });
  });
}
