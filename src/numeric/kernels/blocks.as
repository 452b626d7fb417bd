// kernels: a picture and what is wanted of it → the middle numbers of each square block. As in smooth-drift.ts.
import { most, number, put, select } from "./ranks";

/** Find the two numbers between which the median of each block lies, block by block in reading order; blocks cut by the border have none.
 *  @param data f32. @param wanted u8, 1 = takes part, where it is finite. @param side px.
 *  @param fewest of a block with fewer both are NaN; above 0. @param work scratch, f64, side² of them.
 *  @param out two f64 per block: the lower and the upper one, the same where their number is odd.
 */
export function blockMiddles(
  data: usize,
  wanted: usize,
  width: i32,
  height: i32,
  side: i32,
  fewest: f64,
  work: usize,
  out: usize,
): void {
  for (let y0 = 0; y0 + side <= height; y0 += side) {
    for (let x0 = 0; x0 + side <= width; x0 += side, out += 16) {
      let count = 0;
      for (let y = y0; y < y0 + side; y++) {
        for (let i = y * width + x0; i < y * width + x0 + side; i++) {
          const value = <f64>load<f32>(data + (<usize>i << 2));
          put(work, count, value);
          count += load<u8>(wanted + <usize>i) == 1 && value * 0 == 0 ? 1 : 0;
        }
      }
      let lower: f64 = NaN;
      let upper: f64 = NaN;
      if (<f64>count >= fewest) {
        const half = count >> 1;
        select(work, 0, count - 1, half);
        upper = number(work, half);
        lower = (count & 1) == 1 ? upper : most(work, half);
      }
      store<f64>(out, lower);
      store<f64>(out, upper, 8);
    }
  }
}
