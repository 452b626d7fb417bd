// rise: seconds since a source began to heat → how a spot grows, in no unit.

/** How the height of a spot may grow.
 *  `plate`: the centre of a Gaussian source on a thin plate without loss, ln(1 + t/τ), τ = s²/2α.
 *  `spot`: the same seen against its surroundings (widths s and 2s of the contrast: 3τ), which levels off once the heat
 *  has spread beyond both.
 *  `body`: a body that warms above the board under it, 1 − e^(−t/τ).
 */
export const GROWTH_SHAPES = ["plate", "spot", "body"] as const;
export type GrowthShape = (typeof GROWTH_SHAPES)[number];

/** How much longer the surroundings of a spot take than the spot: (s² + (2s)²)/(s² + (s/√2)²) lies between 3 and 4. */
const SURROUND_RATIO = 3;

/** Growth after a time, in no unit; 0 before the onset.
 *  @param elapsedS seconds since the onset.
 *  @param scaleS τ, s, above 0.
 */
export function growthAt(shape: GrowthShape, elapsedS: number, scaleS: number): number {
  if (!(elapsedS > 0)) return 0;
  const x = elapsedS / scaleS;
  if (shape === "plate") return Math.log1p(x);
  if (shape === "spot") return Math.log((1 + x) / (1 + x / SURROUND_RATIO));
  return -Math.expm1(-x);
}
