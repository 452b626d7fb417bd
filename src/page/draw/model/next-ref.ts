// page: the refs of a drawing and one to follow → the next ref that is free.
import type { Drawing } from "./drawing.js";

/** Find the ref after one: its letters, and the number after the highest that these letters have. Refs that end in no
 *  number get one: `SHIELD` is followed by `SHIELD2`. */
export function nextRef(drawing: Drawing, ref: string): string {
  const { letters, number } = takeApart(ref);
  let highest = number;
  for (const region of drawing.regions) {
    const other = takeApart(region.ref);
    if (other.letters.toUpperCase() === letters.toUpperCase()) highest = Math.max(highest, other.number);
  }
  return `${letters}${highest + 1}`;
}

function takeApart(ref: string): { letters: string; number: number } {
  const { letters, digits } = /^(?<letters>.*?)(?<digits>\d{0,6})$/s.exec(ref.trim())?.groups ?? {};
  // A ref without a number counts as the first of its kind.
  return { letters: letters || "U", number: digits ? Number(digits) : letters ? 1 : 0 };
}
