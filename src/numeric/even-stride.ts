// numeric: size of a picture → a step through its pixels that takes an even sample of all rows and columns.

/** Find the step from pixel to pixel, in reading order, that visits at most so many.
 *  It has no factor in common with the width: the sample would sit in some columns, and their pattern alone, else.
 *  @returns 1 where the picture has no more pixels than that.
 */
export function evenStride(pixels: number, width: number, most: number): number {
  let step = Math.max(1, Math.ceil(pixels / most));
  while (commonFactor(step, width) > 1) step++;
  return step;
}

function commonFactor(a: number, b: number): number {
  return b === 0 ? a : commonFactor(b, a % b);
}
