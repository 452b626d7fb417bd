// page: – → the size of an attempt's small board, and of the gap in which changes stand.
import { letterScale } from "../show/letter-scale.js";

/** Sizes beside letters of a laptop, px. */
const LAPTOP = Object.freeze({ width: 300, height: 220, gap: 190 });

/** All in px. */
export type CardSize = Readonly<Record<keyof typeof LAPTOP, number>>;

/** Tell the size of a card: it grows with the letters under it. */
export function cardSize(): CardSize {
  const scale = letterScale();
  return { width: LAPTOP.width * scale, height: LAPTOP.height * scale, gap: LAPTOP.gap * scale };
}
