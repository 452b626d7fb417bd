// place: what a placing comes to → the first reason not to rely on it, or none.
import type { InnerEvidence } from "./inner-evidence.js";
import type { PlaceNewOptions } from "./place-new-defaults.js";

/** Why a view is not relied on: `nothing` no edge agrees; `unsettled` the steps did not end; `loose` its uncertainty is
 *  too large; `unseen` too little of the board is in the frame; `outline` the outline does not fit; `inside` the
 *  outline may fit, but what lies on the board does not; `half`, `quarter`, `over`: the board seems to lie that way.
 */
export type PlaceDoubt =
  | "nothing"
  | "unsettled"
  | "loose"
  | "unseen"
  | "outline"
  | "inside"
  | "half"
  | "quarter"
  | "over";

/** What a placing is judged by. */
export interface PlaceSigns {
  /** The steps that refined it ended. */
  readonly converged: boolean;
  /** Standard error over the board. */
  readonly sigmaPx: number;
  /** Share of the board's edges that the later frame sees. */
  readonly seenShare: number;
  /** Mean squared correlation along the outline; NaN where too little of it is seen. */
  readonly outline: number;
  readonly inner: InnerEvidence;
}

/** Judge a placing. Of the ways in which a board can lie wrongly, one that what lies on it speaks for is named first.
 *  @returns null where it can be relied on.
 */
export function placeDoubt(
  { converged, sigmaPx, seenShare, outline, inner }: PlaceSigns,
  o: Pick<PlaceNewOptions, "leastSeen" | "leastInnerZ" | "leastLeadZ" | "leastOutline" | "trustedPx">,
): PlaceDoubt | null {
  if (seenShare < o.leastSeen) return "unseen";
  const fits = outline >= o.leastOutline;
  const leads = inner.rivalZ > Math.max(o.leastInnerZ, inner.z + o.leastLeadZ);
  if (inner.rival !== null && leads && fits) return inner.rival;
  if (!converged) return "unsettled";
  if (!(sigmaPx <= o.trustedPx)) return "loose";
  if (!fits) return "outline";
  return inner.z >= o.leastInnerZ && inner.z >= inner.rivalZ + o.leastLeadZ ? null : "inside";
}
