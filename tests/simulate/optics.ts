// simulate: fine samples of the radiance → pixels, blurred by the optics and summed over each pixel's width.

/** Blur by a Gaussian and take the mean of the samples of each pixel. Beyond the border the last sample goes on.
 *  The blur and the pixel's own width are one kernel, applied along rows, then along columns.
 *  @param fine samples a pixel, each way.
 *  @param blurPx standard deviation of the optics' blur, px.
 */
export function blurAndBin(
  samples: Float32Array,
  width: number,
  height: number,
  fine: number,
  blurPx: number,
): Float32Array {
  const { kernel, radius } = pixelKernel(fine, blurPx * fine);
  const length = kernel.length;
  const w = width * fine;
  const h = height * fine;
  const rows = new Float32Array(width * h);
  const padded = new Float64Array(w + 2 * radius);
  for (let j = 0; j < h; j++) {
    const first = j * w;
    padded.fill(samples[first]!, 0, radius);
    for (let i = 0; i < w; i++) padded[radius + i] = samples[first + i]!;
    padded.fill(samples[first + w - 1]!, radius + w);
    for (let i = 0, at = 0; i < width; i++, at += fine) {
      let sum = 0;
      for (let d = 0; d < length; d++) sum += kernel[d]! * padded[at + d]!;
      rows[j * width + i] = sum;
    }
  }
  const out = new Float32Array(width * height);
  const line = new Float64Array(width);
  for (let j = 0; j < height; j++) {
    line.fill(0);
    for (let d = 0; d < length; d++) {
      const y = Math.max(0, Math.min(h - 1, j * fine + d - radius)) * width;
      const weight = kernel[d]!;
      for (let i = 0; i < width; i++) line[i] = line[i]! + weight * rows[y + i]!;
    }
    out.set(line, j * width);
  }
  return out;
}

/** Gaussian ∗ box of one pixel, on samples; element d belongs to sample d − radius of the pixel's first. */
function pixelKernel(fine: number, sigma: number): { kernel: Float64Array; radius: number } {
  const radius = Math.ceil(3.5 * sigma);
  const kernel = new Float64Array(2 * radius + fine);
  let total = 0;
  for (let a = 0; a < fine; a++) {
    for (let d = -radius; d <= radius; d++) {
      const value = Math.exp(-(d * d) / (2 * sigma * sigma));
      kernel[a + d + radius] = kernel[a + d + radius]! + value;
      total += value;
    }
  }
  return { kernel: kernel.map((value) => value / total), radius };
}

/** Add a halo: a share of each pixel's light is spread over its surroundings by a Gaussian. */
export function addHalo(mean: Float32Array, width: number, height: number, share: number, px: number): void {
  const wide = blurAndBin(mean, width, height, 1, px);
  for (let k = 0; k < mean.length; k++) mean[k] = (1 - share) * mean[k]! + share * wide[k]!;
}
