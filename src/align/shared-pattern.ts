// align: both frames as cells → how strong the sensor's pattern is that they share.
import { sharedKernels } from "../numeric/kernels.js";
import type { CellPicture } from "./cell-picture.js";

/** Variance of the pattern both pictures share, K², from what pixels clear of edges differ by from the four beside
 *  them; ≥ 0.
 */
export function sharedPattern(a: CellPicture, b: CellPicture, flat: Uint8Array): number {
  const { sum, count } = sharedDetail(a, b, flat);
  // White noise of variance 1 has 1 + 4/16 in such differences.
  return count === 0 ? 0 : Math.max(0, sum / count / 1.25);
}

function sharedDetail(a: CellPicture, b: CellPicture, flat: Uint8Array): { sum: number; count: number } {
  const { width, height } = a;
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [one, other, marked] = [kernels.put(a.data), kernels.put(b.data), kernels.put(flat)];
    const at = kernels.take(8);
    const count = kernels.run.sharedDetail(one, other, width, height, marked, at);
    return { sum: kernels.doubles(at, 1)[0]!, count };
  }
  let sum = 0;
  let count = 0;
  for (let y = 1; y < height - 1; y += 2) {
    for (let i = y * width + 1; i < (y + 1) * width - 1; i++) {
      if (flat[i] === 0) continue;
      const u = a.data[i]! - (a.data[i - 1]! + a.data[i + 1]! + a.data[i - width]! + a.data[i + width]!) / 4;
      const v = b.data[i]! - (b.data[i - 1]! + b.data[i + 1]! + b.data[i - width]! + b.data[i + width]!) / 4;
      const product = u * v;
      if (!(product * 0 === 0)) continue;
      sum += product;
      count++;
    }
  }
  return { sum, count };
}
