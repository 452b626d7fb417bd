// compare: the rectangles that hold two parts → whether one lies over the other, and how far apart they are.
import type { PartFindings } from "../findings/parts-schema.js";

type Bounded = Pick<PartFindings, "boundsMm">;

/** True if the rectangles have some area in common. */
export function overlaps({ boundsMm: a }: Bounded, { boundsMm: b }: Bounded): boolean {
  return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
}

/** Distance between the rectangles, mm; 0 where they meet. */
export function distanceApartMm({ boundsMm: a }: Bounded, { boundsMm: b }: Bounded): number {
  const x = Math.max(0, a[0] - b[2], b[0] - a[2]);
  const y = Math.max(0, a[1] - b[3], b[1] - a[3]);
  return Math.hypot(x, y);
}
