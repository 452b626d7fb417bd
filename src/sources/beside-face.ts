// sources: a face's pixels and a picture, or all of them → what they show there in sum, and some steps outside.
import type { Picture } from "./picture.js";
import { stepsAround } from "./steps-around.js";

/** Steps outside a face, px, between which the board beside it is read: beyond its blur, and near enough to be as warm
 *  as the board under it. */
export const BESIDE_PX = [3, 4] as const;
/** A change ends at a face's edge where less than this share of it is left there: heat spreads, and its hill goes
 *  on. */
const EDGE_SHARE = 0.12;

/** A sum, and of how many. */
interface Summed {
  readonly sum: number;
  readonly count: number;
}

/** What a face and the board beside it show. */
export interface FaceAndBeside {
  readonly face: Summed;
  readonly beside: Summed;
}

/** Add up a picture over a face and over the band around it that begins where its blur has ended.
 *  @param face indices into width × height; those outside are passed over.
 *  @param fromPx, toPx steps outside the face where the band begins and ends, both of it.
 *  @param valueAt of a pixel; NaN = does not count.
 */
export function besideFace(
  face: Iterable<number>,
  width: number,
  height: number,
  fromPx: number,
  toPx: number,
  valueAt: (pixel: number) => number,
): FaceAndBeside {
  const sums = [0, 0];
  const counts = [0, 0];
  for (const [i, steps] of stepsAround(face, width, height, toPx)) {
    if (steps > 0 && steps < fromPx) continue;
    const value = valueAt(i);
    if (!(value * 0 === 0)) continue;
    const k = steps === 0 ? 0 : 1;
    sums[k]! += value;
    counts[k]!++;
  }
  return { face: { sum: sums[0]!, count: counts[0]! }, beside: { sum: sums[1]!, count: counts[1]! } };
}

/** The same over all pictures that see the face, between `BESIDE_PX`.
 *  @param face indices among the pixels of all pictures.
 *  @param rise K per pixel. @param variance K²; 0 or NaN = does not count.
 */
export function besideInPictures(
  face: readonly number[],
  pictures: readonly Picture[],
  rise: Float32Array,
  variance: Float32Array,
): FaceAndBeside {
  const sums = { face: 0, beside: 0 };
  const counts = { face: 0, beside: 0 };
  for (const { seen, offset } of pictures) {
    const own = face.map((i) => i - offset);
    const shown = besideFace(own, seen.width, seen.height, ...BESIDE_PX, (i) =>
      variance[offset + i]! > 0 ? rise[offset + i]! : Number.NaN,
    );
    for (const where of ["face", "beside"] as const) {
      sums[where] += shown[where].sum;
      counts[where] += shown[where].count;
    }
  }
  return {
    face: { sum: sums.face, count: counts.face },
    beside: { sum: sums.beside, count: counts.beside },
  };
}

/** True if what a face shows ends at its edge; true as well where nothing beside it tells. */
export function endsAtEdge({ face, beside }: FaceAndBeside): boolean {
  return beside.count === 0 || beside.sum / beside.count < (EDGE_SHARE * face.sum) / face.count;
}
