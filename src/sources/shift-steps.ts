// sources: a smooth picture → what it changes by for a pixel's shift along x, along y, and for a turn.
import { sharedKernels } from "../numeric/kernels.js";

/** Half the step over each pixel along x and y, and what a turn about the middle makes of both at the frame's root mean
 *  square arm; 0 at the border and beside missing readings.
 */
export function shiftSteps(smooth: Float32Array, width: number, height: number): Float32Array[] {
  const n = smooth.length;
  const arm = Math.hypot(width, height) / Math.sqrt(12);
  const kernels = sharedKernels();
  if (kernels !== null) {
    const from = kernels.put(smooth);
    const places = [0, 1, 2].map(() => kernels.take(4 * n));
    for (const at of places) kernels.floats(at, n).fill(0);
    kernels.run.shiftSteps(from, width, height, arm, places[0]!, places[1]!, places[2]!);
    return places.map((at) => kernels.floats(at, n).slice());
  }
  const [gx, gy, turn] = [new Float32Array(n), new Float32Array(n), new Float32Array(n)];
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x;
      const dx = 0.5 * (smooth[i + 1]! - smooth[i - 1]!);
      const dy = 0.5 * (smooth[i + width]! - smooth[i - width]!);
      if (!(dx * 0 === 0) || !(dy * 0 === 0)) continue;
      gx[i] = dx;
      gy[i] = dy;
      turn[i] = (dy * (x - (width - 1) / 2) - dx * (y - (height - 1) / 2)) / arm;
    }
  }
  return [gx, gy, turn];
}
