// place: two frames → whether they are one and the same.
import type { Raster } from "../core/raster.js";

/** True if every reading is the same; two pixels without a reading are. Noise makes two frames of one scene differ, so
 *  these are one frame that was given twice. */
export function isSameFrame(one: Raster, other: Raster): boolean {
  if (one.width !== other.width || one.height !== other.height) return false;
  const [a, b] = [one.data, other.data];
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i]) && a[i] !== b[i]) return false;
  return true;
}
