// page: number of attempts and the room for them → the size of an attempt's small board, and of the gap in which
// changes stand.
import { letterScale } from "../show/letter-scale.js";

/** Sizes beside letters of a laptop, px. */
const LAPTOP = Object.freeze({ width: 300, height: 220, gap: 190 });

/** A board that is smaller than this share of its size shows too little, and words no longer fit between two; one that
 *  is larger than this is none to be seen beside others. */
const LEAST_SHARE = 0.6;
const MOST_SHARE = 1.5;

/** All in px. */
export type CardSize = Readonly<Record<keyof typeof LAPTOP, number>>;

/** Tell the size of a card: it grows with the letters under it, and is as large as lets all be seen at a time, within
 *  bounds; more are scrolled.
 *  @param roomPx for all of them; 0: not known yet. */
export function cardSize(count: number, roomPx: number): CardSize {
  const letters = letterScale();
  const wanted = letters * (count * LAPTOP.width + (count - 1) * LAPTOP.gap);
  const fitting = roomPx === 0 ? 1 : Math.min(MOST_SHARE, Math.max(LEAST_SHARE, roomPx / wanted));
  const scale = letters * fitting;
  return { width: LAPTOP.width * scale, height: LAPTOP.height * scale, gap: LAPTOP.gap * scale };
}
