// sources: what faces that mirror well show → by how much the room may have changed that a face near them mirrors,
// blurred.
import { BOARD_FINISH, FINISH_EMISSIVITY } from "../board/emissivity.js";
import type { OptionsOf } from "../core/options.js";
import { contrastOf } from "./face-contrast.js";
import { MIRRORS_WELL, shareOfRoom } from "./mirrored-share.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Defaults of what is made of the mirrors that `mirroredRoom` reads. */
export const MIRRORED_ROOM_DEFAULTS = Object.freeze({
  /** Mask, plastic and ceramic scatter what they mirror: a hand or head about twice as wide in each direction … */
  softShare: 0.25,
  /** … and so as far as this, standard deviation in widths of the picture, from where a mirror shows it. With both
   *  quarters unpowered boards with undeclared bare metal went from 41 to 47 of 48 quiet, and no fault of 200 was lost;
   *  neither was varied (record 161). */
  reachWidths: 0.25,
  /** What a mirror may show of a room that did not change, K: the board's level is known to 0.03 to 0.05 K (record
   *  312), and faces are not quite level. A judgement. */
  levelErrorK: 0.2,
  /** How alike two faces at one place show the room: they lie and scatter otherwise. A judgement. */
  alikeAtOnce: 0.9,
});

/** What one mirror shows. */
export interface MirroredRoom {
  readonly region: number;
  readonly picture: number;
  /** Where, in widths of that picture. */
  readonly at: readonly [number, number];
  /** By how much the room changed that it shows, K: at most, over its face. */
  readonly changeK: number;
  /** By how much it got warmer anywhere on its face, K; 0 where all of it got cooler. */
  readonly warmedK: number;
  /** By how much it changed over most of its face, K; negative where it got cooler. */
  readonly levelK: number;
}

/** Read the room's change off the named faces that mirror well, by the map or by how they looked in the baseline.
 *  A face tells only of its own place: a hand above one shiny part is no change of the whole room.
 *  @param rise K per pixel of all pictures, the heat found taken off; not modified.
 */
export function mirroredRoom(
  { pictures, candidates }: Pick<SourceModel, "pictures" | "candidates">,
  rise: Float32Array,
): MirroredRoom[] {
  return pictures.flatMap((picture, index) => {
    const { width, height } = picture.seen;
    const own = rise.subarray(picture.offset, picture.offset + width * height);
    return candidates.flatMap((candidate): MirroredRoom[] => {
      if (candidate.side !== picture.view.side) return [];
      const share = shareOfRoom(candidate);
      const change = share < MIRRORS_WELL ? null : contrastOf(picture, candidate.polygon, own);
      if (change === null) return [];
      const [x, y] = picture.view.toFrame(candidate.at);
      return [
        {
          region: candidate.region,
          picture: index,
          at: [x / width, y / width],
          changeK: (Math.abs(change.level) + change.spread / 2) / share,
          warmedK: Math.max(0, change.level + change.spread / 2) / share,
          levelK: change.level / share,
        },
      ];
    });
  });
}

/** How much the room may have changed that a face mirrors: what all faces together tell, or what the mirrors near it
 *  show.
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

/** How probable it is that the room which a face mirrors got warmer and not cooler, by the mirror near it that shows
 *  most: two places of a Gaussian field that are alike by r have the same sign with ½ + asin(r)/π (W. F. Sheppard 1899,
 *  from memory), the less alike the less what the mirror shows stands above its error.
 *  @param mirrors the candidate's own face left aside.
 */
export function warmerChance(
  model: Pick<SourceModel, "pictures">,
  candidate: Candidate,
  mirrors: readonly MirroredRoom[],
  options: OptionsOf<typeof MIRRORED_ROOM_DEFAULTS> = {},
): number {
  const o = { ...MIRRORED_ROOM_DEFAULTS, ...options };
  let [most, chance] = [0, 0.5];
  for (const mirror of mirrors) {
    const { region, picture, levelK } = mirror;
    if (region === candidate.region || model.pictures[picture]!.view.side !== candidate.side) continue;
    const near = nearness(model, candidate, mirror, o);
    if (near * Math.abs(levelK) <= most) continue;
    most = near * Math.abs(levelK);
    const sure = levelK ** 2 / (levelK ** 2 + o.levelErrorK ** 2);
    chance = 0.5 + (Math.sign(levelK) * Math.asin(o.alikeAtOnce * near * sure)) / Math.PI;
  }
  return chance;
}

/** How high a hill the board's finish may show around a candidate, on either side of the board, where it mirrors what
 *  the mirrors near it show: K. A room that got cooler makes no hill where a mirror shows it, but may have got warmer
 *  further off: by as much, times the part of a Gaussian field's spread that the nearest mirror leaves open.
 */
export function mirroredHillK(
  model: Pick<SourceModel, "pictures">,
  candidate: Candidate,
  mirrors: readonly MirroredRoom[],
  options: OptionsOf<typeof MIRRORED_ROOM_DEFAULTS> = {},
): number {
  const o = { ...MIRRORED_ROOM_DEFAULTS, ...options };
  const near = mirrors.map((mirror) => nearness(model, candidate, mirror, o));
  const open = Math.sqrt(1 - Math.max(0, ...near) ** 2);
  const shownK = mirrors.map(
    ({ changeK, warmedK }, k) => near[k]! * (warmedK > 0 ? changeK : open * changeK),
  );
  return (1 - FINISH_EMISSIVITY[BOARD_FINISH].emissivity) * o.softShare * Math.max(0, ...shownK);
}

/** The most that mirrors show, each the less the further off it is, K. */
function mostShown(
  model: Pick<SourceModel, "pictures">,
  candidate: Candidate,
  mirrors: readonly MirroredRoom[],
  o: { readonly reachWidths: number },
): number {
  return Math.max(0, ...mirrors.map((mirror) => mirror.changeK * nearness(model, candidate, mirror, o)));
}

/** How alike the blurred room is at a candidate and where a mirror shows it, 0…1. */
function nearness(
  { pictures }: Pick<SourceModel, "pictures">,
  candidate: Candidate,
  { picture, at }: MirroredRoom,
  o: { readonly reachWidths: number },
): number {
  const { view, seen } = pictures[picture]!;
  const [x, y] = view.toFrame(candidate.at);
  const away = Math.hypot(x / seen.width - at[0], y / seen.width - at[1]);
  return Math.exp(-0.5 * (away / o.reachWidths) ** 2);
}
