// sources: a set of pixels → the pixels around it, each with how many steps away it is.

/** Walk outwards from some pixels; pixels that share an edge are one step apart.
 *  @param start indices into width × height, row-major; those outside are passed over.
 *  @param most steps to go.
 *  @returns pixel → steps, 0 for those of the start.
 */
export function stepsAround(
  start: Iterable<number>,
  width: number,
  height: number,
  most: number,
): Map<number, number> {
  const size = width * height;
  const out = new Map<number, number>();
  for (const i of start) if (i >= 0 && i < size) out.set(i, 0);
  // A map hands out what is added while it is walked through, in the order of adding.
  for (const [i, steps] of out) {
    if (steps === most) break;
    const x = i % width;
    const beside = [x > 0 ? i - 1 : -1, x < width - 1 ? i + 1 : -1, i - width, i + width];
    for (const k of beside) if (k >= 0 && k < size && !out.has(k)) out.set(k, steps + 1);
  }
  return out;
}
