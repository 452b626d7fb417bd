// sources: what a fit leaves → by how much its χ² overstates the evidence.
import { sharedKernels } from "../numeric/kernels.js";
import type { PictureSize } from "./picture.js";

/** Side of the blocks, px: beyond it what the fit leaves hardly hangs together. */
const BLOCK_PX = 6;
/** Blocks left out at the top: a source not yet found must not hide itself by raising the scale. */
const TRIM_SHARE = 0.1;
/** Mean of χ² with one degree of freedom below its 90 % point, 2.706: P(χ²₃ < 2.706) ÷ 0.9. */
const TRIMMED_MEAN = 0.6232;

/** Mean squared block sum of the standardised residual, per pixel; 1 for white noise of the stated variance, more
 *  where neighbouring pixels err together or the model is wrong. Evidence is χ² divided by this.
 *  @param residual K per pixel, NaN = left out; not modified.
 *  @param variance K² per pixel; not modified.
 *  @returns at least 1.
 */
export function residualScale(
  residual: Float32Array,
  variance: Float32Array,
  pictures: readonly PictureSize[],
): number {
  return scaleOf(blockEnergies(residual, variance, pictures));
}

/** Squared sum of the standardised residual over each block, per pixel.
 *  @returns in no particular order; blocks mostly left out are not among them.
 */
export function blockEnergies(
  residual: Float32Array,
  variance: Float32Array,
  pictures: readonly PictureSize[],
): number[] {
  const energies: number[] = [];
  for (const picture of pictures) addBlocks(residual, variance, picture, energies);
  return energies;
}

/** The scale from the energies of all blocks.
 *  @returns at least 1.
 */
export function scaleOf(blocks: readonly number[]): number {
  if (blocks.length < 8) return 1;
  const energies = [...blocks].sort((a, b) => a - b);
  const kept = Math.floor(energies.length * (1 - TRIM_SHARE));
  let total = 0;
  for (let k = 0; k < kept; k++) total += energies[k]!;
  return Math.max(1, total / kept / TRIMMED_MEAN);
}

function addBlocks(
  residual: Float32Array,
  variance: Float32Array,
  { width, height, offset }: PictureSize,
  energies: number[],
): void {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const n = width * height;
    const [left, noise] = [residual, variance].map((all) => kernels.put(all.subarray(offset, offset + n)));
    const blocks = Math.ceil(width / BLOCK_PX) * Math.ceil(height / BLOCK_PX);
    const to = kernels.take(8 * blocks);
    const count = kernels.run.blockEnergies(left!, noise!, width, height, BLOCK_PX, to);
    for (const energy of kernels.doubles(to, count)) energies.push(energy);
    return;
  }
  for (let y0 = 0; y0 < height; y0 += BLOCK_PX) {
    for (let x0 = 0; x0 < width; x0 += BLOCK_PX) {
      let sum = 0;
      let count = 0;
      for (let y = y0; y < Math.min(height, y0 + BLOCK_PX); y++) {
        for (let x = x0; x < Math.min(width, x0 + BLOCK_PX); x++) {
          const i = offset + y * width + x;
          const z = residual[i]! / Math.sqrt(variance[i]!);
          if (!(z * 0 === 0)) continue;
          sum += z;
          count++;
        }
      }
      if (count >= (BLOCK_PX * BLOCK_PX) / 2) energies.push((sum * sum) / count);
    }
  }
}
