// evaluate: complex numbers → their Fourier transform, for the plain chain alone.

/** Transform a power-of-two line in place; `inverse` without the division by n. */
function transformLine(re: Float64Array, im: Float64Array, inverse: boolean): void {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; (j & bit) !== 0; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      [re[i], re[j]] = [re[j]!, re[i]!];
      [im[i], im[j]] = [im[j]!, im[i]!];
    }
  }
  for (let size = 2; size <= n; size <<= 1) {
    const step = ((inverse ? 2 : -2) * Math.PI) / size;
    const half = size >> 1;
    for (let k = 0; k < half; k++) {
      const c = Math.cos(step * k);
      const s = Math.sin(step * k);
      for (let a = k; a < n; a += size) {
        const b = a + half;
        const x = re[b]! * c - im[b]! * s;
        const y = re[b]! * s + im[b]! * c;
        re[b] = re[a]! - x;
        im[b] = im[a]! - y;
        re[a] = re[a]! + x;
        im[a] = im[a]! + y;
      }
    }
  }
}

/** Transform a picture in place, rows then columns; both sides powers of two. */
export function transformPicture(
  re: Float64Array,
  im: Float64Array,
  width: number,
  height: number,
  inverse: boolean,
): void {
  for (let j = 0; j < height; j++) {
    transformLine(re.subarray(j * width, (j + 1) * width), im.subarray(j * width, (j + 1) * width), inverse);
  }
  const columnRe = new Float64Array(height);
  const columnIm = new Float64Array(height);
  for (let i = 0; i < width; i++) {
    for (let j = 0; j < height; j++) {
      columnRe[j] = re[j * width + i]!;
      columnIm[j] = im[j * width + i]!;
    }
    transformLine(columnRe, columnIm, inverse);
    for (let j = 0; j < height; j++) {
      re[j * width + i] = columnRe[j]!;
      im[j * width + i] = columnIm[j]!;
    }
  }
}
