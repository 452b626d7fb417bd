// kernels: the pixels around a spot. locate-source.ts.
import { expOf } from "./edges";

/** Mean of what is read in a ring, 0 where nothing is. @param data row `y0` of the picture, f32. @param inner2 @param outer2 radii, squared. */
export function ringLevel(
  data: usize,
  width: i32,
  x0: i32,
  x1: i32,
  y0: i32,
  y1: i32,
  cx: f64,
  cy: f64,
  inner2: f64,
  outer2: f64,
): f64 {
  let sum: f64 = 0;
  let count: f64 = 0;
  for (let y = y0; y <= y1; y++, data += <usize>width << 2) {
    const dy = <f64>y - cy;
    for (let x = x0; x <= x1; x++) {
      const dx = <f64>x - cx;
      const r2 = dx * dx + dy * dy;
      const v = <f64>load<f32>(data + (<usize>x << 2));
      if (r2 < inner2 || r2 > outer2 || !(v * 0 == 0)) continue;
      sum += v;
      count++;
    }
  }
  return count == 0 ? 0 : sum / count;
}

/** Sums over a Gaussian window of what stands above a level: weight, first moments, second moment, and how noise enters the first.
 *  @param data row `y0` of the picture, f32. @param scale of the squared distance in the exponent. @param out f64, five.
 */
export function spotMoments(
  data: usize,
  width: i32,
  x0: i32,
  x1: i32,
  y0: i32,
  y1: i32,
  cx: f64,
  cy: f64,
  level: f64,
  scale: f64,
  out: usize,
): void {
  let weight: f64 = 0;
  let sx: f64 = 0;
  let sy: f64 = 0;
  let second: f64 = 0;
  let gain: f64 = 0;
  for (let y = y0; y <= y1; y++, data += <usize>width << 2) {
    const dy = <f64>y - cy;
    for (let x = x0; x <= x1; x++) {
      const v = <f64>load<f32>(data + (<usize>x << 2)) - level;
      if (!(v * 0 == 0)) continue;
      const dx = <f64>x - cx;
      const r2 = dx * dx + dy * dy;
      const w = expOf(scale * r2);
      weight += w * v;
      sx += w * v * dx;
      sy += w * v * dy;
      second += w * v * r2;
      gain += w * w * r2;
    }
  }
  store<f64>(out, weight);
  store<f64>(out, sx, 8);
  store<f64>(out, sy, 16);
  store<f64>(out, second, 24);
  store<f64>(out, gain, 32);
}
