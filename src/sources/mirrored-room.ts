// sources: what faces that mirror well show → by how much the room may have changed that a face near them mirrors, blurred.
import { BOARD_FINISH, FINISH_EMISSIVITY } from "../board/emissivity.js";
import type { OptionsOf } from "../core/options.js";
import { contrastOf } from "./face-contrast.js";
import { MIRRORS_WELL, shareOfRoom } from "./mirrored-share.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Defaults of `mirroredRoom` and `roomAround`. */
export const MIRRORED_ROOM_DEFAULTS = Object.freeze({
  /** A face that shows this share of the room tells what stands there. */
  mirrorsFrom: MIRRORS_WELL,
  /** Mask, plastic and ceramic scatter what they mirror: a hand or head about twice as wide in each direction … */
  softShare: 0.25,
  /** … and so as far as this, standard deviation in widths of the picture, from where a mirror shows it. With both
   *  quarters unpowered boards with undeclared bare metal went from 41 to 47 of 48 quiet, and no fault of 200 was lost; neither
   *  was varied (record 161). */
  reachWidths: 0.25,
});

/** What one mirror shows. */
export interface MirroredRoom {
  readonly region: number;
  readonly picture: number;
  /** Where, in widths of that picture. */
  readonly at: readonly [number, number];
  /** By how much the room changed that it shows, K: at most, over its face. */
  readonly changeK: number;
}

/** Read the room's change off the named faces that mirror, by the map or by how they looked in the baseline.
 *  A face tells only of its own place: a hand above one shiny part is no change of the whole room.
 *  @param rise K per pixel of all pictures, the heat found taken off; not modified.
 */
export function mirroredRoom(
  { pictures, candidates }: Pick<SourceModel, "pictures" | "candidates">,
  rise: Float32Array,
  options: OptionsOf<typeof MIRRORED_ROOM_DEFAULTS> = {},
): MirroredRoom[] {
  const o = { ...MIRRORED_ROOM_DEFAULTS, ...options };
  return pictures.flatMap((picture, index) => {
    const { width, height } = picture.seen;
    const own = rise.subarray(picture.offset, picture.offset + width * height);
    return candidates.flatMap((candidate): MirroredRoom[] => {
      if (candidate.side !== picture.view.side) return [];
      const share = shareOfRoom(candidate);
      const change = share < o.mirrorsFrom ? null : contrastOf(picture, candidate.polygon, own);
      if (change === null) return [];
      const [x, y] = picture.view.toFrame(candidate.at);
      return [
        {
          region: candidate.region,
          picture: index,
          at: [x / width, y / width],
          changeK: (Math.abs(change.level) + change.spread / 2) / share,
        },
      ];
    });
  });
}

/** How much the room may have changed that a face mirrors: what all faces together tell, or what the mirrors near it show.
 *  @param mirrors the candidate's own face left aside.
 *  @param roomK what all faces together tell, K.
 */
export function roomAround(
  model: Pick<SourceModel, "pictures">,
  candidate: Candidate,
  mirrors: readonly MirroredRoom[],
  roomK: number,
  options: OptionsOf<typeof MIRRORED_ROOM_DEFAULTS> = {},
): number {
  const o = { ...MIRRORED_ROOM_DEFAULTS, ...options };
  const others = mirrors.filter(({ region }) => region !== candidate.region);
  const inView = others.filter(({ picture }) => model.pictures[picture]!.view.side === candidate.side);
  return Math.hypot(roomK, o.softShare * mostShown(model, candidate, inView, o));
}

/** How high a hill the board's finish may show around a candidate, on either side of the board, where it mirrors what the
 *  mirrors near it show: K. */
export function mirroredHillK(
  model: Pick<SourceModel, "pictures">,
  candidate: Candidate,
  mirrors: readonly MirroredRoom[],
  options: OptionsOf<typeof MIRRORED_ROOM_DEFAULTS> = {},
): number {
  const o = { ...MIRRORED_ROOM_DEFAULTS, ...options };
  return (
    (1 - FINISH_EMISSIVITY[BOARD_FINISH].emissivity) * o.softShare * mostShown(model, candidate, mirrors, o)
  );
}

/** The most that mirrors show, each the less the further off it is, K. */
function mostShown(
  { pictures }: Pick<SourceModel, "pictures">,
  candidate: Candidate,
  mirrors: readonly MirroredRoom[],
  o: { readonly reachWidths: number },
): number {
  let most = 0;
  for (const { picture, at, changeK } of mirrors) {
    const { view, seen } = pictures[picture]!;
    const [x, y] = view.toFrame(candidate.at);
    const away = Math.hypot(x / seen.width - at[0], y / seen.width - at[1]);
    most = Math.max(most, changeK * Math.exp(-0.5 * (away / o.reachWidths) ** 2));
  }
  return most;
}
