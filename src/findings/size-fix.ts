// findings: the sizes of two frames that should be of one → what to do about it.
import type { Raster } from "../core/raster.js";

/** Say what to do about frames of two sizes, by what mostly makes such sizes. */
export function sizeFix(
  first: Pick<Raster, "width" | "height">,
  other: Pick<Raster, "width" | "height">,
): string {
  if (first.width === other.height && first.height === other.width)
    return "One of them lies turned by a quarter: export all frames the same way up";
  const wide = Math.max(first.width, other.width);
  if (first.height === other.height && wide === 2 * Math.min(first.width, other.width))
    return "If commas stand for decimals and between columns in the wider file, export it with decimal points or semicolons; else export all frames at the same resolution";
  if (first.width === other.width)
    return "The file with fewer rows may have been cut off: export it again, and all frames at the same resolution";
  return "Export all frames at the same resolution";
}
