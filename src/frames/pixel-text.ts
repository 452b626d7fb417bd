// frames: the number of a pixel → its place in words.

/** Say where a pixel is: `[x, y]`, from 0. @param index in reading order. */
export function pixelText(index: number, width: number): string {
  return `[${index % width}, ${Math.floor(index / width)}]`;
}
