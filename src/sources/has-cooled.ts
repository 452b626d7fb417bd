// sources: what a fit leaves on a face → whether the face got cooler.
import type { Candidate } from "./source-model.js";

/** When a face counts as cooled. */
export interface CooledBar {
  /** So many pixels, and this share of the face, below minus this many sigma. */
  readonly cooledSigma: number;
  readonly cooledPixels: number;
  readonly cooledShare: number;
}

/** True if a part in view got cooler than all that was found explains.
 *  @param residual K per pixel; not modified.
 *  @param variance K² per pixel; not modified.
 */
export function hasCooled(
  { body }: Candidate,
  residual: Float32Array,
  variance: Float32Array,
  bar: CooledBar,
): boolean {
  if (body === null) return false;
  let face = 0;
  let below = 0;
  for (let k = 0; k < body.values.length; k++) {
    const i = body.at![k]!;
    const z = residual[i]! / Math.sqrt(variance[i]!);
    if (body.values[k]! < 0.5 || !(z * 0 === 0)) continue;
    face++;
    if (z < -bar.cooledSigma) below++;
  }
  return below >= Math.max(bar.cooledPixels, bar.cooledShare * face);
}
