// kernels: pixels against their neighbours, and lines against the next. As in find-lone-pixels.ts and line-pattern.ts.
import { pairAt } from "./pixels";

/** List the pixels that may stand out from their neighbours: those of whose neighbours no more than half are within a limit.
 *  @param data f32. @param least the limit. @param out i32, room for all. @returns how many there are.
 */
export function mayStandOut(data: usize, width: i32, height: i32, least: f64, out: usize): i32 {
  // What is this near in single precision is within the limit in double precision too.
  const near = f32x4.splat(<f32>(least * (1 - 1e-6)));
  const from = out;
  for (let y = 0; y < height; y++) {
    const row = data + (<usize>(y * width) << 2);
    for (let x = 0; x < width; ) {
      if (x > 0 && y > 0 && y + 1 < height && x + 5 <= width && fourWithin(row + (<usize>x << 2), width, near)) {
        x += 4;
        continue;
      }
      for (const end = min(x + (x == 0 ? 1 : 4), width); x < end; x++) {
        if (isWithin(data, width, height, x, y, least)) continue;
        store<i32>(out, y * width + x);
        out += 4;
      }
    }
  }
  return <i32>((out - from) >> 2);
}

/** Whether each of four pixels has five neighbours near it. */
function fourWithin(at: usize, width: i32, near: v128): bool {
  const row = <usize>width << 2;
  const four = v128.load(at);
  let count = i32x4.add(isNear(four, at - 4, near), isNear(four, at + 4, near));
  count = i32x4.add(count, i32x4.add(isNear(four, at - row, near), isNear(four, at + row, near)));
  count = i32x4.add(count, isNear(four, at - row - 4, near));
  if (i32x4.all_true(i32x4.eq(count, i32x4.splat(-5)))) return true;
  count = i32x4.add(count, i32x4.add(isNear(four, at - row + 4, near), isNear(four, at + row - 4, near)));
  count = i32x4.add(count, isNear(four, at + row + 4, near));
  return i32x4.all_true(i32x4.le_s(count, i32x4.splat(-5)));
}

/** −1 where it is. */
@inline
function isNear(four: v128, at: usize, near: v128): v128 {
  return f32x4.le(f32x4.abs(f32x4.sub(four, v128.load(at))), near);
}

/** Whether more than half of a pixel's neighbours are within the limit. */
function isWithin(data: usize, width: i32, height: i32, x: i32, y: i32, least: f64): bool {
  const value = <f64>load<f32>(data + (<usize>(y * width + x) << 2));
  const low = value - least;
  const high = value + least;
  let within = 0;
  let around = 0;
  for (let v = max(0, y - 1); v <= min(height - 1, y + 1); v++) {
    for (let u = max(0, x - 1); u <= min(width - 1, x + 1); u++) {
      if (u == x && v == y) continue;
      within += inside(data + (<usize>(v * width + u) << 2), low, high);
      around++;
    }
  }
  return 2 * within > around;
}

@inline
function inside(at: usize, low: f64, high: f64): i32 {
  const value = <f64>load<f32>(at);
  return value >= low && value <= high ? 1 : 0;
}

/** Distance of every so many pixels from the median of their eight neighbours; NaN with fewer than three.
 *  @param near scratch, eight f64. @param out f64, one per pixel of the sample.
 */
export function medianDistances(data: usize, width: i32, height: i32, step: i32, near: usize, out: usize): void {
  for (let i = 0; i < width * height; i += step) {
    const x = i % width;
    const y = i / width;
    let count = 0;
    for (let v = y > 0 ? y - 1 : y; v <= (y + 1 < height ? y + 1 : y); v++) {
      for (let u = x > 0 ? x - 1 : x; u <= (x + 1 < width ? x + 1 : x); u++) {
        if (u == x && v == y) continue;
        const value = <f64>load<f32>(data + (<usize>(v * width + u) << 2));
        if (value != value) continue;
        let at = near + (<usize>count << 3);
        count++;
        for (; at > near && load<f64>(at - 8) > value; at -= 8) store<f64>(at, load<f64>(at - 8));
        store<f64>(at, value);
      }
    }
    let distance: f64 = NaN;
    if (count >= 3) {
      const half = near + (<usize>(count >> 1) << 3);
      const middle = (count & 1) == 1 ? load<f64>(half) : (load<f64>(half - 8) + load<f64>(half)) / 2;
      distance = <f64>load<f32>(data + (<usize>i << 2)) - middle;
    }
    store<f64>(out, distance);
    out += 8;
  }
}

/** Add up the differences from each column to the next, by bands of rows, where the cells of 2×2 pixels are clear.
 *  @param clear u8 per cell, w·h. @param every row step. @param sums @param counts f64, `bands` per column.
 *  @param line scratch, 16 bytes per column: the sum and the count of the band at hand.
 */
export function columnSteps(
  data: usize,
  width: i32,
  height: i32,
  clear: usize,
  w: i32,
  h: i32,
  every: i32,
  bands: i32,
  sums: usize,
  counts: usize,
  line: usize,
): void {
  const columns = min(2 * w, width - 1);
  let y = 0;
  for (let band = 0; band < bands; band++) {
    for (let x = 0; x < columns; x++) {
      const part = <usize>(x * bands + band) << 3;
      store<f64>(line + (<usize>x << 3), load<f64>(sums + part));
      store<f64>(line + (<usize>(x + width) << 3), load<f64>(counts + part));
    }
    for (const end = min(2 * h, ((band + 1) * height + bands - 1) / bands); y < end; y += every) {
      addRow(data + (<usize>(y * width) << 2), columns, clear + <usize>((y >> 1) * w), line, line + (<usize>width << 3));
    }
    for (let x = 0; x < columns; x++) {
      const part = <usize>(x * bands + band) << 3;
      store<f64>(sums + part, load<f64>(line + (<usize>x << 3)));
      store<f64>(counts + part, load<f64>(line + (<usize>(x + width) << 3)));
    }
  }
}

/** Steps along one row, two columns (of one cell) at a time. What does not count is added as 0. */
function addRow(row: usize, columns: i32, cells: usize, sums: usize, counts: usize): void {
  let x = 0;
  for (; x + 2 <= columns; x += 2, row += 8, sums += 16, counts += 16) {
    if (load<u8>(cells++) != 1) continue;
    const step = f64x2.sub(pairAt(row + 4), pairAt(row));
    const counted = f64x2.eq(f64x2.mul(step, f64x2.splat(0)), f64x2.splat(0));
    v128.store(sums, f64x2.add(v128.load(sums), v128.and(step, counted)));
    v128.store(counts, f64x2.add(v128.load(counts), v128.and(f64x2.splat(1), counted)));
  }
  if (x == columns || load<u8>(cells) != 1) return;
  const step = <f64>load<f32>(row, 4) - <f64>load<f32>(row);
  if (!(step * 0 == 0)) return;
  store<f64>(sums, load<f64>(sums) + step);
  store<f64>(counts, load<f64>(counts) + 1);
}

/** The same from each row to the next, by bands of columns, for the two rows of the cells at a time.
 *  @param line not used.
 */
export function rowSteps(
  data: usize,
  width: i32,
  height: i32,
  clear: usize,
  w: i32,
  h: i32,
  every: i32,
  bands: i32,
  sums: usize,
  counts: usize,
  line: usize,
): void {
  const next = <usize>width << 2;
  const last = min(2 * h, height - 1);
  for (let y = 0; y < last; y += 2) {
    const cells = clear + <usize>((y >> 1) * w);
    const row = data + <usize>y * next;
    // There may be no row for the last one to step to: it counts as the one above does, and is not kept.
    const further = y + 1 < last ? next : 0;
    let x = 0;
    for (let band = 0; band < bands; band++) {
      let sum = f64x2.splat(0);
      let count = f64x2.splat(0);
      const part = <usize>(y * bands + band) << 3;
      const below = part + (<usize>bands << 3);
      sum = v128.load64_lane(sums + part, sum, 0);
      count = v128.load64_lane(counts + part, count, 0);
      if (further != 0) {
        sum = v128.load64_lane(sums + below, sum, 1);
        count = v128.load64_lane(counts + below, count, 1);
      }
      for (const end = min(2 * w, ((band + 1) * width + bands - 1) / bands); x < end; x += every) {
        const at = row + (<usize>x << 2);
        const here = v128.load32_lane(at + further, v128.load32_zero(at), 1);
        const there = v128.load32_lane(at + next + further, v128.load32_zero(at + next), 1);
        const step = f64x2.sub(f64x2.promote_low_f32x4(there), f64x2.promote_low_f32x4(here));
        const known = f64x2.eq(f64x2.mul(step, f64x2.splat(0)), f64x2.splat(0));
        const counted = v128.and(known, i64x2.splat(load<u8>(cells + <usize>(x >> 1)) == 1 ? -1 : 0));
        sum = f64x2.add(sum, v128.and(step, counted));
        count = f64x2.add(count, v128.and(f64x2.splat(1), counted));
      }
      v128.store64_lane(sums + part, sum, 0);
      v128.store64_lane(counts + part, count, 0);
      if (further == 0) continue;
      v128.store64_lane(sums + below, sum, 1);
      v128.store64_lane(counts + below, count, 1);
    }
  }
}

/** Every so many of a list's numbers. @param values @param out f32. */
export function everyFew(values: usize, n: i32, step: i32, out: usize): void {
  for (let i = 0; i < n; i += step, out += 4) store<f32>(out, load<f32>(values + (<usize>i << 2)));
}
