// hotspots: a mask of 0 and 1 and a place in it → the next pixel that is 1.
/** The next pixel of a mask after `i`, −1 after the last. Most of a frame is outside, and what is inside lies side by side. */
export function nextInMask(mask: Uint8Array, i: number): number {
  return mask[i + 1] === 1 ? i + 1 : mask.indexOf(1, i + 1);
}
