// page: rasters of a frame → the same on a grid over the plane that is drawn.
import { sampleBilinear } from "../../numeric/sample-bilinear.js";
import type { Stage } from "./make-stage.js";

/** Rasters over the plane, row-major as they are drawn: the first point is the upper left one on the screen. */
export interface StageGrid {
  readonly width: number;
  readonly height: number;
  readonly layers: readonly Float32Array[];
}

/** Resample rasters of a frame onto a grid over the plane, bilinear between pixel centres.
 *  @param frame width and height of the rasters.
 *  @param longest grid points along the longer side of the plane.
 *  @returns NaN outside the frame, and where all of the pixels around have no reading.
 */
export function resampleView(
  stage: Stage,
  frame: { readonly width: number; readonly height: number },
  layers: readonly Float32Array[],
  longest: number,
): StageGrid {
  const pitch = Math.max(stage.width, stage.height) / longest;
  const width = Math.max(1, Math.round(stage.width / pitch));
  const height = Math.max(1, Math.round(stage.height / pitch));
  const out = layers.map(() => new Float32Array(width * height).fill(Number.NaN));
  const m = stage.matrix;
  const stepX = (stage.isMirrored ? -1 : 1) * (stage.width / width);
  const firstX = (stage.isMirrored ? stage.left + stage.width : stage.left) + stepX / 2;
  const stepY = stage.height / height;
  for (let row = 0, i = 0; row < height; row++) {
    const y = stage.top + (row + 0.5) * stepY;
    for (let column = 0; column < width; column++, i++) {
      const x = firstX + column * stepX;
      const w = m[6]! * x + m[7]! * y + m[8]!;
      const frameX = (m[0]! * x + m[1]! * y + m[2]!) / w;
      const frameY = (m[3]! * x + m[4]! * y + m[5]!) / w;
      // Half a pixel beyond the outer centres still belongs to the frame.
      if (!(frameX >= -0.5 && frameY >= -0.5 && frameX <= frame.width - 0.5 && frameY <= frame.height - 0.5))
        continue;
      const heldX = frameX < 0 ? 0 : Math.min(frame.width - 1, frameX);
      const heldY = frameY < 0 ? 0 : Math.min(frame.height - 1, frameY);
      const x0 = heldX | 0;
      const y0 = heldY | 0;
      const at = y0 * frame.width + x0;
      const right = at + (x0 < frame.width - 1 ? 1 : 0);
      const below = y0 < frame.height - 1 ? frame.width : 0;
      const fx = heldX - x0;
      const fy = heldY - y0;
      for (let layer = 0; layer < layers.length; layer++) {
        const data = layers[layer]!;
        const value =
          (data[at]! * (1 - fx) + data[right]! * fx) * (1 - fy) +
          (data[at + below]! * (1 - fx) + data[right + below]! * fx) * fy;
        out[layer]![i] =
          value * 0 === 0 ? value : sampleBilinear(data, frame.width, frame.height, frameX, frameY);
      }
    }
  }
  return { width, height, layers: out };
}
