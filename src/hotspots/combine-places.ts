// hotspots: place of a source in all frames and in the early ones → one place, the pull of uneven copper weighed
// against noise.
import { framePoint } from "../core/units.js";
import type { LocatedSource } from "./locate-source.js";

/** Combine the place of a source in the rise of a whole burst with that in its first frames.
 *  The whole burst is less noisy; but heat that has spread is drawn towards where the board conducts worse, and the
 *  early frames have less of that. How far it was drawn is not known, but the two places differ by it and by noise: of
 *  their difference squared, what the noise leaves unexplained is taken for its square, b². The mean with the least
 *  expected square error gives the early place the share (b² + σ²)/(b² + σ² + σₑ²).
 *  Early frames that show no spot, or one further away than the spot is wide (an edge, another part), say nothing.
 *  @returns the combined place, the noise of it, and the width in the whole burst.
 */
export function combinePlaces(whole: LocatedSource, early: LocatedSource): LocatedSource {
  const dx = early.at[0] - whole.at[0];
  const dy = early.at[1] - whole.at[1];
  if (early.widthPx === null || Math.hypot(dx, dy) > (whole.widthPx ?? Number.POSITIVE_INFINITY))
    return whole;
  const noise2 = whole.sigmaPx ** 2;
  const early2 = early.sigmaPx ** 2;
  // Along each axis; the same share for both keeps the place on the line between the two. Noise explains twice what it
  // makes on average: a difference that comes by chance is not taken for a pull.
  const pull2 = Math.max(0, (dx * dx + dy * dy) / 2 - 2 * (noise2 + early2));
  const share = (pull2 + noise2) / (pull2 + noise2 + early2);
  return {
    at: framePoint(whole.at[0] + share * dx, whole.at[1] + share * dy),
    sigmaPx: Math.sqrt((1 - share) ** 2 * noise2 + share ** 2 * early2),
    widthPx: whole.widthPx ?? early.widthPx,
  };
}
