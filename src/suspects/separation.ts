// suspects: two things that may be behind a hotspot and a way to capture it → how often the one passes for the other.
import { raiseTo } from "../core/raise-to.js";
import { normalTail } from "../numeric/normal-distribution.js";
import type { Hypothesis, OpenQuestion } from "./open-question.js";

/** How sharp and how strong a capture shows heat, in terms of the one at hand. */
export interface Sharpness {
  /** Gaussian width of the spot, mm. */
  readonly widthMm: number;
  /** Peak ÷ noise. */
  readonly significance: number;
  readonly mmPerPx: number;
}

/** Error of a place in noise: this × width ÷ significance, for a spot of a thin plate (1.0–1.2, Thompson, Larson & Webb
 *  2002 for a Gaussian one). */
const PLACE_BY_NOISE = 1.2;
/** … and by uneven copper and the part's own shape: this share of the width (measured on simulated boards). */
const PLACE_BY_SHAPE = 0.05;
/** Even odds in one capture are no proof that none can tell the two apart: they overlap by no more than this. */
const MOST_OVERLAP = 0.95;
const LEAST_OVERLAP = 0.02;
/** What the map lies beside the picture, px, and the heat off a part's centre, as a share of its radius. */
const MAP_PX = 0.3;
const OFF_CENTRE = 0.4;
/** Two Gaussians of one width σ at a distance d overlap by exp(−d²/8σ²) (Bhattacharyya's coefficient, the integral of
 *  √(p·q)). */
const OVERLAP = 8;

/** Say how often one hypothesis would be taken for the other after a capture of a given sharpness, as a share of how
 *  often it would be taken for itself: 0 = never, 1 = as often.
 *  What the frames at hand left open tells how much the two overlap now: as odds, the root of p₁ ÷ p₂. Errors of place
 *  that shrink by a factor f raise the overlap to the power of 1/f², as that of two Gaussians. Places that differ by
 *  less than what map and part leave unsure stay alike in any picture.
 */
export function alikeAfter(q: OpenQuestion, a: Hypothesis, b: Hypothesis, after: Sharpness): number {
  const less = Math.min(a.probability, b.probability);
  const more = Math.max(a.probability, b.probability);
  const now = Math.min(MOST_OVERLAP, Math.max(LEAST_OVERLAP, Math.sqrt(less / more)));
  const factor = placeErrorMm(after) / placeErrorMm(q);
  return Math.max(mistaken(raiseTo(now, 1 / factor ** 2)), alikeByPlace(a, b, after.mmPerPx));
}

/** How alike two places are once all noise is gone, by the same measure: 1 for parts that lie one over the other. */
export function alikeByPlace(a: Hypothesis, b: Hypothesis, mmPerPx: number): number {
  const unsureMm = Math.hypot(MAP_PX * mmPerPx, OFF_CENTRE * Math.min(a.radiusMm, b.radiusMm));
  return mistaken(Math.exp(-(distanceMm(a, b) ** 2) / (OVERLAP * unsureMm * unsureMm)));
}

/** Wrong answers ÷ right ones where the nearer of two Gaussians of one width is taken, by their overlap. */
function mistaken(overlap: number): number {
  const wrong = normalTail(Math.sqrt(-2 * Math.log(Math.max(overlap, 1e-300))));
  return wrong / (1 - wrong);
}

/** Distance of the centres, mm. */
export function distanceMm(a: Hypothesis, b: Hypothesis): number {
  return Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]);
}

function placeErrorMm({ widthMm, significance }: Sharpness): number {
  return widthMm * Math.hypot(PLACE_BY_NOISE / Math.max(1, significance), PLACE_BY_SHAPE);
}
