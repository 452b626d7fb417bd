// numeric: values → the nearest ones that never fall.

/** Find the nearest values, by least squares, that never fall: neighbours that do are pooled (Ayer et al. 1955, Ann.
 *  Math. Stat. 26:641, from memory).
 *  @param values of equal weight; not modified. @returns as many.
 */
export function risingOnly(values: Float64Array): Float64Array {
  const means: number[] = [];
  const sizes: number[] = [];
  for (const value of values) {
    means.push(value);
    sizes.push(1);
    while (means.length > 1 && means[means.length - 2]! > means[means.length - 1]!) {
      const size = sizes.pop()!;
      const mean = means.pop()!;
      const last = sizes.length - 1;
      means[last] = (means[last]! * sizes[last]! + mean * size) / (sizes[last]! + size);
      sizes[last]! += size;
    }
  }
  return Float64Array.from(means.flatMap((mean, k) => new Array<number>(sizes[k]!).fill(mean)));
}
