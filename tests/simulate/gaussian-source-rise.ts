// Power, plate and spread of a source, and seconds since power-on → its rise, by the closed form that the curves of
// growth are shapes of.

/** Rise at the centre of a Gaussian source on an infinite thin plate without loss, K: P/(4πkd)·ln(1 + 2αt/s²).
 *  Follows from the instantaneous line source of Carslaw & Jaeger 1959, §10.3 (section from memory) by integration over
 *  the source and over time.
 *  @param conductanceWPerK k·d of the plate.
 *  @param diffusivityM2PerS α = k/ρc.
 *  @param spreadM standard deviation of the source, m.
 */
export function gaussianSourceRise(
  powerW: number,
  conductanceWPerK: number,
  diffusivityM2PerS: number,
  spreadM: number,
  elapsedS: number,
): number {
  const scaleS = (spreadM * spreadM) / (2 * diffusivityM2PerS);
  return (powerW / (4 * Math.PI * conductanceWPerK)) * Math.log1p(elapsedS / scaleS);
}
