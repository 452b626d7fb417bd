// numeric: rows and columns of numbers → their weighted sums with a symmetric kernel.

/** Convolve one line with a symmetric kernel. Four results at a time: four sums that need not wait for
 *  each other.
 *  @param line `radius` zeros, the pixels, `radius` zeros. @param half the kernel from its centre outwards.
 *  @param out gets `width` results from `start` on.
 */
export function convolveLine(
  line: Float64Array,
  width: number,
  half: Float64Array,
  out: Float64Array,
  start: number,
): void {
  const radius = half.length - 1;
  const centre = half[0]!;
  let x = 0;
  for (; x + 3 < width; x += 4) {
    const i = x + radius;
    let a = centre * line[i]!;
    let b = centre * line[i + 1]!;
    let c = centre * line[i + 2]!;
    let d = centre * line[i + 3]!;
    for (let j = 1; j <= radius; j++) {
      const weight = half[j]!;
      const before = i - j;
      const after = i + j;
      a += weight * (line[before]! + line[after]!);
      b += weight * (line[before + 1]! + line[after + 1]!);
      c += weight * (line[before + 2]! + line[after + 2]!);
      d += weight * (line[before + 3]! + line[after + 3]!);
    }
    out[start + x] = a;
    out[start + x + 1] = b;
    out[start + x + 2] = c;
    out[start + x + 3] = d;
  }
  for (; x < width; x++) {
    const i = x + radius;
    let sum = centre * line[i]!;
    for (let j = 1; j <= radius; j++) sum += half[j]! * (line[i - j]! + line[i + j]!);
    out[start + x] = sum;
  }
}

/** Convolve all columns at row `y`, four at a time.
 *  @param values height rows and one row of zeros, which stands for all rows outside.
 *  @param half the kernel from its centre outwards. @param sum gets `width` results.
 */
export function sumColumns(
  values: Float64Array,
  width: number,
  height: number,
  y: number,
  half: Float64Array,
  sum: Float64Array,
): void {
  // Rows farther away than the last one on either side hold nothing: the zero that they would add is added once, at the
  // end, since it makes a zero of either sign a positive one.
  const radius = Math.min(half.length - 1, Math.max(y, height - 1 - y));
  const zeros = width * height;
  const row = y * width;
  const centre = half[0]!;
  let x = 0;
  for (; x + 3 < width; x += 4) {
    const i = row + x;
    let a = centre * values[i]!;
    let b = centre * values[i + 1]!;
    let c = centre * values[i + 2]!;
    let d = centre * values[i + 3]!;
    for (let j = 1; j <= radius; j++) {
      const weight = half[j]!;
      const above = y >= j ? i - j * width : zeros + x;
      const below = y + j < height ? i + j * width : zeros + x;
      a += weight * (values[above]! + values[below]!);
      b += weight * (values[above + 1]! + values[below + 1]!);
      c += weight * (values[above + 2]! + values[below + 2]!);
      d += weight * (values[above + 3]! + values[below + 3]!);
    }
    sum[x] = a + 0;
    sum[x + 1] = b + 0;
    sum[x + 2] = c + 0;
    sum[x + 3] = d + 0;
  }
  for (; x < width; x++) {
    let total = centre * values[row + x]!;
    for (let j = 1; j <= radius; j++) {
      const above = y >= j ? row - j * width : zeros;
      const below = y + j < height ? row + j * width : zeros;
      total += half[j]! * (values[above + x]! + values[below + x]!);
    }
    sum[x] = total + 0;
  }
}
