// kernels: pixels against their neighbours, and lines against the next. As in find-lone-pixels.ts and line-pattern.ts.

/** List the pixels that may stand out from their neighbours: those of whose neighbours no more than half are within a limit.
 *  @param data f32. @param out i32, room for all. @returns how many there are.
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
): void {
  for (let y = 0; y < 2 * h; y += every) {
    const cells = clear + <usize>((y >> 1) * w);
    const band = (y * bands) / height;
    for (let x = 0; x < min(2 * w, width - 1); x++) {
      if (load<u8>(cells + <usize>(x >> 1)) != 1) continue;
      const at = data + (<usize>(y * width + x) << 2);
      const step = <f64>load<f32>(at, 4) - <f64>load<f32>(at);
      if (!(step * 0 == 0)) continue;
      const part = <usize>(x * bands + band) << 3;
      store<f64>(sums + part, load<f64>(sums + part) + step);
      store<f64>(counts + part, load<f64>(counts + part) + 1);
    }
  }
}

/** The same from each row to the next, by bands of columns. */
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
): void {
  const next = <usize>width << 2;
  for (let y = 0; y < min(2 * h, height - 1); y++) {
    const cells = clear + <usize>((y >> 1) * w);
    const row = data + <usize>y * next;
    let x = 0;
    for (let band = 0; band < bands; band++) {
      const part = <usize>(y * bands + band) << 3;
      let sum = load<f64>(sums + part);
      let count = load<f64>(counts + part);
      for (const end = min(2 * w, ((band + 1) * width + bands - 1) / bands); x < end; x += every) {
        if (load<u8>(cells + <usize>(x >> 1)) != 1) continue;
        const at = row + (<usize>x << 2);
        const step = <f64>load<f32>(at + next) - <f64>load<f32>(at);
        if (!(step * 0 == 0)) continue;
        sum += step;
        count += 1;
      }
      store<f64>(sums + part, sum);
      store<f64>(counts + part, count);
    }
  }
}
