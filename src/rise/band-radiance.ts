// rise: a temperature → the radiance in the camera's band, and back.
import { raiseTo } from "../core/raise-to.js";

/** Long-wave band of uncooled cameras, m. */
const FROM_M = 8e-6;
const TO_M = 14e-6;
/** First and second radiation constant (2hc², hc/k), CODATA 2018, W·m²/sr and m·K. */
const C1L = 1.191042972e-16;
const C2 = 1.438776877e-2;
/** 0 °C, K. */
const ZERO_C_K = 273.15;
/** Panels of Simpson's rule: Planck's curve is smooth over the band, and 48 panels leave 1e-8 of it. */
const PANELS = 48;
/** Newton's steps; the radiance is nearly a power of the temperature, so that each doubles the digits. */
const MOST_STEPS = 12;

/** Radiance of a black body between 8 and 14 µm, W/m²sr.
 *  Near 25 °C it goes as the absolute temperature to the power of 4.6, not 4.
 *  Method: Planck's law, composite Simpson's rule.
 *  @param temperatureC above −273.15 °C.
 */
export function bandRadiance(temperatureC: number): number {
  const kelvin = temperatureC + ZERO_C_K;
  const width = (TO_M - FROM_M) / PANELS;
  let sum = 0;
  for (let i = 0; i <= PANELS; i++) {
    const wave = FROM_M + i * width;
    const weight = i === 0 || i === PANELS ? 1 : i % 2 === 1 ? 4 : 2;
    sum += (weight * C1L) / (raiseTo(wave, 5) * Math.expm1(C2 / (wave * kelvin)));
  }
  return (sum * width) / 3;
}

/** Temperature of the black body that has a radiance between 8 and 14 µm, °C: what a camera set to ε = 1 shows.
 *  Method: Newton's, on the logarithms, from 25 °C and the power law there.
 *  @returns NaN for a radiance that is not positive.
 */
export function temperatureOfRadiance(radiance: number): number {
  if (!(radiance > 0)) return Number.NaN;
  const power = 4.6;
  let kelvin = 298.15 * raiseTo(radiance / bandRadiance(25), 1 / power);
  for (let step = 0; step < MOST_STEPS; step++) {
    const here = bandRadiance(kelvin - ZERO_C_K);
    const slope = (Math.log(bandRadiance(kelvin * (1 + 1e-4) - ZERO_C_K)) - Math.log(here)) / 1e-4;
    const change = Math.log(radiance / here) / slope;
    kelvin *= Math.exp(change);
    if (Math.abs(change) < 1e-13) break;
  }
  return kelvin - ZERO_C_K;
}
