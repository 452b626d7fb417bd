// rise: aligned pair → how much warmer each point of the scene became, in the baseline's pixel grid.
import { affineOf, isStill, type RigidTransform } from "../align/rigid-transform.js";
import type { SeparatedFrame } from "../align/separate-pattern.js";
import { ToolError } from "../core/errors.js";
import { createRaster, type Raster } from "../core/raster.js";
import { kernelsFor } from "../numeric/kernels.js";
import { copyInto, subtractPixels } from "../numeric/pixel-arithmetic.js";
import { warpRaster } from "../numeric/warp.js";
import { warpAt } from "../numeric/warp-by-kernel.js";

/** Subtract the baseline from the powered frame, each part where it belongs.
 *  The sensor's pattern is subtracted where the sensor has it, in the powered frame as it is; what remains is
 *  brought back to the baseline and the scene is subtracted there. Without movement this is the plain difference.
 *  @param baseline scene (°C) and pattern (K) of the baseline, width×height; not modified.
 *  @param powered °C, same shape, NaN = no reading; not modified.
 *  @param transform how content moved from baseline to powered.
 *  @param into numbers of a picture of this shape that nobody needs any more: the result takes their place; null: it is
 *  new.
 *  @returns K, same shape; NaN where either has no reading or the content left the frame.
 *  @throws ToolError E_FRAME_SIZE if shapes differ.
 */
export function subtractFrames(
  baseline: SeparatedFrame,
  powered: Raster<"degC">,
  transform: RigidTransform,
  into: Float32Array | null = null,
): Raster<"K"> {
  const { scene, pattern } = baseline;
  const { width, height } = scene;
  if (powered.width !== width || powered.height !== height) {
    throw new ToolError("E_FRAME_SIZE", {
      problem: `the baseline is ${width}×${height} but the powered frame is ${powered.width}×${powered.height}`,
      fix: "Export both frames at the same resolution",
    });
  }
  const still = isStill(transform);
  const matrix = affineOf(transform, scene);
  const n = width * height;
  const kernels = kernelsFor(n);
  if (kernels !== null) {
    const [seen, taken] = [kernels.put(powered.data), kernels.put(pattern.data)];
    kernels.run.subtract(seen, taken, n, seen);
    const back = still ? seen : warpAt(kernels, seen, width, height, matrix, "spline");
    kernels.run.subtract(back, kernels.put(scene.data), n, back);
    return createRaster("K", width, height, copyInto(kernels.floats(back, n), into));
  }
  const withoutPattern = subtractPixels(powered.data, pattern.data);
  const back = still
    ? withoutPattern
    : warpRaster(withoutPattern, width, height, matrix, { order: "spline" });
  return createRaster("K", width, height, copyInto(subtractPixels(back, scene.data), into));
}
