// simulate: temperature → radiance in the 8–14 µm band, and back.
// Written from Planck's law for the simulator alone; the tool has its own.

const FIRST_C = -60;
const STEP_K = 0.05;
const STEPS = 6400;
const INVERSE_STEPS = 16384;

/** Radiance of a black body in a band, W/m²sr, by Simpson's rule on Planck's law.
 *  @param temperatureK absolute temperature, K.
 */
export function planckBand(temperatureK: number, fromM = 8e-6, toM = 14e-6, panels = 64): number {
  const c1L = 1.191042972e-16; // 2hc², W m²/sr
  const c2 = 1.438776877e-2; // hc/k, m K
  const spectral = (m: number): number => c1L / (m ** 5 * Math.expm1(c2 / (m * temperatureK)));
  const width = (toM - fromM) / panels;
  let sum = spectral(fromM) + spectral(toM);
  for (let i = 1; i < panels; i++) sum += spectral(fromM + i * width) * (i % 2 === 1 ? 4 : 2);
  return (sum * width) / 3;
}

const forward = new Float64Array(STEPS + 1);
for (let i = 0; i <= STEPS; i++) forward[i] = planckBand(273.15 + FIRST_C + i * STEP_K);
const lowest = forward[0]!;
const highest = forward[STEPS]!;
const inverseStep = (highest - lowest) / INVERSE_STEPS;
const inverse = new Float64Array(INVERSE_STEPS + 1);
for (let i = 0, j = 0; i <= INVERSE_STEPS; i++) {
  const target = lowest + i * inverseStep;
  while (j < STEPS - 1 && forward[j + 1]! < target) j++;
  inverse[i] = FIRST_C + (j + (target - forward[j]!) / (forward[j + 1]! - forward[j]!)) * STEP_K;
}

/** Band radiance of a black body at a temperature in °C, W/m²sr (table, error below 10 µK). */
export function radianceOf(temperatureC: number): number {
  const place = (temperatureC - FIRST_C) / STEP_K;
  const i = Math.floor(place);
  if (!(i >= 0 && i < STEPS)) throw new RangeError(`${temperatureC} °C is outside the radiance table`);
  const low = forward[i]!;
  return low + (forward[i + 1]! - low) * (place - i);
}

/** Temperature in °C of a black body with a band radiance: what a camera set to ε = 1 shows. */
export function temperatureOf(radiance: number): number {
  const place = (radiance - lowest) / inverseStep;
  const i = Math.floor(place);
  if (!(i >= 0 && i < INVERSE_STEPS))
    throw new RangeError(`${radiance} W/m²sr is outside the radiance table`);
  const low = inverse[i]!;
  return low + (inverse[i + 1]! - low) * (place - i);
}
